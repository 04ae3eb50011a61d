"""Holding: food kept hot or cold, food that stood out, and time in place of temperature."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding
from .door import ask
from .quantities import QuantityLike, listed, paired

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = [
    "HoldingVerdict",
    "TimeControlVerdict",
    "TimeOutVerdict",
    "check_holding",
    "check_time_control",
    "check_time_out",
]


class HoldingVerdict(Answer, kind="check_holding"):
    """Whether food is held hot or cold enough."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


class TimeOutVerdict(Answer, kind="check_time_out"):
    """What may become of food that stood out."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """Whether the food may still be used. Treat ``"cannot-tell"`` as ``"fails"``."""
    may_be: Literal["used-or-held-again", "used-now", "discarded", "not-known"]
    total: Quantity
    """All periods that were timed, together."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


class TimeControlVerdict(Answer, kind="check_time_control"):
    """Whether food held by time may still be served."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


def check_holding(
    temperatures: Iterable[QuantityLike | None],
    *,
    side: str,
    held_for: QuantityLike | None = None,
    display: Mapping[str, object] | None = None,
    accuracy: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> HoldingVerdict:
    """Judge readings of food held ``"hot"`` or ``"cold"``, None for a missed one; the worst counts.

    ``display`` is a period outside the limit that some laws allow once: ``out_for``, how long it lasted, and
    ``before``, whether there was one before. ``accuracy`` is how far the thermometer may be wrong, and is counted
    against every reading.

    >>> check_holding(["145 °F", "140 °F"], side="hot").verdict
    'meets'
    >>> check_holding(["60 °C"], side="hot", standard="uk", display={"out_for": "90 min", "before": False}).verdict
    'meets'
    """
    fields = {
        "temperatures": listed(temperatures),
        "side": side,
        "held_for": held_for,
        "display": display,
        "accuracy": accuracy,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return HoldingVerdict._adopt(ask("check_holding", fields))


def check_time_out(
    periods: Iterable[tuple[QuantityLike | None, QuantityLike | None] | Mapping[str, object]],
    *,
    side: str | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> TimeOutVerdict:
    """Add up the periods that food stood out, and judge them.

    Each period is a pair of its duration and the temperature of the air round the food, None for what was not
    measured. ``side`` says whether it is ``"hot"`` or ``"cold"`` food; the stricter one when left out.

    >>> answer = check_time_out([("1 h", "70 °F"), ("61 min", "70 °F")])
    >>> answer.may_be, answer.total.shown()
    ('discarded', '2 h 1 min')
    """
    fields = {
        "periods": listed(periods, paired("duration", "surroundings")),
        "side": side,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return TimeOutVerdict._adopt(ask("check_time_out", fields))


def check_time_control(
    option: str,
    *,
    from_: str,
    start: QuantityLike | None = None,
    elapsed: QuantityLike | None = None,
    warmest: Iterable[QuantityLike | None] | None = None,
    marked: bool | None = None,
    procedure: bool | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> TimeControlVerdict:
    """Judge food held by time instead of temperature, for ``"four-hours"`` or ``"six-hours"``.

    ``from_`` is the holding it came from, ``"hot"`` or ``"cold"``, ``start`` its temperature then, ``elapsed`` the time
    since. ``warmest`` are readings of the warmest part since, needed for six hours. ``marked`` says whether the food
    carries its time, ``procedure`` whether a written procedure is on site. What is left out cannot be told.

    >>> in_order = {"start": "41 °F", "elapsed": "3 h 59 min", "marked": True, "procedure": True}
    >>> check_time_control("four-hours", from_="cold", **in_order).verdict
    'meets'
    """
    fields = {
        "option": option,
        "from": from_,
        "start": start,
        "elapsed": elapsed,
        "warmest": listed(warmest),
        "marked": marked,
        "procedure": procedure,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return TimeControlVerdict._adopt(ask("check_time_control", fields))
