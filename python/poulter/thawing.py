"""Thawing: how long, what to do meanwhile, and what is never allowed."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["ThawTime", "thaw_time"]


class ThawTime(Answer, kind="thaw_time"):
    """How long a bird takes to thaw.

    Examples
    --------
    >>> thaw = thaw_time("15 lb", method="refrigerator")
    >>> thaw.allowed, str(thaw.time)
    (True, '3 d to 4 d')
    """

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

    What is left out is assumed: a whole turkey, under the rules for homes in the United States.

    Parameters
    ----------
    mass : QuantityLike
        Mass of the packaged bird (kg, g, mg, lb, oz).
    method : str
        How it is thawed: ``"refrigerator"``, ``"cold-water"``, ``"running-water"``, ``"microwave"``,
        ``"in-brine"``, ``"from-frozen"``, ``"room-temperature"`` or ``"hot-water"``.
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
    ThawTime
        How long a bird takes to thaw.

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
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Thawing, In the refrigerator

    Examples
    --------
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
