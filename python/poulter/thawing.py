"""Thawing: how long, what to do meanwhile, and what is never allowed."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["ThawTime", "thaw_time"]


class ThawTime(Answer, kind="thaw_time"):
    """How long a bird takes to thaw."""

    __slots__ = ()
    _views = {"time": TimeEstimate, "may_wait": TimeEstimate}

    method: str
    allowed: bool
    """False where the standard forbids the method; ``refusal`` says why."""
    refusal: str | None
    time: TimeEstimate | None
    """The time, where one is published."""
    water_change_every: Quantity | None
    may_wait: TimeEstimate | None
    """How long the thawed bird may wait in the refrigerator."""
    do: tuple[str, ...]
    rules: tuple[str, ...]


def thaw_time(
    mass: QuantityLike,
    *,
    method: str,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> ThawTime:
    """Say how long a frozen bird takes to thaw.

    ``mass`` is the mass of the packaged bird. ``on`` is the day whose rules are wanted; the rules that hold now when
    left out. What else is left out is assumed: a whole turkey, under the rules for homes in the United States.

    >>> print(thaw_time("15 lb", method="refrigerator").time)
    3 d to 4 d
    """
    fields = {
        "mass": mass,
        "method": method,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return ThawTime._adopt(ask("thaw_time", fields))
