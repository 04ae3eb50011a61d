"""Roasting: how long, and how to set the oven; and every other way to cook a bird."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal, TypeAlias

    _CookMethod: TypeAlias = Literal[
        "roast",
        "grill",
        "smoke",
        "fry",
        "oil-less-fry",
        "simmer",
        "microwave",
        "roaster-oven",
        "slow-cooker",
        "pressure-cooker",
    ]

__all__ = [
    "CookTime",
    "OvenEnergy",
    "OvenPhase",
    "RoastTime",
    "cook_time",
    "oven_energy",
    "roast_time",
]


class OvenPhase(Record):
    """One setting of the oven for a time.

    Examples
    --------
    >>> phase = roast_time("13 lb", method="high-start").oven[0]
    >>> phase.dial, phase.time
    (Quantity(450, 'degF'), Quantity(30, 'min'))
    """

    __slots__ = ()
    air: Quantity
    """The air the bird should meet."""
    dial: Quantity
    """What to set on the dial so that the air is that hot."""
    time: Quantity | None
    """How long; None for "until done"."""


class RoastTime(Answer, kind="roast_time"):
    """How long a bird roasts. A thermometer decides, never the time.

    Examples
    --------
    >>> print(roast_time("13 lb").time)
    3 h to 3 h 45 min
    """

    __slots__ = ()
    _views = {"time": TimeEstimate, "oven": OvenPhase}

    allowed: bool
    """False where the standard forbids it; ``refusal`` says why."""
    refusal: str | None
    time: TimeEstimate | None
    oven: tuple[OvenPhase, ...]
    """The settings in order."""
    do: tuple[str, ...]
    notes: tuple[str, ...]
    """How the time was arrived at."""
    rules: tuple[str, ...]


def roast_time(
    mass: QuantityLike,
    *,
    stuffed: bool | None = None,
    method: str | None = None,
    from_frozen: bool | None = None,
    oven: Mapping[str, object] | None = None,
    altitude: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> RoastTime:
    """Say how long a bird roasts by the standard's table, and how to set the oven.

    What is left out is assumed: an unstuffed, thawed, whole turkey in a steady oven at sea level, under the rules for
    homes in the United States.

    Parameters
    ----------
    mass : QuantityLike
        Mass of the bird as it goes into the oven (kg, g, mg, lb, oz).
    stuffed : bool, optional
        Whether stuffing is in the bird.
    method : {"steady", "high-start"}, optional
        How the oven is run; steady when left out.
    from_frozen : bool, optional
        Whether the bird goes in hard frozen.
    oven : Mapping[str, object], optional
        How the oven differs from its dial: ``{"offset": "-5 delta_degC", "fan": True}``.
    altitude : QuantityLike, optional
        Height above the sea; sea level when left out (m, cm, mm, ft, in).
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
    RoastTime
        How long a bird roasts. A thermometer decides, never the time.

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
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006), Approximate cooking
      times
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (revised September 2003)
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006)

    Examples
    --------
    >>> print(roast_time("13 lb").time)
    3 h to 3 h 45 min
    """
    fields = {
        "mass": mass,
        "stuffed": stuffed,
        "method": method,
        "from_frozen": from_frozen,
        "oven": oven,
        "altitude": altitude,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return RoastTime._adopt(ask("roast_time", fields))


class CookTime(Answer, kind="cook_time"):
    """How long a bird cooks by one method. A thermometer decides, never the time.

    Examples
    --------
    >>> print(cook_time("12 lb", method="grill").time)
    3 h to 3 h 36 min
    """

    __slots__ = ()
    _views = {"time": TimeEstimate, "findings": Finding}

    method: _CookMethod
    allowed: bool
    """False where a rule forbids it; ``refusal`` says why."""
    refusal: str | None
    time: TimeEstimate | None
    """None where it is refused, or where there are instructions but no printed time."""
    setting: Quantity | None
    """Oven, chamber or oil; the lower end where the source prints a range."""
    setting_high: Quantity | None
    findings: tuple[Finding, ...]
    """What other sources print, and the dangers of the method."""
    do: tuple[str, ...]
    notes: tuple[str, ...]
    """What the printed time holds for."""
    rules: tuple[str, ...]
    """Ids of the rules; the first one decides."""


def cook_time(
    mass: QuantityLike,
    *,
    method: _CookMethod,
    stuffed: bool | None = None,
    from_frozen: bool | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> CookTime:
    """Say how long a bird or cut takes by a method, or which rule forbids it.

    A gap in the printed table is refused; no time is made up between two rows.

    Parameters
    ----------
    mass : QuantityLike
        Mass of the bird; of parts, of one piece, and in a microwave oven of all pieces together (kg, g, mg, lb,
        oz).
    method : str
        How it is cooked: ``"roast"``, ``"grill"``, ``"smoke"``, ``"fry"``, ``"oil-less-fry"``, ``"simmer"``,
        ``"microwave"``, ``"roaster-oven"``, ``"slow-cooker"`` or ``"pressure-cooker"``.
    stuffed : bool, optional
        Whether stuffing is in the bird.
    from_frozen : bool, optional
        Whether the bird is hard frozen when it starts.
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
    CookTime
        How long a bird cooks by one method. A thermometer decides, never the time.

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
    * USDA Food Safety and Inspection Service, Turkey: Alternate Routes to the Table

    Examples
    --------
    >>> str(cook_time("12 lb", method="grill").time)
    '3 h to 3 h 36 min'
    >>> cook_time("13 lb", method="fry").refusal
    'Turkey to fry: at most 12 lb'
    """
    fields = {
        "mass": mass,
        "method": method,
        "stuffed": stuffed,
        "from_frozen": from_frozen,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return CookTime._adopt(ask("cook_time", fields))


class OvenEnergy(Answer, kind="oven_energy"):
    """What an oven takes from the meter, in watt-hours. The published figures differ by a factor of two.

    Examples
    --------
    >>> oven_energy("electric", setting="350 degF", time="1 h").likely_Wh
    2000
    """

    __slots__ = ()

    low_Wh: int
    likely_Wh: int
    """By the published figure for such an oven."""
    high_Wh: int
    igniter_Wh: int | None
    """Electricity that the igniter of a gas oven takes beside the gas."""
    into_bird_Wh: int | None
    """Heat that the bird itself takes up."""
    sources: tuple[str, ...]
    """Where the figures come from, and how they were read."""


def oven_energy(
    heat: Literal["electric", "electric-fan", "gas"],
    *,
    setting: QuantityLike,
    time: QuantityLike,
    bird: QuantityLike | None = None,
) -> OvenEnergy:
    """Estimate the energy that an oven takes at a setting for a time; multiply it by your own tariff for the cost.

    Parameters
    ----------
    heat : {"electric", "electric-fan", "gas"}
        What heats the oven.
    setting : QuantityLike
        The setting, from 80 to 300 °C (degC, degF, K).
    time : QuantityLike
        How long the oven is on, up to 24 h (s, min, h, d).
    bird : QuantityLike, optional
        Raw mass of the bird; then the heat that goes into it is told, which no oven can undercut (kg, g, mg, lb,
        oz).

    Returns
    -------
    OvenEnergy
        What an oven takes from the meter, in watt-hours. The published figures differ by a factor of two.

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
    * A consumer guide to saving energy: 2.0 kWh for 1 h at 350 °F electric, 1.39 kWh for 45 min at 325 °F
      with a fan, 0.112 therm for 1 h at 350 °F gas (read)
    * A brief on energy policy of the United Kingdom, 2008: 1.09 kWh electric and 1.52 kWh gas a use (read)
    * Heating up, 0.4 to 0.7 kWh: from memory

    Examples
    --------
    >>> oven_energy("electric", setting="350 degF", time="1 h").likely_Wh
    2000
    """
    fields = {"heat": heat, "setting": setting, "time": time, "bird": bird}
    return OvenEnergy._adopt(ask("oven_energy", fields))
