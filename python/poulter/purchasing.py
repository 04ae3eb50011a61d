"""Purchase: how much to buy, how many birds, and what reaches the plate."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["OnThePlate", "Purchase", "purchase"]


class OnThePlate(Record):
    """What the raw mass gives on the plate."""

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
    """How much to buy."""

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

    With ``mass``, the mass of a bird at hand or in view, the answer says whether it is enough. ``solution_added`` is
    the share on the label, such as ``"8 %"``. What is left out is assumed: the usual appetite, nothing left over, an
    unstuffed whole turkey without added solution, under the rules for homes in the United States.
    """
    fields = {
        "adults": adults,
        "children": children,
        "appetite": appetite,
        "leftovers": leftovers,
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
