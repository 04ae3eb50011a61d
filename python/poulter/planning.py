"""The plan: the whole job, dated, worked back from the serving time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ._core import Quantity, refuse, request_json, worksheet
from .answers import Answer, Finding, Record
from .door import ask
from .quantities import Moment, plain
from .steps import Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Self

__all__ = [
    "Abandoned",
    "Chain",
    "Change",
    "News",
    "OnTime",
    "Order",
    "Plan",
    "PlannedBird",
    "ShoppingItem",
    "plan",
]


class Order(Record):
    """What is asked of a plan. What is left out is assumed, and the plan says so.

    Parameters
    ----------
    serve_at : Moment
        When the food is served.
    guests : Mapping[str, object]
        ``{"adults": 11, "children": 3, "leftovers": "some", "avoid": ["wheat"]}``.
    bird : Mapping[str, object], optional
        ``{"species": "turkey", "mass": "6.8 kg", "state": "frozen"}``; not together with `birds`.
    birds : Sequence[Mapping[str, object]], optional
        Several birds or cuts, one mapping for each kind.
    dishes : Sequence[Mapping[str, object]], optional
        Dishes that want the oven as well.
    kit : Mapping[str, object], optional
        A meal kit that brings the birds.
    cook : Mapping[str, object], optional
        The cook's hours.
    class_ : Mapping[str, object], optional
        A class that cooks; ``class`` in a mapping or file.
    weights : Mapping[str, object], optional
        How much each criterion weighs in the ranking.
    progress : Sequence[Mapping[str, object]], optional
        What was done and measured up to `now`, such as ``{"at": "2026-12-15T09:00[Europe/Lisbon]", "started":
        "thaw"}`` or ``{"at": "2026-12-17T09:00[Europe/Lisbon]", "reading": "8 degF"}``; with ``"started": "roast"``,
        ``"oven"`` names the oven it went into.
    planned_at : Moment, optional
        When the plan was first made; the time of the first piece of progress when left out.
    now : Moment, optional
        The moment from which the plan may start; the plan says what would be needed when left out.
    standard : str, optional
        The standard to plan by; ``"us-consumer"`` when left out. `rules` lists them all.
    methods : Mapping[str, object], optional
        ``{"thaw": "refrigerator", "brine": "dry", "roast": "high-start"}``; what is left out is chosen.
    kitchen : Mapping[str, object], optional
        ``{"refrigerator": "3 degC", "oven": {"offset": "-5 delta_degC"}, "altitude": "120 m"}``.
    use_model : bool, optional
        Whether the heat model stands beside the printed times; False when left out.
    units : str, optional
        Units of the sheets; US customary for a standard of the United States, else metric.
    clock : str, optional
        Clock of the sheets; 12 hours with US customary units, else 24.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Examples
    --------
    >>> order = Order(serve_at="2026-12-19T18:30[Europe/Lisbon]", guests={"adults": 11})
    >>> order["guests"]["adults"]
    11
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
    house_rules: str | None

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
        house_rules: str | None = None,
    ) -> None:
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
            "house_rules": house_rules,
        }
        super().__init__({name: value for name, value in fields.items() if value is not None})

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self)._adopt, (self._wire,)


class ShoppingItem(Record):
    """A line of the shopping list.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> plan(order).shopping[0].item
    'table salt'
    """

    __slots__ = ()
    item: str
    amount: Quantity | Record | None
    note: str
    pieces: int | None
    """How many pieces, where the amount is that of one."""
    ingredient: str | None
    """The words by which the rules for allergens know it."""


class Chain(Record):
    """One combination of methods, and why it was kept or fell out.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> chain = plan(order).chains[0]
    >>> chain.kept, chain.thaw, chain.roast
    (True, 'refrigerator', 'steady')
    """

    __slots__ = ()
    bird: str | None
    state: str
    thaw: str | None
    brine: str
    roast: str
    kept: bool
    chosen: bool
    """Whether it is the one that the plan follows."""
    reason: str
    criteria: Record | None
    score: int | None
    """Thousandths of a point by the order's weights."""


class Change(Record):
    """A change that would make the dinner possible.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> late = plan(order | {"now": "2026-12-19T12:00[Europe/Lisbon]"})
    >>> late.feasible, late.changes[0].change[:37]
    (False, 'Buy a fresh or already thawed bird of')
    """

    __slots__ = ()
    change: str
    serve_at: str
    later_by: Quantity


class PlannedBird(Record):
    """The bird of a plan.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> bird = plan(order).bird
    >>> bird.species, bird.mass
    ('turkey', Quantity(6.8, 'kg'))
    """

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
    """How likely the food is on the table at the hour.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> plan(order).on_time.probability
    Quantity(92, '%')
    """

    __slots__ = ()
    probability: Quantity
    within: Quantity
    distribution: str
    """What was assumed of the durations."""


