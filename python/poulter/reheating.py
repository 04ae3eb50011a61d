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
    """Whether food is reheated."""

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
    """Judge readings of the coldest parts of reheated food, None for a missed one; the lowest counts.

    ``held`` is how long every reading has held, ``taken`` how long the way from cold to hot took. ``process`` is one
    that the standard tells apart, such as ``"microwave"``. ``accuracy`` is how far the thermometer may be wrong, and
    is taken off every reading.

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
