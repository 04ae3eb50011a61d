"""Marking: the last day of ready-to-eat food, and the word on the label of a bird."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from .answers import Answer, Finding
from .door import ask
from .quantities import QuantityLike, listed, paired

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["DateMark", "LabelState", "date_mark", "label_state"]


class DateMark(Answer, kind="date_mark"):
    """Until when ready-to-eat food may be used."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """Whether it may be used on the day of the question. Treat ``"cannot-tell"`` as ``"fails"``."""
    days_used: int | None
    """The days that count, up to and with that day."""
    last_day: str | None
    """The last day of use; None while the food is frozen, since the count is stopped."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


class LabelState(Answer, kind="label_state"):
    """The word that a label may carry."""

    __slots__ = ()
    _views = {"findings": Finding}

    word: Literal["fresh", "no-word", "frozen", "not-known"]
    """The word that the readings ask for; ``"no-word"`` where none is required and "fresh" is not allowed."""
    verdict: Literal["meets", "fails", "cannot-tell"] | None
    """On the word that the label carries, where one was given."""
    findings: tuple[Finding, ...]


def date_mark(
    prepared: Iterable[date | str],
    *,
    today: date | str,
    frozen: Iterable[tuple[date | str, date | str | None] | Mapping[str, object]] | None = None,
    warmest: QuantityLike | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> DateMark:
    """Say until when ready-to-eat food may be used, under the Food Code unless another standard is named.

    ``prepared`` are the days on which its parts were made or opened; the oldest counts, as day 1. ``frozen`` are stays
    in the freezer in order: the day it went in and the day it came out, None while it is there. ``warmest`` is the
    warmest it was held.

    >>> answer = date_mark(["2026-11-01", "2026-11-02"], today="2026-11-07", warmest="41 °F")
    >>> answer.verdict, answer.last_day, answer.days_used
    ('meets', '2026-11-07', 7)
    """
    fields = {
        "prepared": listed(prepared),
        "today": today,
        "frozen": listed(frozen, paired("from", "to")),
        "warmest": warmest,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return DateMark._adopt(ask("date_mark", fields))


def label_state(
    temperatures: Iterable[QuantityLike | None],
    *,
    says: str | None = None,
    species: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> LabelState:
    """Say which word a label may carry, from every reading inside the bird, None for a missed one.

    The coldest reading counts. ``says`` is the word on the label, ``"fresh"`` or ``"frozen"``: then it is judged.

    >>> label_state(["30 °F", "25 °F"], says="fresh").word
    'no-word'
    """
    fields = {
        "temperatures": listed(temperatures),
        "says": says,
        "species": species,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return LabelState._adopt(ask("label_state", fields))
