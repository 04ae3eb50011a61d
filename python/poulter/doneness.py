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
    """Whether a bird is cooked.

    Examples
    --------
    >>> check_cooking({"breast": "168 °F", "thigh": "165 °F"}).verdict
    'cannot-tell'
    """

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

    What is left out is assumed: a whole turkey without stuffing, under the rules for homes in the United States.

    Parameters
    ----------
    readings : Mapping[str, QuantityLike]
        A temperature for each place; one that the rule names and that is missing or None makes the verdict
        ``"cannot-tell"``.
    stuffed : bool, optional
        Whether stuffing is in the bird.
    held : QuantityLike, optional
        How long every reading has held; needed where the standard asks for a time (s, min, h, d).
    accuracy : QuantityLike, optional
        How far the thermometer may be wrong; taken off every reading (delta_degC, delta_degF, K).
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
    CookingVerdict
        Whether a bird is cooked.

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
    >>> readings = {"breast": "168 °F", "thigh": "165 °F", "wing": "166 °F"}
    >>> check_cooking(readings).verdict
    'meets'
    >>> check_cooking(readings | {"thigh": "164.9 °F"}).verdict
    'fails'
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
