"""Reheating: readings, how long they held, and how long the way there took."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from .answers import Answer, Finding
from .door import ask
from .quantities import QuantityLike, listed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["ReheatingVerdict", "check_reheating"]


class ReheatingVerdict(Answer, kind="check_reheating"):
    """Whether food is reheated.

    Examples
    --------
    >>> check_reheating(["164.9 °F"]).verdict
    'fails'
    """

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the findings. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


def check_reheating(
    temperatures: Iterable[QuantityLike | None],
    *,
    held: QuantityLike | None = None,
    taken: QuantityLike | None = None,
    process: str | None = None,
    accuracy: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> ReheatingVerdict:
    """Judge readings of the coldest parts of reheated food; the lowest counts.

    Parameters
    ----------
    temperatures : Iterable[QuantityLike]
        Readings of the coldest parts; None where one was missed. The lowest one counts.
    held : QuantityLike, optional
        How long every reading has held; needed where the standard asks for a time (s, min, h, d).
    taken : QuantityLike, optional
        How long the way from cold to hot took; needed where the standard limits it (s, min, h, d).
    process : str, optional
        A process of the standard, such as ``"microwave"``, ``"commercially-packaged"`` or
        ``"immediate-service"``.
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; taken off every reading (delta_degC, delta_degF, K).
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut; parts when left out, since a whole bird is carved before it is reheated.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    ReheatingVerdict
        Whether food is reheated.

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
    >>> check_reheating(["165 °F"]).verdict
    'meets'
    >>> check_reheating(["165 °F", None]).verdict
    'cannot-tell'
    """
    fields = {
        "temperatures": listed(temperatures),
        "held": held,
        "taken": taken,
        "process": process,
        "accuracy": accuracy,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return ReheatingVerdict._adopt(ask("check_reheating", fields))
