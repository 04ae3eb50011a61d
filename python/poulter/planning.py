"""The plan: the whole job, dated, worked back from the serving time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

from ._core import Quantity, refuse
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import Moment

__all__ = [
    "Chain",
    "Change",
    "Check",
    "Order",
    "Plan",
    "PlannedBird",
    "Repeat",
    "ShoppingItem",
    "Step",
    "Window",
    "plan",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """What is asked of a plan. What is left out is assumed, and the plan says so."""

    serve_at: Moment
    """When the food is served."""
    guests: Mapping[str, object]
    """``{"adults": 11, "children": 3, "leftovers": "some", "avoid": ["wheat"]}``"""
    bird: Mapping[str, object]
    """``{"species": "turkey", "mass": "6.8 kg", "state": "frozen"}``; without a mass the plan says what to buy."""
    now: Moment | None = None
    """The moment from which the plan may start."""
    standard: str | None = None
    methods: Mapping[str, object] | None = None
    """``{"thaw": "refrigerator", "brine": "dry", "roast": "high-start"}``; what is left out the planner chooses."""
    kitchen: Mapping[str, object] | None = None
    """``{"refrigerator": "3 degC", "oven": {"offset": "-5 delta_degC", "fan": False}, "altitude": "120 m"}``"""
    units: str | None = None
    """Units of the sheets: ``"us-customary"`` or ``"metric"``."""
    clock: str | None = None
    """Clock of the sheets: ``"twelve"`` or ``"twenty-four"``."""

    def to_dict(self) -> dict[str, Any]:
        """Return the fields that were given."""
        given = {field.name: getattr(self, field.name) for field in fields(self)}
        return {name: value for name, value in given.items() if value is not None}


class Window(Record):
    """When a step may start, as text with date, time and zone."""

    __slots__ = ()
    earliest: str
    planned: str
    latest: str


class Check(Record):
    """Something to measure and write down."""

    __slots__ = ()
    what: str
    place: str | None
    limit: str
    otherwise: str
    """What to do when the limit is not met."""
    rule: str | None


class Repeat(Record):
    """Something that comes back at equal times within a step."""

    __slots__ = ()
    every: Quantity
    what: str


class Step(Record):
    """One step of a plan."""

    __slots__ = ()
    _views = {"window": Window, "duration": TimeEstimate, "repeat": Repeat, "record": Check}

    id: str
    stage: str
    title: str
    window: Window
    duration: TimeEstimate
    occupies: tuple[str, ...]
    """What the step needs for itself: oven, sink, refrigerator, cook."""
    do: tuple[str, ...]
    repeat: Repeat | None
    record: tuple[Check, ...]
    """What to measure and write down."""
    rules: tuple[str, ...]


class ShoppingItem(Record):
    """A line of the shopping list."""

    __slots__ = ()
    item: str
    amount: Quantity | Record | None
    note: str


class Chain(Record):
    """One combination of methods, and why it was kept or fell out."""

    __slots__ = ()
    state: str
    thaw: str | None
    brine: str
    roast: str
    kept: bool
    reason: str
    criteria: Record | None


class Change(Record):
    """A change that would make the dinner possible."""

    __slots__ = ()
    change: str
    serve_at: str
    later_by: Quantity


class PlannedBird(Record):
    """The bird of a plan."""

    __slots__ = ()
    species: str
    cut: str
    mass: Quantity
    count: int
    state: str
    to_buy: bool
    stuffed: bool


class Plan(Answer, kind="plan"):
    """A dated plan, or the honest answer that there is none."""

    __slots__ = ()
    _views = {
        "bird": PlannedBird,
        "steps": Step,
        "shopping": ShoppingItem,
        "findings": Finding,
        "chains": Chain,
        "changes": Change,
    }

    feasible: bool
    """Whether the dinner can be had safely at the hour asked."""
    serve_at: str
    standard: str
    title: str
    bird: PlannedBird
    units: str
    clock: str
    steps: tuple[Step, ...]
    """The steps in order of their planned time; empty when not feasible."""
    shopping: tuple[ShoppingItem, ...]
    findings: tuple[Finding, ...]
    chains: tuple[Chain, ...]
    """Every combination of methods that was weighed, the best first."""
    changes: tuple[Change, ...]
    """What would make it possible, the smallest change first; empty when feasible."""


def plan(order: Order | Mapping[str, object] | str) -> Plan:
    """Plan a dinner from an `Order`, a mapping of the same fields, or TOML text."""
    if isinstance(order, str):
        return Plan._adopt(ask("plan", _read_toml(order)))
    if isinstance(order, Order):
        return Plan._adopt(ask("plan", order.to_dict()))
    if isinstance(order, Mapping):
        return Plan._adopt(ask("plan", order))
    expected = "an Order, a mapping or TOML text is needed"
    raise refuse("wrong-type", field="", given=type(order).__name__, expected=expected)


def _read_toml(text: str) -> dict[str, Any]:
    import tomllib

    try:
        return tomllib.loads(text)
    # A number of too many digits is a plain ValueError, and deep nesting a RecursionError.
    except (ValueError, RecursionError) as error:
        expected = f"TOML is needed: {error}"
        raise refuse("malformed", field="", given=text, expected=expected) from None
