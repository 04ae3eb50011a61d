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
    """How long food keeps. A check by the senses comes first and overrides every date."""

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
    """How long one food keeps in one place."""

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
    """How leftovers are chilled, kept and reheated."""

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
    """Whether food was cooled fast enough."""

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

    ``since`` is the day it went in: bought, thawed or cooked.
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

    ``cooked_at`` is when the food came from the heat, ``chilled_after`` how long it took until it was in the
    refrigerator: then that is judged. ``surroundings`` is the air where the food stood.
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
    """Judge how fast food was cooled, from pairs of elapsed time and temperature in order of time.

    The time counts from any fixed moment; the temperature is that of the warmest part, None where it was missed.
    ``process`` is one that the standard tells apart, such as ``"cured"`` or ``"option-2"`` in a plant.

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
