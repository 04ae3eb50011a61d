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
    """Until when ready-to-eat food may be used.

    Examples
    --------
    >>> date_mark(["2026-11-01"], today="2026-11-08", warmest="41 °F").verdict
    'fails'
    """

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
    """The word that a label may carry.

    Examples
    --------
    >>> label_state(["30 °F", "25 °F"]).word
    'no-word'
    """

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
    """Say until when ready-to-eat food may be used.

    Under the Food Code unless another standard is named.

    Parameters
    ----------
    prepared : Iterable[date | str]
        The day of preparation or opening of every part that needs a mark; the oldest one counts.
    today : date | str
        The day of the question.
    frozen : Iterable[tuple[date | str, date | str] | Mapping[str, object]], optional
        Stays in the freezer in order: the day it went in and the day it came out, None while it is there.
    warmest : QuantityLike, optional
        The warmest it was held; None where it was not measured (degC, degF, K).
    standard : str, optional
        The standard to answer by; ``"us-food-code-2022"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    DateMark
        Until when ready-to-eat food may be used.

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
    * US Food and Drug Administration, Food Code (2022), 3-501.17
    * US Food and Drug Administration, Food Code (2022), 3-501.16(A)(2)

    Examples
    --------
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
    """Say which word a label may carry, from every reading inside the bird; the coldest counts.

    Parameters
    ----------
    temperatures : Iterable[QuantityLike]
        Every reading of the bird inside; None where one was missed. The coldest one counts.
    says : {"fresh", "no-word", "frozen", "not-known"}, optional
        The word on the label, where it is to be judged: ``"fresh"`` or ``"frozen"``.
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    LabelState
        The word that a label may carry.

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
    * US Code of Federal Regulations, 9 CFR 381.129, False or misleading labeling (61 FR 66198, in force
      since 17 December 1997), (b)(6)

    Examples
    --------
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
