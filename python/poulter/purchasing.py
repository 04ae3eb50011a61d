"""Purchase: how much to buy, how many birds, and what reaches the plate."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["OnThePlate", "Purchase", "purchase"]


class OnThePlate(Record):
    """What the raw mass gives on the plate.

    Examples
    --------
    >>> plate = purchase(adults=8).on_the_plate
    >>> plate.meat, plate.servings
    (Quantity(3.776, 'lb'), 22)
    """

    __slots__ = ()
    meat: Quantity
    """Cooked meat without skin."""
    with_skin: Quantity
    servings: int
    for_each: Quantity | None
    raw_mass_is: str
    """What the raw mass includes."""
    source: str
    """Where the yield stands."""


class Purchase(Answer, kind="purchase"):
    """How much to buy.

    Examples
    --------
    >>> answer = purchase(adults=8)
    >>> answer.buy, answer.birds
    (Quantity(8, 'lb'), 1)
    """

    __slots__ = ()
    _views = {
        "on_the_plate": OnThePlate,
        "buy_fresh_before": TimeEstimate,
        "findings": Finding,
    }

    buy: Quantity
    """Raw mass to buy."""
    by_rule_low: Quantity | None
    by_rule_high: Quantity | None
    by_yield: Quantity | None
    """Raw mass that gives a portion by the measured yield."""
    birds: int
    each: Quantity
    why: str
    on_the_plate: OnThePlate | None
    buy_fresh_before: TimeEstimate | None
    """How long before cooking a fresh one may be bought."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


def purchase(
    *,
    adults: int | None = None,
    children: int | None = None,
    appetite: str | None = None,
    leftovers: str | None = None,
    service: str | None = None,
    second_main: bool | None = None,
    mass: QuantityLike | None = None,
    stuffed: bool | None = None,
    bought_stuffed: bool | None = None,
    solution_added: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Purchase:
    """Say how much to buy, how many birds, what reaches the plate, and when to buy.

    What is left out is assumed: the usual appetite, nothing left over, an unstuffed whole turkey without added
    solution, under the rules for homes in the United States.

    Parameters
    ----------
    adults : int, optional
        Grown-up guests, 0 to 1000.
    children : int, optional
        Children, 0 to 1000; each counts as half a grown-up.
    appetite : {"light", "usual", "hearty"}, optional
        How much they eat; usual when left out.
    leftovers : {"none", "some", "plenty"}, optional
        What is to be left; none when left out.
    service : {"plated", "buffet"}, optional
        Who fills the plates; the kitchen when left out. A buffet takes more.
    second_main : bool, optional
        Whether another main dish is served beside this one; each is then eaten less.
    mass : QuantityLike, optional
        Mass of a bird already at hand or in view; the answer then says whether it is enough (kg, g, mg, lb, oz).
    stuffed : bool, optional
        Whether the bird will be stuffed; the roasting table for stuffed birds then sets the largest bird.
    bought_stuffed : bool, optional
        Whether the bird is sold stuffed and frozen.
    solution_added : QuantityLike, optional
        Solution added by the packer, from the label; none when left out (%, 1).
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
    Purchase
        How much to buy.

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
    * Ohio State University Extension, Jefferson County, Buying and roasting a turkey, Buying
    * USDA Agricultural Research Service, National Nutrient Database for Standard Reference (Release 26),
      Turkey, whole: 3812 g roasted of 5002 g raw, refuse 31 %, skin 7 %
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006), Approximate cooking
      times

    Examples
    --------
    >>> purchase(adults=8).buy
    Quantity(8, 'lb')
    """
    fields = {
        "adults": adults,
        "children": children,
        "appetite": appetite,
        "leftovers": leftovers,
        "service": service,
        "second_main": second_main,
        "mass": mass,
        "stuffed": stuffed,
        "bought_stuffed": bought_stuffed,
        "solution_added": solution_added,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Purchase._adopt(ask("purchase", fields))
