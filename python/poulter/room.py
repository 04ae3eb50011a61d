"""Room: litres of refrigerator and freezer, and shallow containers for the leftovers."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record
from .door import ask
from .quantities import QuantityLike

__all__ = ["Containers", "Space", "space"]


class Containers(Record):
    """Shallow containers for one sort of leftover.

    Examples
    --------
    >>> space("12 lb", leftovers="3 lb").meat_containers.high
    2
    """

    __slots__ = ()

    low: int
    """How many at least."""
    high: int
    """How many when the food lies loosely."""
    depth: Quantity
    """How deep they are filled at most."""
    each: Quantity
    """What each holds at that depth."""
    rule: str


class Space(Answer, kind="space"):
    """The room that birds and leftovers take.

    Examples
    --------
    >>> space("12 lb").displaced.shown()
    '5.19 L'
    """

    __slots__ = ()
    _views = {
        "meat_containers": Containers,
        "liquid_containers": Containers,
        "findings": Finding,
    }

    displaced: Quantity | None
    """Volume of the birds themselves."""
    refrigerator_low: Quantity | None
    refrigerator_high: Quantity | None
    freezer_low: Quantity | None
    freezer_high: Quantity | None
    vessel: Quantity | None
    """The smallest vessel for the birds and their brine."""
    leftovers_freezer: Quantity | None
    """Room that the leftovers take in the freezer at least."""
    meat_containers: Containers | None
    liquid_containers: Containers | None
    findings: tuple[Finding, ...]
    """What is needed against what is free."""
    sources: tuple[str, ...]
    """Where the densities come from, and how they were read."""


def space(
    bird: QuantityLike | None = None,
    *,
    brine: QuantityLike | None = None,
    leftovers: QuantityLike | None = None,
    liquid: QuantityLike | None = None,
    container_length: QuantityLike | None = None,
    container_width: QuantityLike | None = None,
    refrigerator_free: QuantityLike | None = None,
    freezer_free: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Space:
    """Say how much room birds take in refrigerator and freezer, and how many containers the leftovers fill.

    Parameters
    ----------
    bird : QuantityLike, optional
        Raw mass of the birds together (kg, g, mg, lb, oz).
    brine : QuantityLike, optional
        Volume of the wet brine round them; they lie unbrined when left out (L, mL, gal, qt, cup, floz, tbsp,
        tsp).
    leftovers : QuantityLike, optional
        Cooked meat left over, cut from the bone (kg, g, mg, lb, oz).
    liquid : QuantityLike, optional
        Gravy, stock or soup left over (L, mL, gal, qt, cup, floz, tbsp, tsp).
    container_length : QuantityLike, optional
        Inner length of a container; 8 in when left out (m, cm, mm, ft, in).
    container_width : QuantityLike, optional
        Inner width of a container; as its length when left out (m, cm, mm, ft, in).
    refrigerator_free : QuantityLike, optional
        Room free in the refrigerator; then what is needed is set against it (L, mL, gal, qt, cup, floz, tbsp,
        tsp).
    freezer_free : QuantityLike, optional
        Room free in the freezer; then what is needed is set against it (L, mL, gal, qt, cup, floz, tbsp, tsp).
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    Space
        The room that birds and leftovers take.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.

    References
    ----------
    * Kansas State University Extension, Turkey: holding, chilling and reheating

    Examples
    --------
    >>> answer = space("12 lb", leftovers="3 lb")
    >>> answer.displaced.shown(), answer.meat_containers.high
    ('5.19 L', 2)
    """
    fields = {
        "bird": bird,
        "brine": brine,
        "leftovers": leftovers,
        "liquid": liquid,
        "container_length": container_length,
        "container_width": container_width,
        "refrigerator_free": refrigerator_free,
        "freezer_free": freezer_free,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Space._adopt(ask("space", fields))
