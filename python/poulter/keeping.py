"""Keeping: storage, leftovers, and whether food was cooled fast enough."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record, TemperatureLimit, TimeEstimate, TimeLimit
from .door import ask
from .quantities import Moment, QuantityLike, listed, paired

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = [
    "CoolingVerdict",
    "LeftoverKeeps",
    "Leftovers",
    "Storage",
    "check_cooling",
    "leftovers",
    "storage",
]


class Storage(Answer, kind="storage"):
    """How long food keeps. A check by the senses comes first and overrides every date.

    Examples
    --------
    >>> kept = storage("cooked", place="refrigerator", since="2026-11-26")
    >>> kept.use_by
    '2026-11-29'
    """

    __slots__ = ()
    _views = {"keeps": TimeEstimate, "temperature": TemperatureLimit, "findings": Finding}

    food: str
    place: str
    keeps: TimeEstimate
    quality_only: bool
    """True where the time is about quality, and the food stays safe beyond it."""
    use_by: str | None
    """The day by which it is best used: the shorter time."""
    last_day: str | None
    """The last day of the rule: the longer time."""
    temperature: TemperatureLimit | None
    """How cold the place must be."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


class LeftoverKeeps(Record):
    """How long one food keeps in one place.

    Examples
    --------
    >>> kept = leftovers().keeps[0]
    >>> kept.food, kept.place, str(kept.keeps)
    ('cooked', 'refrigerator', '3 d to 4 d')
    """

    __slots__ = ()
    _views = {"keeps": TimeEstimate}

    food: str
    place: str
    keeps: TimeEstimate
    use_by: str | None
    last_day: str | None
    quality_only: bool
    rule: str


class Leftovers(Answer, kind="leftovers"):
    """How leftovers are chilled, kept and reheated.

    Examples
    --------
    >>> print(leftovers().chill_within)
    <= 2 h
    """

    __slots__ = ()
    _views = {
        "chill_within": TimeLimit,
        "keeps": LeftoverKeeps,
        "reheat": TemperatureLimit,
        "reheat_hold": TimeLimit,
        "findings": Finding,
    }

    chill_within: TimeLimit | None
    """In what time they must be in the refrigerator."""
    chill_by: str | None
    """The moment by which they must be there, with its zone."""
    depth: Quantity | None
    """The greatest depth in a container."""
    keeps: tuple[LeftoverKeeps, ...]
    reheat: TemperatureLimit | None
    reheat_hold: TimeLimit | None
    servings: int | None
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


class CoolingVerdict(Answer, kind="check_cooling"):
    """Whether food was cooled fast enough.

    Examples
    --------
    >>> check_cooling([("0 min", "135 °F"), ("3 h", "70 °F")], standard="us-food-code-2022").verdict
    'fails'
    """

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the stages. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


def storage(
    food: str,
    *,
    place: str,
    since: date | str | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Storage:
    """Say how long a food keeps in the ``"refrigerator"`` or the ``"freezer"``.

    Parameters
    ----------
    food : {"raw-whole", "raw-parts", "ground", "giblets", "cooked", "stuffing", "gravy", "stock", "soup"}
        What is kept.
    place : {"refrigerator", "freezer"}
        Where.
    since : date | str, optional
        The day it went in: bought, thawed or cooked.
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
    Storage
        How long food keeps. A check by the senses comes first and overrides every date.

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
    * FoodSafety.gov, Cold Food Storage Chart, Leftovers
    * USDA Food Safety and Inspection Service, Leftovers and Food Safety
    * FoodSafety.gov, Cold Food Storage Chart, Introduction

    Examples
    --------
    >>> kept = storage("cooked", place="refrigerator", since="2026-11-26")
    >>> str(kept.keeps), kept.use_by
    ('3 d to 4 d', '2026-11-29')
    """
    fields = {
        "food": food,
        "place": place,
        "since": since,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Storage._adopt(ask("storage", fields))


def leftovers(
    *,
    mass: QuantityLike | None = None,
    cooked_at: Moment | None = None,
    chilled_after: QuantityLike | None = None,
    surroundings: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Leftovers:
    """Say how leftovers are chilled, how long they keep, and how they are reheated.

    Parameters
    ----------
    mass : QuantityLike, optional
        Mass of cooked meat left (kg, g, mg, lb, oz).
    cooked_at : Moment, optional
        When it came from the heat, with its zone, such as ``"2026-12-19T18:30[Europe/Lisbon]"``.
    chilled_after : QuantityLike, optional
        How long it took until it was in the refrigerator; then it is judged (s, min, h, d).
    surroundings : QuantityLike, optional
        Air where the food stands; the limit on a hot day hangs on it (degC, degF, K).
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
    Leftovers
        How leftovers are chilled, kept and reheated.

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
    * USDA Food Safety and Inspection Service, Leftovers and Food Safety
    * Kansas State University Extension, Turkey: holding, chilling and reheating
    * FoodSafety.gov, Cold Food Storage Chart, Leftovers

    Examples
    --------
    >>> [(kept.food, kept.place) for kept in leftovers().keeps][:2]
    [('cooked', 'refrigerator'), ('cooked', 'freezer')]
    >>> print(leftovers().chill_within)
    <= 2 h
    """
    fields = {
        "mass": mass,
        "cooked_at": cooked_at,
        "chilled_after": chilled_after,
        "surroundings": surroundings,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Leftovers._adopt(ask("leftovers", fields))


def check_cooling(
    readings: Iterable[tuple[QuantityLike, QuantityLike | None] | Mapping[str, object]],
    *,
    process: str | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> CoolingVerdict:
    """Judge how fast food was cooled.

    Parameters
    ----------
    readings : Iterable[tuple[QuantityLike, QuantityLike] | Mapping[str, object]]
        Pairs of elapsed time, from any fixed moment, and temperature of the warmest part, None where it was
        missed; in order of time.
    process : str, optional
        A process of the standard, such as ``"cured"`` or ``"option-2"`` in a plant.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard; ``"us-consumer"`` when left out, which has no stages of its own.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    CoolingVerdict
        Whether food was cooled fast enough.

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
    * US Food and Drug Administration, Food Code (2022), 3-501.14(A)

    Examples
    --------
    >>> readings = [("0 min", "135 °F"), ("2 h", "70 °F"), ("6 h", "41 °F")]
    >>> check_cooling(readings, standard="us-food-code-2022").verdict
    'meets'
    """
    fields = {
        "readings": listed(readings, paired("elapsed", "temperature")),
        "process": process,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return CoolingVerdict._adopt(ask("check_cooling", fields))
