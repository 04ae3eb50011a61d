"""The steps of a plan."""

from __future__ import annotations

from ._core import Quantity
from .answers import Record, TimeEstimate

__all__ = ["Check", "ModelTime", "Repeat", "Step", "Use", "Window"]


class Window(Record):
    """When a step may start, as text with date, time and zone.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> poulter.plan(order).steps[0].window.planned
    '2026-12-14T21:00:00+00:00[Europe/Lisbon]'
    """

    __slots__ = ()
    earliest: str
    planned: str
    latest: str


class Check(Record):
    """Something to measure and write down.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> check = next(step.record[0] for step in poulter.plan(order).steps if step.record)
    >>> check.what, check.limit
    ('Refrigerator', 'at most 40 °F (4.4 °C)')
    """

    __slots__ = ()
    what: str
    place: str | None
    limit: str
    otherwise: str
    """What to do when the limit is not met."""
    rule: str | None


class Repeat(Record):
    """Something that comes back at equal times within a step.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> planned = poulter.plan(order | {"methods": {"thaw": "cold-water"}})
    >>> [step.repeat.every.shown() for step in planned.steps if step.repeat]
    ['30 min', '20 min']
    """

    __slots__ = ()
    every: Quantity
    what: str


class ModelTime(Record):
    """A time of the heat model beside the printed one.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> planned = poulter.plan(order | {"use_model": True})
    >>> next(step.model.kind for step in planned.steps if step.model)
    'model'
    """

    __slots__ = ()
    _views = {"time": TimeEstimate, "printed": TimeEstimate}

    kind: str
    """Always ``"model"``: computed, not published."""
    time: TimeEstimate
    printed: TimeEstimate | None
    """The time by the rule; None where no row is published."""


class Use(Record):
    """Something that a step keeps for itself for a time, up to its slow case.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> use = next(step.uses[0] for step in poulter.plan(order).steps if step.uses)
    >>> use.resource, use.number
    ('refrigerator', 1)
    """

    __slots__ = ()
    resource: str
    number: int
    """Which one, from 1."""
    name: str | None
    # Named `from` on the wire: read it as ``use["from"]``.
    to: str
    room: Quantity | None


class Step(Record):
    """One step of a plan.

    Examples
    --------
    >>> import poulter
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> step = poulter.plan(order).steps[0]
    >>> step.stage, step.title
    ('thaw', 'Start thawing (thawed in the refrigerator)')
    """

    __slots__ = ()
    _views = {
        "window": Window,
        "duration": TimeEstimate,
        "model": ModelTime,
        "repeat": Repeat,
        "record": Check,
        "uses": Use,
    }

    id: str
    stage: str
    title: str
    bird: str | None
    """The bird it is about, where the order has several lines."""
    by: str | None
    """``"class"`` or ``"teacher"``, where a class cooks."""
    window: Window
    duration: TimeEstimate
    model: ModelTime | None
    """What the heat model says of it, where the order asks for it."""
    occupies: tuple[str, ...]
    """What the step needs for itself: oven, sink, refrigerator, cooler, cook."""
    hands_on: Quantity | None
    """How long it keeps hands busy."""
    slack: Quantity | None
    """How much later than planned it may start with dinner still on time in the slow case."""
    governs: bool | None
    """True on the critical path, else None."""
    uses: tuple[Use, ...] | None
    do: tuple[str, ...]
    repeat: Repeat | None
    record: tuple[Check, ...]
    """What to measure and write down."""
    rules: tuple[str, ...]
