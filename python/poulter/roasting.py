"""Roasting: how long, and how to set the oven."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ._core import Quantity
from .answers import Answer, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["OvenPhase", "RoastTime", "roast_time"]


class OvenPhase(Record):
    """One setting of the oven for a time."""

    __slots__ = ()
    air: Quantity
    """The air the bird should meet."""
    dial: Quantity
    """What to set on the dial so that the air is that hot."""
    time: Quantity | None
    """How long; None for "until done"."""


class RoastTime(Answer, kind="roast_time"):
    """How long a bird roasts. A thermometer decides, never the time."""

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
) -> RoastTime:
    """Say how long a bird roasts by the standard's table, and how to set the oven.

    ``mass`` is the mass of the bird as it goes into the oven. ``oven`` says how the oven differs from its dial:
    ``{"offset": "-5 delta_degC", "fan": True}``. What is left out is assumed: an unstuffed, thawed, whole turkey in a
    steady oven at sea level, under the rules for homes in the United States.
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
    }
    return RoastTime._adopt(ask("roast_time", fields))
