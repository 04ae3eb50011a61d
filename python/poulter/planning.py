"""The plan: the whole job, dated, worked back from the serving time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ._core import Quantity, refuse, request_json, worksheet
from .answers import Answer, Finding, Record, TimeEstimate
from .door import ask
from .quantities import Moment, plain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Self

__all__ = [
    "Abandoned",
    "Chain",
    "Change",
    "Check",
    "ModelTime",
    "News",
    "OnTime",
    "Order",
    "Plan",
    "PlannedBird",
    "Repeat",
    "ShoppingItem",
    "Step",
    "Use",
    "Window",
    "plan",
]


class Order(Record):
    """What is asked of a plan. What is left out is assumed, and the plan says so.

    ``guests``, ``bird``, ``methods`` and ``kitchen`` are mappings::

        guests={"adults": 11, "children": 3, "leftovers": "some", "avoid": ["wheat"]}
        bird={"species": "turkey", "mass": "6.8 kg", "state": "frozen"}
        methods={"thaw": "refrigerator", "brine": "dry", "roast": "high-start"}
        kitchen={"refrigerator": "3 degC", "oven": {"offset": "-5 delta_degC"}, "altitude": "120 m"}

    Several birds go into ``birds`` in the place of ``bird``; ``dishes`` want the oven as well. ``progress`` says what
    was done and measured up to ``now``::

        progress=[{"at": "2026-12-15T09:00[Europe/Lisbon]", "started": "thaw"},
                  {"at": "2026-12-17T09:00[Europe/Lisbon]", "reading": "8 degF"}]
    """

    __slots__ = ()
    serve_at: Moment
    guests: Record
    bird: Record | None
    birds: tuple[Record, ...] | None
    dishes: tuple[Record, ...] | None
    kit: Record | None
    cook: Record | None
    # Named `class` on the wire, which Python keeps for itself.
    weights: Record | None
    progress: tuple[Record, ...] | None
    planned_at: Moment | None
    now: Moment | None
    standard: str | None
    methods: Record | None
    kitchen: Record | None
    use_model: bool | None
    units: str | None
    clock: str | None

    def __init__(
        self,
        *,
        serve_at: Moment,
        guests: Mapping[str, object],
        bird: Mapping[str, object] | None = None,
        birds: Sequence[Mapping[str, object]] | None = None,
        dishes: Sequence[Mapping[str, object]] | None = None,
        kit: Mapping[str, object] | None = None,
        cook: Mapping[str, object] | None = None,
        class_: Mapping[str, object] | None = None,
        weights: Mapping[str, object] | None = None,
        progress: Sequence[Mapping[str, object]] | None = None,
        planned_at: Moment | None = None,
        now: Moment | None = None,
        standard: str | None = None,
        methods: Mapping[str, object] | None = None,
        kitchen: Mapping[str, object] | None = None,
        use_model: bool | None = None,
        units: str | None = None,
        clock: str | None = None,
    ) -> None:
        """Take the order: ``now`` is when the plan may start, ``units`` and ``clock`` are those of the sheets.

        ``use_model`` sets the heat model beside the printed times. ``class_`` is a class that cooks, ``class`` in a
        mapping or file.
        """
        fields = {
            "serve_at": serve_at,
            "now": now,
            "standard": standard,
            "guests": guests,
            "bird": bird,
            "birds": birds,
            "dishes": dishes,
            "kit": kit,
            "cook": cook,
            "class": class_,
            "weights": weights,
            "progress": progress,
            "planned_at": planned_at,
            "methods": methods,
            "kitchen": kitchen,
            "use_model": use_model,
            "units": units,
            "clock": clock,
        }
        super().__init__({name: value for name, value in fields.items() if value is not None})

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self)._adopt, (self._wire,)


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


class ModelTime(Record):
    """A time of the heat model beside the printed one."""

    __slots__ = ()
    _views = {"time": TimeEstimate, "printed": TimeEstimate}

    kind: str
    """Always ``"model"``: computed, not published."""
    time: TimeEstimate
    printed: TimeEstimate | None
    """The time by the rule; None where no row is published."""


class Use(Record):
    """Something that a step keeps for itself for a time, up to its slow case."""

    __slots__ = ()
    resource: str
    number: int
    """Which one, from 1."""
    name: str | None
    # Named `from` on the wire: read it as ``use["from"]``.
    to: str
    room: Quantity | None


class Step(Record):
    """One step of a plan."""

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


class ShoppingItem(Record):
    """A line of the shopping list."""

    __slots__ = ()
    item: str
    amount: Quantity | Record | None
    note: str


class Chain(Record):
    """One combination of methods, and why it was kept or fell out."""

    __slots__ = ()
    bird: str | None
    state: str
    thaw: str | None
    brine: str
    roast: str
    kept: bool
    reason: str
    criteria: Record | None
    score: int | None
    """Thousandths of a point by the order's weights."""


