"""Records: the log of a recorder, judged by the rules of a standard.

A log is columns, ``elapsed_s`` and ``temp`` as in :func:`poulter.lethality` with their ``unit``, or text in ``csv``
whose heading names the units. ``checks`` sets the limits beyond which a log is at fault; a fault makes a verdict
``"cannot-tell"``, or ``"fails"`` where the sound part already shows it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record
from .door import Column, Temperatures, ask_log
from .quantities import QuantityLike

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = [
    "CookingLogVerdict",
    "CoolingLogVerdict",
    "HoldingLogVerdict",
    "RecordFinding",
    "ReheatingLogVerdict",
    "ThawingLogVerdict",
    "check_cooking_log",
    "check_cooling_log",
    "check_holding_log",
    "check_reheating_log",
    "check_thawing_log",
]


class RecordFinding(Finding):
    """One remark on a log, with its place, its time and its rows.

    Examples
    --------
    >>> hot = {"breast": [160.0, 166.0], "thigh": [165.0, 170.0], "wing": [165.0, 170.0]}
    >>> log = check_cooking_log([0, 300], hot, unit="degF")
    >>> finding = log.findings[0]
    >>> finding.place, finding.margin, finding.at
    ('breast', Quantity(1, 'delta_degF'), Quantity(250, 's'))
    """

    __slots__ = ()
    place: str | None
    at: Quantity | None
    """When, on the log's clock."""
    first_row: int | None
    """The first row at fault, counted from 1 below the heading."""
    last_row: int | None


class CookingLogVerdict(Answer, kind="check_cooking_log"):
    """Whether food was cooked, by its log.

    Examples
    --------
    >>> hot = {"breast": [160.0, 166.0], "thigh": [165.0, 170.0], "wing": [165.0, 170.0]}
    >>> log = check_cooking_log([0, 300], hot, unit="degF")
    >>> log.verdict
    'meets'
    """

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class CoolingLogVerdict(Answer, kind="check_cooling_log"):
    """Whether food was cooled fast enough, by its log.

    Examples
    --------
    >>> seconds, degrees = [0, 900, 1800, 2700], [135, 100, 60, 41]
    >>> log = check_cooling_log(seconds, degrees, unit="degF", standard="us-food-code-2022")
    >>> log.verdict
    'meets'
    """

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class HoldingLogVerdict(Answer, kind="check_holding_log"):
    """Whether food was held safely, by its log.

    Examples
    --------
    >>> check_holding_log([0, 60], [141, 140], unit="degF", holding="hot").verdict
    'meets'
    """

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class ReheatingLogVerdict(Answer, kind="check_reheating_log"):
    """Whether food was reheated far and fast enough, by its log.

    Examples
    --------
    >>> check_reheating_log([0, 300, 600], [120, 150, 164.9], unit="degF").verdict
    'fails'
    """

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class ThawingLogVerdict(Answer, kind="check_thawing_log"):
    """Whether food was thawed safely, by its log.

    Examples
    --------
    >>> check_thawing_log([0, 900, 1800], [30, 31, 32], unit="degF", method="refrigerator").verdict
    'meets'
    """

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


