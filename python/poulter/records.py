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
    """One remark on a log, with its place, its time and its rows."""

    __slots__ = ()
    place: str | None
    at: Quantity | None
    """When, on the log's clock."""
    first_row: int | None
    """The first row at fault, counted from 1 below the heading."""
    last_row: int | None


class CookingLogVerdict(Answer, kind="check_cooking_log"):
    """Whether food was cooked, by its log."""

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class CoolingLogVerdict(Answer, kind="check_cooling_log"):
    """Whether food was cooled fast enough, by its log."""

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class HoldingLogVerdict(Answer, kind="check_holding_log"):
    """Whether food was held safely, by its log."""

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class ReheatingLogVerdict(Answer, kind="check_reheating_log"):
    """Whether food was reheated far and fast enough, by its log."""

    __slots__ = ()
    _views = {"findings": RecordFinding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[RecordFinding, ...]
    do: tuple[str, ...]
    lethality: Record | None
    """What the log of a cooking says of kill: for information only."""


class ThawingLogVerdict(Answer, kind="check_thawing_log"):
    """Whether food was thawed safely, by its log."""

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

    ``"time-control-cold"`` starts from cold. ``surroundings`` is the air where the food stands, and ``period`` how
    long the log must cover.
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
    """Judge the log of a reheating by the minimum and the time of a standard."""
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

    ``method`` is ``"refrigerator"``, ``"in-brine"``, ``"cold-water"`` or ``"running-water"``.
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
