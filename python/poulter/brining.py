"""Brine: how much salt, how long, how cold."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["Brine", "Chilling", "SaltAmount", "SodiumEstimate", "WetBrine", "brine"]


class SaltAmount(Record):
    """An amount of salt.

    Examples
    --------
    >>> salted = brine("12 lb", method="wet")
    >>> salted.salt.mass.shown()
    '438 g'
    """

    __slots__ = ()
    mass: Quantity
    """Its mass: weigh it."""
    kind: str
    """The kind the volumes are for."""
    volume_low: Quantity
    volume_high: Quantity


class Chilling(Record):
    """How to make a hot brine cold at once.

    Examples
    --------
    >>> salted = brine("12 lb", method="wet")
    >>> salted.wet.chilling.hot_water
    Quantity(0.5, 'gal')
    """

    __slots__ = ()
    hot_water: Quantity
    """Hot water to dissolve the salt in."""
    ice: Quantity
    cold_water: Quantity


class WetBrine(Record):
    """The liquid of a wet brine.

    Examples
    --------
    >>> salted = brine("12 lb", method="wet")
    >>> salted.wet.water, salted.wet.freezes_at
    (Quantity(2, 'gal'), Quantity(-3.36, 'degC'))
    """

    __slots__ = ()
    _views = {"chilling": Chilling}

    water: Quantity
    """Water in all, ice included."""
    brine_mass: Quantity
    brine_volume: Quantity
    freezes_at: Quantity
    chilling: Chilling | None
    cooler_ice_low: Quantity | None
    cooler_ice_high: Quantity | None
    vessel: Quantity
    """The smallest vessel that holds bird and brine."""
    at_equilibrium: Quantity
    """Salt on meat if the bird stayed until nothing moved any more."""
    uptake_low: Quantity
    uptake_high: Quantity


class SodiumEstimate(Record):
    """Sodium in a serving.

    Examples
    --------
    >>> salted = brine("12 lb", method="wet")
    >>> sodium = salted.sodium
    >>> sodium.low, sodium.high
    (Quantity(195, 'mg'), Quantity(427, 'mg'))
    """

    __slots__ = ()
    low: Quantity
    high: Quantity
    daily_value_low: Quantity
    daily_value_high: Quantity
    source: str


class Brine(Answer, kind="brine"):
    """How a bird is salted.

    Examples
    --------
    >>> salted = brine("12 lb", method="wet")
    >>> salted.allowed, salted.salt.mass.shown()
    (True, '438 g')
    """

    __slots__ = ()
    _views = {
        "salt": SaltAmount,
        "wet": WetBrine,
        "time": TimeEstimate,
        "sodium": SodiumEstimate,
        "findings": Finding,
    }

    method: str
    allowed: bool
    """False where a rule forbids it; ``refusal`` says why."""
    refusal: str | None
    salt: SaltAmount | None
    strength: Quantity | None
    """Salt as a share of the brine (wet) or of the bird (dry)."""
    wet: WetBrine | None
    time: TimeEstimate | None
    """The usual time, inside the limit."""
    limit: Quantity | None
    """The longest time."""
    depth_low: Quantity | None
    depth_high: Quantity | None
    sodium: SodiumEstimate
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


def brine(
    mass: QuantityLike,
    *,
    method: str,
    strength: QuantityLike | None = None,
    water: QuantityLike | None = None,
    salt_kind: str | None = None,
    salt: Mapping[str, object] | None = None,
    time: QuantityLike | None = None,
    place: str | None = None,
    room: QuantityLike | None = None,
    kosher: bool | None = None,
    solution_added: QuantityLike | None = None,
    override_salted: bool | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Brine:
    """Say how much salt a bird of this mass takes, for how long and how cold.

    Parameters
    ----------
    mass : QuantityLike
        Mass of the bird (kg, g, mg, lb, oz).
    method : {"wet", "dry", "none"}
        How it is salted.
    strength : QuantityLike, optional
        Salt as a share of the brine (wet, above 0 to 23 %) or of the bird (dry, above 0 to 5 %); the rule when
        left out (%, 1).
    water : QuantityLike, optional
        The water of a wet brine; by the mass of the bird when left out (L, mL, gal, qt, cup, floz, tbsp, tsp).
    salt_kind : {"table", "kosher-dense", "kosher-flake", "fine-sea"}, optional
        The kind of salt at hand; table salt for a wet brine and flaked kosher salt for a dry one when left out.
    salt : Mapping[str, object], optional
        What a recipe asks for, to be checked: ``{"volume": "1 cup", "kind": "kosher-flake"}``. Not together with
        `strength`.
    time : QuantityLike, optional
        The time planned; then it is judged by the limit (s, min, h, d).
    place : {"refrigerator", "cooler"}, optional
        Where the bird lies; refrigerator when left out.
    room : QuantityLike, optional
        The room round a cooler; 23 °C when left out (degC, degF, K).
    kosher : bool, optional
        Whether the bird is kosher, so already salted.
    solution_added : QuantityLike, optional
        Solution added by the packer, from the label; none when left out (%, 1).
    override_salted : bool, optional
        Brines a bird that already holds salt all the same.
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
    Brine
        How a bird is salted.

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
    * USDA Food Safety and Inspection Service, Brining a turkey, wet and dry (script of a consumer video)
    * USDA Food Safety and Inspection Service, Brining a turkey, wet and dry (script of a consumer video),
      refrigerated throughout
    * USDA Food Safety and Inspection Service, Consumer advice on washing hands, raw poultry and surfaces,
      and on keeping raw food apart, raw poultry is not washed or rinsed

    Examples
    --------
    >>> brine("12 lb", method="dry").salt.mass.shown()
    '22 g'
    """
    fields = {
        "mass": mass,
        "method": method,
        "strength": strength,
        "water": water,
        "salt_kind": salt_kind,
        "salt": salt,
        "time": time,
        "place": place,
        "room": room,
        "kosher": kosher,
        "solution_added": solution_added,
        "override_salted": override_salted,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Brine._adopt(ask("brine", fields))
