"""Altitude: where water boils, and what that changes at the stove."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TemperatureLimit
from .door import ask
from .quantities import QuantityLike

__all__ = ["Altitude", "altitude"]


class Altitude(Answer, kind="altitude"):
    """What changes with the height above the sea.

    Examples
    --------
    >>> altitude("5000 ft").boils_at.shown()
    '94.9 °C'
    """

    __slots__ = ()
    _views = {"minimum": TemperatureLimit, "findings": Finding}

    pressure_Pa: int
    """Pressure of the standard atmosphere, to the nearest pascal."""
    boils_at: Quantity
    """Where water boils, to a hundredth of a degree Celsius."""
    boils_at_fahrenheit: Quantity
    below_sea_level_boil: Quantity
    """How far below the boil at the sea that is; negative below the sea."""
    is_high: bool
    """Whether the rule for roasting at altitude applies."""
    roast_at_least: Quantity | None
    """The shortest that the given roasting time becomes."""
    minimum: TemperatureLimit | None
    """The minimum inside the bird: the same at every height."""
    findings: tuple[Finding, ...]


def altitude(
    altitude: QuantityLike,
    *,
    roast_time: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Altitude:
    """Say where water boils at a height from -500 to 9000 m, and what that changes at the stove.

    Parameters
    ----------
    altitude : QuantityLike
        Height above the sea, from -500 to 9000 m (m, cm, mm, ft, in).
    roast_time : QuantityLike, optional
        A roasting time of the table, to be lengthened where the rule says so (s, min, h, d).
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
    Altitude
        What changes with the height above the sea.

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
    * FoodSafety.gov, Cooking at high altitude (blog post)
    * USDA Food Safety and Inspection Service, High Altitude Cooking and Food Safety (podcast script)

    Examples
    --------
    >>> answer = altitude("5000 ft", roast_time="4 h")
    >>> answer.boils_at.shown(), answer.roast_at_least.shown()
    ('94.9 °C', '5 h')
    """
    fields = {
        "altitude": altitude,
        "roast_time": roast_time,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Altitude._adopt(ask("altitude", fields))
