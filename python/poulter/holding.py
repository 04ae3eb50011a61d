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
    """Whether food is held hot or cold enough.

    Examples
    --------
    >>> check_holding(["145 °F", "139 °F"], side="hot").verdict
    'fails'
    """

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


class TimeOutVerdict(Answer, kind="check_time_out"):
    """What may become of food that stood out.

    Examples
    --------
    >>> check_time_out([("1 h", "70 °F")]).may_be
    'used-or-held-again'
    """

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
    """Whether food held by time may still be served.

    Examples
    --------
    >>> check_time_control("four-hours", from_="hot").verdict
    'cannot-tell'
    """

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
    """Judge readings of food held ``"hot"`` or ``"cold"``; the worst counts.

    Parameters
    ----------
    temperatures : Iterable[QuantityLike]
        The readings; None where one was missed. The worst one counts.
    side : {"hot", "cold"}
        Held hot or cold.
    held_for : QuantityLike, optional
        How long it has been held; judged where the standard limits it (s, min, h, d).
    display : Mapping[str, object], optional
        A period outside the limit that some laws allow once: ``out_for``, how long it lasted, and ``before``,
        whether there was one before.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; counted against every reading (delta_degC, delta_degF, K).
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
    HoldingVerdict
        Whether food is held hot or cold enough.

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

    Parameters
    ----------
    periods : Iterable[tuple[QuantityLike, QuantityLike] | Mapping[str, object]]
        Pairs of duration and temperature of the air round the food, None for what was not measured; in any order.
    side : {"hot", "cold"}, optional
        Whether it is hot or cold food, for standards that tell them apart; the stricter one when left out.
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
    TimeOutVerdict
        What may become of food that stood out.

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

    What is left out cannot be told.

    Parameters
    ----------
    option : {"four-hours", "six-hours"}
        Four or six hours.
    from_ : {"hot", "cold"}
        Whether the food came from hot or from cold holding.
    start : QuantityLike, optional
        Its temperature when control ended (degC, degF, K).
    elapsed : QuantityLike, optional
        Time since control ended (s, min, h, d).
    warmest : Iterable[QuantityLike], optional
        The warmest part since then; None where a reading was missed. Needed for six hours.
    marked : bool, optional
        Whether the food is marked with its time.
    procedure : bool, optional
        Whether a written procedure is on site.
    standard : str, optional
        The standard to answer by; ``"us-food-code-2022"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    TimeControlVerdict
        Whether food held by time may still be served.

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
    * US Food and Drug Administration, Food Code (2022), 3-501.19(B)

    Examples
    --------
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