class Change(Record):
    """A change that would make the dinner possible."""

    __slots__ = ()
    change: str
    serve_at: str
    later_by: Quantity


class PlannedBird(Record):
    """The bird of a plan."""

    __slots__ = ()
    name: str | None
    species: str
    cut: str
    mass: Quantity
    count: int
    state: str
    to_buy: bool
    stuffed: bool


class OnTime(Record):
    """How likely the food is on the table at the hour."""

    __slots__ = ()
    probability: Quantity
    within: Quantity
    distribution: str
    """What was assumed of the durations."""


class News(Record):
    """Something that is otherwise than planned before."""

    __slots__ = ()
    step: str | None
    what: str
    why: str
    before: str | None
    now: str | None


class Abandoned(Record):
    """A bird that must not be eaten, or of which nobody can tell."""

    __slots__ = ()
    bird: str
    verdict: str
    reason: str
    rule: str


class Plan(Answer, kind="plan"):
    """A dated plan, or the honest answer that there is none."""

    __slots__ = ("_order",)
    _order: str | None
    _views = {
        "bird": PlannedBird,
        "steps": Step,
        "shopping": ShoppingItem,
        "findings": Finding,
        "chains": Chain,
        "changes": Change,
        "birds": PlannedBird,
        "on_time": OnTime,
        "news": News,
        "abandoned": Abandoned,
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
    birds: tuple[PlannedBird, ...] | None
    """Every line of birds where the order has several."""
    on_time: OnTime | None
    news: tuple[News, ...] | None
    """What is otherwise than before the progress, and why."""
    abandoned: tuple[Abandoned, ...] | None
    """Birds that must not be eaten, with the rule."""

    def __init__(self, fields: Mapping[str, Any], order: str | None = None) -> None:
        super().__init__(fields)
        object.__setattr__(self, "_order", order)

    @classmethod
    def _to(cls, request: Mapping[str, object], response: dict[str, Any]) -> Self:
        made = cls._adopt(response)
        object.__setattr__(made, "_order", request_json(request, plain))
        return made

    def __reduce__(self) -> tuple[type[Self], tuple[Any, ...]]:
        return type(self), (self._wire, self._order)

    def to_text(self) -> str:
        """Return the sheet as plain text of 80 columns."""
        return self._sheet("text")

    def to_markdown(self) -> str:
        """Return the sheet as Markdown with tables and boxes to tick."""
        return self._sheet("markdown")

    def to_html(self) -> str:
        """Return the sheet as one page for screen and print; it fetches nothing and runs no script."""
        return self._sheet("html")

    def to_ics(self) -> str:
        """Return the steps as a calendar with alarms."""
        return self._sheet("ics")

    def plot(self, ax: Any = None) -> Any:
        """Draw the steps along the clock on matplotlib axes, new ones unless given. Needs the extra ``plot``."""
        from .timeline import draw

        return draw(self, ax)

    def worksheet(self, *, kind: str = "host", format: str = "text") -> str | bytes:
        """Return a sheet as text, or as bytes where ``format`` is ``"xlsx"``.

        ``kind`` is ``"host"``, ``"class"``, ``"key"``, ``"shopping"``, ``"labels"`` or ``"cards"``; ``format`` is
        ``"text"``, ``"markdown"``, ``"html"``, ``"csv"``, ``"xlsx"``, or ``"ics"`` for host, class and labels.
        """
        if self._order is None:
            expected = "the order as JSON text is needed: Plan(fields, order)"
            raise refuse("missing-field", field="order", given="", expected=expected)
        return worksheet(self._order, kind, format)

    def _sheet(self, form: str) -> str:
        sheet = self.worksheet(format=form)
        assert isinstance(sheet, str)
        return sheet

    def _repr_html_(self) -> str:
        if self._order is None:
            return super()._repr_html_()
        from html import escape

        # A frame keeps the page's style away from the notebook's.
        style = "width: 100%; height: 40em; border: 0"
        return f'<iframe sandbox="" style="{style}" srcdoc="{escape(self.to_html())}"></iframe>'


def plan(order: Order | Mapping[str, object] | str) -> Plan:
    """Plan a dinner from an `Order`, a mapping of the same fields, or TOML text."""
    if isinstance(order, str):
        given: Mapping[str, object] = _read_toml(order)
    elif isinstance(order, Order):
        given = order.to_dict()
    elif isinstance(order, Mapping):
        given = order
    else:
        expected = "an Order, a mapping or TOML text is needed"
        raise refuse("wrong-type", field="", given=type(order).__name__, expected=expected)
    return Plan._to(given, ask("plan", given))


def _read_toml(text: str) -> dict[str, Any]:
    import tomllib

    try:
        return tomllib.loads(text)
    # A number of too many digits is a plain ValueError, and deep nesting a RecursionError.
    except (ValueError, RecursionError) as error:
        expected = f"TOML is needed: {error}"
        raise refuse("malformed", field="", given=text, expected=expected) from None
