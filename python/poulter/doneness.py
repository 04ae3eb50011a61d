"""Doneness: readings at named places, judged."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from .answers import Answer, Finding
from .door import ask
from .quantities import QuantityLike

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["CookingVerdict", "check_cooking"]


class CookingVerdict(Answer, kind="check_cooking"):
    """Whether a bird is cooked."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """The worst of the places. Treat ``"cannot-tell"`` as ``"fails"``."""
    findings: tuple[Finding, ...]
    """One for each place that the rule names, and for each further reading."""
    do: tuple[str, ...]


def check_cooking(
    readings: Mapping[str, QuantityLike | None],
    *,
    stuffed: bool | None = None,
    held: QuantityLike | None = None,
    accuracy: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> CookingVerdict:
    """Judge thermometer readings by the place they were taken.

    ``readings`` maps a place to its temperature; a place that the rule names and that is missing or None makes the
    verdict ``"cannot-tell"``. ``held`` is how long every reading has held. ``accuracy`` is how far the thermometer
    may be wrong, and is taken off every reading. What else is left out is assumed: a whole turkey without stuffing,
    under the rules for homes in the United States.
    """
    fields = {
        "readings": readings,
        "stuffed": stuffed,
        "held": held,
        "accuracy": accuracy,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return CookingVerdict._adopt(ask("check_cooking", fields))
