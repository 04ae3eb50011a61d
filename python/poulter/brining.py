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
    """An amount of salt."""

    __slots__ = ()
    mass: Quantity
    """Its mass: weigh it."""
    kind: str
    """The kind the volumes are for."""
    volume_low: Quantity
    volume_high: Quantity


class Chilling(Record):
    """How to make a hot brine cold at once."""

    __slots__ = ()
    hot_water: Quantity
    """Hot water to dissolve the salt in."""
    ice: Quantity
    cold_water: Quantity


class WetBrine(Record):
    """The liquid of a wet brine."""

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
    """Sodium in a serving."""

    __slots__ = ()
    low: Quantity
    high: Quantity
    daily_value_low: Quantity
    daily_value_high: Quantity
    source: str


class Brine(Answer, kind="brine"):
    """How a bird is salted."""

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

    ``method`` is ``"wet"``, ``"dry"`` or ``"none"``. ``salt`` is what a recipe asks for, to be checked:
    ``{"volume": "1 cup", "kind": "kosher-flake"}``. ``time`` is the time planned; it is judged by the limit.
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