def check_cooking_log(
    elapsed_s: Column | None = None,
    temp: Temperatures | None = None,
    *,
    unit: str | None = None,
    csv: str | None = None,
    stuffed: bool | None = None,
    scheme: str | Mapping[str, object] | None = None,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    process: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> CookingLogVerdict:
    """Judge the log of a cooking by the minimum of a standard.

    Every place inside must have reached the minimum, and held it where the rule asks for a time; the lowest place
    counts. The kill in ``lethality`` is information, and passes nothing.

    Parameters
    ----------
    elapsed_s : Column, optional
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures, optional
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}, optional
        The unit of `temp`.
    csv : str, optional
        The log as text whose heading names units; commas, semicolons, tabs, bars or blanks part its cells.
    stuffed : bool, optional
        Whether stuffing is in the bird.
    scheme : str | Mapping[str, object], optional
        The scheme of the lethality beside the verdict, as in `lethality`; that of the species and standard when
        left out.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; always taken on the unsafe side (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault, as in `lethality`.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    process : str, optional
        A process word of the rules, such as ``"option-2"``.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    CookingLogVerdict
        Whether food was cooked, by its log.

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
    * USDA Food Safety and Inspection Service; FoodSafety.gov, Safe Minimum Internal Temperature Chart,
      Poultry
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006)
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (revised September 2003)

    Examples
    --------
    >>> hot = {"breast": [160.0, 166.0], "thigh": [165.0, 170.0], "wing": [165.0, 170.0]}
    >>> check_cooking_log([0, 300], hot, unit="degF").verdict
    'meets'
    """
    fields = {
        "stuffed": stuffed,
        "scheme": {"scheme": scheme} if isinstance(scheme, str) else scheme,
        "accuracy": accuracy,
        "checks": checks,
        "species": species,
        "cut": cut,
        "standard": standard,
        "process": process,
        "on": on,
        "house_rules": house_rules,
    }
    return CookingLogVerdict._adopt(ask_log("check_cooking_log", fields, elapsed_s, temp, unit, csv))


def check_cooling_log(
    elapsed_s: Column | None = None,
    temp: Temperatures | None = None,
    *,
    unit: str | None = None,
    csv: str | None = None,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    process: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> CoolingLogVerdict:
    """Judge the log of a cooling by the stages of a standard; the slowest place counts.

    Homes in the United States have no stages: name a ``standard`` that has, such as ``"us-food-code-2022"``.

    Parameters
    ----------
    elapsed_s : Column, optional
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures, optional
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}, optional
        The unit of `temp`.
    csv : str, optional
        The log as text whose heading names units; commas, semicolons, tabs, bars or blanks part its cells.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; always taken on the unsafe side (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault, as in `lethality`.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    process : str, optional
        A process word of the rules, such as ``"option-2"``.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    CoolingLogVerdict
        Whether food was cooled fast enough, by its log.

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
    >>> seconds, degrees = [0, 900, 1800, 2700], [135, 100, 60, 41]
    >>> log = check_cooling_log(seconds, degrees, unit="degF", standard="us-food-code-2022")
    >>> log.verdict
    'meets'
    """
    fields = {
        "accuracy": accuracy,
        "checks": checks,
        "species": species,
        "cut": cut,
        "standard": standard,
        "process": process,
        "on": on,
        "house_rules": house_rules,
    }
    return CoolingLogVerdict._adopt(ask_log("check_cooling_log", fields, elapsed_s, temp, unit, csv))


def check_holding_log(
    elapsed_s: Column | None = None,
    temp: Temperatures | None = None,
    *,
    unit: str | None = None,
    csv: str | None = None,
    holding: str,
    surroundings: QuantityLike | None = None,
    period: QuantityLike | None = None,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    process: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> HoldingLogVerdict:
    """Judge the log of food held ``"hot"``, ``"cold"`` or ``"out"``, or under ``"time-control"``.

    Parameters
    ----------
    elapsed_s : Column, optional
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures, optional
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}, optional
        The unit of `temp`.
    csv : str, optional
        The log as text whose heading names units; commas, semicolons, tabs, bars or blanks part its cells.
    holding : {"hot", "cold", "out", "time-control", "time-control-cold"}
        How it is held.
    surroundings : QuantityLike, optional
        Air where the food stands; the limit on a hot day hangs on it (degC, degF, K).
    period : QuantityLike, optional
        How long the log must cover; a shorter one cannot meet anything (s, min, h, d).
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; always taken on the unsafe side (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault, as in `lethality`.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    process : str, optional
        A process word of the rules, such as ``"option-2"``.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    HoldingLogVerdict
        Whether food was held safely, by its log.

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
    * USDA Food Safety and Inspection Service, Danger Zone (40 °F to 140 °F)

    Examples
    --------
    >>> check_holding_log([0, 60], [141, 140], unit="degF", holding="hot").verdict
    'meets'
    >>> check_holding_log([0, 60], [141, 139.9], unit="degF", holding="hot").verdict
    'fails'
    """
    fields = {
        "holding": holding,
        "surroundings": surroundings,
        "period": period,
        "accuracy": accuracy,
        "checks": checks,
        "species": species,
        "cut": cut,
        "standard": standard,
        "process": process,
        "on": on,
        "house_rules": house_rules,
    }
    return HoldingLogVerdict._adopt(ask_log("check_holding_log", fields, elapsed_s, temp, unit, csv))


def check_reheating_log(
    elapsed_s: Column | None = None,
    temp: Temperatures | None = None,
    *,
    unit: str | None = None,
    csv: str | None = None,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    process: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> ReheatingLogVerdict:
    """Judge the log of a reheating by the minimum and the time of a standard.

    Parameters
    ----------
    elapsed_s : Column, optional
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures, optional
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}, optional
        The unit of `temp`.
    csv : str, optional
        The log as text whose heading names units; commas, semicolons, tabs, bars or blanks part its cells.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; always taken on the unsafe side (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault, as in `lethality`.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    process : str, optional
        A process word of the rules, such as ``"option-2"``.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    ReheatingLogVerdict
        Whether food was reheated far and fast enough, by its log.

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
    * USDA Food Safety and Inspection Service, Turkey Basics: Handling Cooked Dinners

    Examples
    --------
    >>> check_reheating_log([0, 300, 600], [120, 150, 165], unit="degF").verdict
    'meets'
    """
    fields = {
        "accuracy": accuracy,
        "checks": checks,
        "species": species,
        "cut": cut,
        "standard": standard,
        "process": process,
        "on": on,
        "house_rules": house_rules,
    }
    return ReheatingLogVerdict._adopt(ask_log("check_reheating_log", fields, elapsed_s, temp, unit, csv))


def check_thawing_log(
    elapsed_s: Column | None = None,
    temp: Temperatures | None = None,
    *,
    unit: str | None = None,
    csv: str | None = None,
    method: str,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    process: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> ThawingLogVerdict:
    """Judge the log of a thaw by the limits of a standard.

    Parameters
    ----------
    elapsed_s : Column, optional
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures, optional
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}, optional
        The unit of `temp`.
    csv : str, optional
        The log as text whose heading names units; commas, semicolons, tabs, bars or blanks part its cells.
    method : str
        How it is thawed: ``"refrigerator"``, ``"cold-water"``, ``"running-water"``, ``"microwave"``,
        ``"in-brine"``, ``"from-frozen"``, ``"room-temperature"`` or ``"hot-water"``.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; always taken on the unsafe side (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault, as in `lethality`.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    process : str, optional
        A process word of the rules, such as ``"option-2"``.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    ThawingLogVerdict
        Whether food was thawed safely, by its log.

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
    * USDA Food Safety and Inspection Service, Danger Zone (40 °F to 140 °F)

    Examples
    --------
    >>> check_thawing_log([0, 900, 1800], [30, 31, 32], unit="degF", method="refrigerator").verdict
    'meets'
    """
    fields = {
        "method": method,
        "accuracy": accuracy,
        "checks": checks,
        "species": species,
        "cut": cut,
        "standard": standard,
        "process": process,
        "on": on,
        "house_rules": house_rules,
    }
    return ThawingLogVerdict._adopt(ask_log("check_thawing_log", fields, elapsed_s, temp, unit, csv))
