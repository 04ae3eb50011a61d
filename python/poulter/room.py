"""Room: litres of refrigerator and freezer, and shallow containers for the leftovers."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record
from .door import ask
from .quantities import QuantityLike

__all__ = ["Containers", "Space", "space"]


class Containers(Record):
    """Shallow containers for one sort of leftover."""

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
    """The room that birds and leftovers take."""

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

    ``bird`` is the raw mass of the birds together, ``brine`` the volume of the brine round them. ``leftovers`` is
    cooked meat off the bone, ``liquid`` gravy, stock or soup.

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
