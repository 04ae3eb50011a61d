"""Thawing: how long, what to do meanwhile, what is never allowed, and whether it was done safely."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TimeEstimate
from .door import ask
from .quantities import QuantityLike, listed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["ThawTime", "ThawingVerdict", "check_thawing", "thaw_time"]


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


class ThawingVerdict(Answer, kind="check_thawing"):
    """Whether a bird was thawed safely.

    Examples
    --------
    >>> check_thawing(["41 °F"], method="refrigerator").verdict
    'fails'
    """

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


def check_thawing(
    temperatures: Iterable[QuantityLike | None] = (),
    *,
    method: str,
    above_cold: QuantityLike | None = None,
    water_unchanged: QuantityLike | None = None,
    accuracy: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> ThawingVerdict:
    """Judge a thaw by the readings taken and the times noted; `check_thawing_log` judges a log of it.

    Parameters
    ----------
    temperatures : Iterable[QuantityLike], default ()
        Readings of the water the bird lay in; in the refrigerator or in brine of the food, or of the air or brine
        round it. None where one was missed. The warmest one counts.
    method : str
        How it was thawed: ``"refrigerator"``, ``"cold-water"``, ``"running-water"``, ``"in-brine"``,
        ``"room-temperature"`` or ``"hot-water"``; of ``"microwave"`` and ``"from-frozen"`` there is nothing to judge.
    above_cold : QuantityLike, optional
        How long any part of the food was above the cold limit, with the preparation for cooking; needed in water
        (s, min, h, d).
    water_unchanged : QuantityLike, optional
        The longest time that the water stayed unchanged; judged where the standard limits it (s, min, h, d).
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; added to every reading (delta_degC, delta_degF, K).
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
    ThawingVerdict
        Whether the bird was thawed safely.

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
    * US Food and Drug Administration, Food Code (2022), 3-501.13(B)(1)
    * US Food and Drug Administration, Food Code (2022), 3-501.13(B)(4)

    Examples
    --------
    >>> code = "us-food-code-2022"
    >>> check_thawing(["70 °F"], method="running-water", above_cold="4 h", standard=code).verdict
    'meets'
    >>> check_thawing(["70 °F"], method="running-water", standard=code).verdict
    'cannot-tell'
    """
    fields = {
        "temperatures": listed(temperatures),
        "method": method,
        "above_cold": above_cold,
        "water_unchanged": water_unchanged,
        "accuracy": accuracy,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return ThawingVerdict._adopt(ask("check_thawing", fields))