class News(Record):
    """Something that is otherwise than planned before.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> order["now"] = "2026-12-15T09:00[Europe/Lisbon]"
    >>> order["progress"] = [{"at": "2026-12-14T18:00[Europe/Lisbon]", "started": "thaw"}]
    >>> plan(order).news[0].what
    'Start thawing (thawed in the refrigerator): 4 h earlier'
    """

    __slots__ = ()
    step: str | None
    what: str
    why: str
    before: str | None
    now: str | None


class Abandoned(Record):
    """A bird that must not be eaten, or of which nobody can tell.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> order["now"] = "2026-12-18T09:00[Europe/Lisbon]"
    >>> order["progress"] = [{"at": "2026-12-17T09:00[Europe/Lisbon]", "reading": "60 degF"}]
    >>> plan(order).abandoned[0].verdict
    'cannot-tell'
    """

    __slots__ = ()
    bird: str
    verdict: str
    reason: str
    rule: str


class Plan(Answer, kind="plan"):
    """A dated plan, or the honest answer that there is none.

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> planned = plan(order)
    >>> planned.feasible, planned.steps[0].title
    (True, 'Start thawing (thawed in the refrigerator)')
    """

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
        """Return the sheet as plain text of 80 columns.

        Returns
        -------
        str
            The sheet for the host.

        Raises
        ------
        InputError
            The plan was made without its order.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> plan(order).to_text().splitlines()[0]
        'KITCHEN SHEET'
        """
        return self._sheet("text")

    def to_markdown(self) -> str:
        """Return the sheet as Markdown with tables and boxes to tick.

        Returns
        -------
        str
            The sheet for the host.

        Raises
        ------
        InputError
            The plan was made without its order.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> plan(order).to_markdown().splitlines()[0]
        '# 15 lb turkey (whole) for 11'
        """
        return self._sheet("markdown")

    def to_html(self) -> str:
        """Return the sheet as one page for screen and print; it fetches nothing and runs no script.

        Returns
        -------
        str
            The sheet for the host.

        Raises
        ------
        InputError
            The plan was made without its order.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> plan(order).to_html()[:15]
        '<!DOCTYPE html>'
        """
        return self._sheet("html")

    def to_ics(self) -> str:
        """Return the steps as a calendar with alarms.

        Returns
        -------
        str
            The sheet for the host.

        Raises
        ------
        InputError
            The plan was made without its order.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> plan(order).to_ics().splitlines()[0]
        'BEGIN:VCALENDAR'
        """
        return self._sheet("ics")

    def plot(self, ax: Any = None) -> Any:
        """Draw the steps along the clock on matplotlib axes, new ones unless given. Needs the extra ``plot``.

        Parameters
        ----------
        ax : matplotlib.axes.Axes, optional
            Axes to draw on; new ones when left out.

        Returns
        -------
        matplotlib.axes.Axes
            The axes.

        Raises
        ------
        ImportError
            There is no matplotlib.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> axes = plan(order).plot()
        >>> len(axes.get_yticklabels()) == len(plan(order).steps)
        True
        """
        from .timeline import draw

        return draw(self, ax)

    def worksheet(self, *, kind: str = "host", format: str = "text") -> str | bytes:
        """Return a sheet as text, or as bytes where ``format`` is ``"xlsx"``.

        Parameters
        ----------
        kind : {"host", "class", "key", "shopping", "labels", "cards"}, default "host"
            What is written.
        format : {"text", "markdown", "html", "csv", "xlsx", "ics"}, default "text"
            How it is written; ``"ics"`` for host, class and labels only.

        Returns
        -------
        str or bytes
            The sheet; bytes where `format` is ``"xlsx"``.

        Raises
        ------
        InputError
            The kind or the format is unknown, there is no such sheet, or the plan was made without its order.

        Examples
        --------
        >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
        >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
        >>> plan(order).worksheet(kind="shopping", format="csv").splitlines()[0]
        'Item,Amount,Note'
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
    """Plan a dinner from an `Order`, a mapping of the same fields, or TOML text.

    Parameters
    ----------
    order : Order | Mapping[str, object] | str
        An `Order`, a mapping of the same fields, or TOML text.

    Returns
    -------
    Plan
        A dated plan, or the honest answer that there is none.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.

    Notes
    -----
    Each step of a plan names its rules, and ``citations`` their sources; these three stand for many.

    References
    ----------
    * Ohio State University Extension, Jefferson County, Buying and roasting a turkey, Buying
    * USDA Agricultural Research Service, National Nutrient Database for Standard Reference (Release 26),
      Turkey, whole: 3812 g roasted of 5002 g raw, refuse 31 %, skin 7 %
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006), Approximate cooking
      times

    Examples
    --------
    >>> order = {"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]"}
    >>> order |= {"guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}
    >>> planned = plan(order)
    >>> planned.feasible, planned.steps[0].title
    (True, 'Start thawing (thawed in the refrigerator)')
    """
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
