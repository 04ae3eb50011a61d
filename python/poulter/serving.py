"""Rest, carve, hold and serve."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TemperatureLimit, TimeEstimate, TimeLimit
from .door import ask
from .quantities import QuantityLike

__all__ = ["RestAndCarve", "rest_and_carve"]


class RestAndCarve(Answer, kind="rest_and_carve"):
    """How a bird rests, is carved, held and served."""

    __slots__ = ()
    _views = {
        "rest": TimeEstimate,
        "carve": TimeEstimate,
        "hold_hot": TemperatureLimit,
        "hold_hot_for": TimeLimit,
        "stand_out_for": TimeLimit,
        "findings": Finding,
    }

    rest: TimeEstimate | None
    """Rest before carving; heat that goes on rising meanwhile is never counted as safety."""
    carve: TimeEstimate | None
    slices_low: Quantity | None
    slices_high: Quantity | None
    hold_hot: TemperatureLimit | None
    """How hot food must be held."""
    hold_hot_for: TimeLimit | None
    stand_out_for: TimeLimit | None
    """How long food may stand out in these surroundings."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


def rest_and_carve(
    mass: QuantityLike,
    *,
    stuffed: bool | None = None,
    solution_added: QuantityLike | None = None,
    held_at: QuantityLike | None = None,
    held_for: QuantityLike | None = None,
    out_for: QuantityLike | None = None,
    surroundings: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> RestAndCarve:
    """Say how long a bird of this raw mass rests, what carving gives, and how it is held and served.

    ``held_at`` is the coldest reading of food held hot, ``held_for`` how long it has been held, ``out_for`` how long
    it has stood out: what is given is judged. ``surroundings`` is the air where the food stands.
    """
    fields = {
        "mass": mass,
        "stuffed": stuffed,
        "solution_added": solution_added,
        "held_at": held_at,
        "held_for": held_for,
        "out_for": out_for,
        "surroundings": surroundings,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return RestAndCarve._adopt(ask("rest_and_carve", fields))
