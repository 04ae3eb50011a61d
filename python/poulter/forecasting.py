"""When a roast on a probe is done: readings as they come, and the heat model fitted to them.

The readings decide; the forecast has no part in a verdict.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ._core import ProbeHandle, Quantity
from .answers import Answer, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike, plain
from .records import RecordFinding

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Literal, TypeAlias

    _Reading: TypeAlias = tuple[QuantityLike, QuantityLike] | Mapping[str, object]
    _Probes: TypeAlias = Mapping[str, Iterable[_Reading]]

__all__ = [
    "BandCoverage",
    "PlaceForecast",
    "Probe",
    "ProbeFinding",
    "ReadingAhead",
    "TimeForecast",
    "forecast",
]


class ProbeFinding(Record):
    """A probe on bone or pulled out, a door that was opened, an oven that is off.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
    >>> seen = forecast(roast, probes=probes, members=200)
    >>> seen.findings
    ()
    """

    __slots__ = ()
    trouble: str
    """pulled-out, touches-bone, door-opened, oven-off or unlike-any"""
    place: str
    at: Quantity
    until: Quantity | None
    evidence: str


class ReadingAhead(Record):
    """What a probe will show at one time ahead.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
    >>> seen = forecast(roast, probes=probes, members=200)
    >>> ahead = seen.places[0].ahead[0]
    >>> ahead.low <= ahead.likely <= ahead.high
    True
    """

    __slots__ = ()
    elapsed: Quantity
    low: Quantity
    likely: Quantity
    high: Quantity


class PlaceForecast(Record):
    """The forecast for one probe in the bird.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
    >>> seen = forecast(roast, probes=probes, members=200)
    >>> seen.places[0].place
    'breast'
    """

    __slots__ = ()
    _views = {"time_to_target": TimeEstimate, "ahead": ReadingAhead}

    place: str
    time_to_target: TimeEstimate | None
    last_counted: Record | None
    ahead: tuple[ReadingAhead, ...]


class BandCoverage(Record):
    """How often such bands held the true time in a study of synthetic roasts.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
    >>> seen = forecast(roast, probes=probes, members=200)
    >>> seen.coverage.roasts
    200
    """

    __slots__ = ()
    seen: Quantity
    covered: Quantity
    roasts: int


class TimeForecast(Answer, kind="forecast"):
    """Whether a roast is done, and when it will be, by its probes so far.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
    >>> seen = forecast(roast, probes=probes, members=200)
    >>> seen.verdict, seen.time_to_target is None
    ('fails', False)
    """

    __slots__ = ()
    _views = {
        "time_to_target": TimeEstimate,
        "places": PlaceForecast,
        "findings": ProbeFinding,
        "coverage": BandCoverage,
        "judged": RecordFinding,
    }

    verdict: Literal["meets", "fails", "cannot-tell"]
    """By what was measured, in every place that the standard names; the forecast has no part in it."""
    judged: tuple[RecordFinding, ...]
    lethality: tuple[Record, ...]
    """Explains and never decides."""
    time_to_target: TimeEstimate | None
    """From the start of the roast; None when it cannot be told."""
    places: tuple[PlaceForecast, ...]
    findings: tuple[ProbeFinding, ...]
    seen: Quantity
    effective_members: int
    cannot_tell: str | None
    """Why no time can be told; None when there is one."""
    tempered: bool
    misfit: Quantity
    """Above 3 K the roast is unlike all that were computed, and the forecast is worth little."""
    coverage: BandCoverage
    leaves_out: tuple[str, ...]
    sources: tuple[str, ...]

    def plot(self, ax: Any = None) -> Any:
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``.

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
        >>> roast = {
        ...     "mass": "12 lb",
        ...     "start": "40 degF",
        ...     "oven": [{"temperature": "325 degF"}],
        ...     "target": "165 degF",
        ... }
        >>> probes = {"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}
        >>> seen = forecast(roast, probes=probes, members=200)
        >>> len(seen.plot().lines) > 0
        True
        """
        from .plotting import draw_forecast

        return draw_forecast(self, ax)


class Probe:
    """The probes in one roast: push readings as they come, ask at any time.

    Parameters
    ----------
    roast : Mapping[str, object]
        The arguments of `simulate_roast`, for a thawed bird; its target is the temperature waited for.
    places : Iterable[str]
        ``"breast"``, ``"thigh"``, ``"wing"``, ``"stuffing"`` or ``"oven"``, each once.
    seed : int, optional
        Chooses the ensemble; the same seed gives the same answers.
    members : int, optional
        Size of the ensemble, 200 to 10 000.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    ModelRangeError
        The roast lies outside the range in which the model was checked.

    Examples
    --------
    >>> roast = {"mass": "12 lb", "start": "40 degF", "oven": [{"temperature": "325 degF"}], "target": "165 degF"}
    >>> probe = Probe(roast, places=["breast"], members=200)
    >>> probe.push("breast", "55 min", "63 degF")
    >>> probe.push("breast", "60 min", "66 degF")
    >>> probe.state().verdict
    'fails'
    """

    __slots__ = ("_handle",)

    def __init__(
        self,
        roast: Mapping[str, object],
        *,
        places: Iterable[str],
        seed: int | None = None,
        members: int | None = None,
    ) -> None:
        fields = {
            "kind": "forecast",
            "roast": roast,
            "probes": [{"place": place} for place in places],
            "seed": seed,
            "members": members,
        }
        given = {name: value for name, value in fields.items() if value is not None}
        self._handle = ProbeHandle(given, plain)

    def push(self, place: str, elapsed: QuantityLike, temperature: QuantityLike) -> None:
        """Add a reading; one that is refused changes nothing.

        Parameters
        ----------
        place : str
            One of the places of the probe.
        elapsed : QuantityLike
            Time since the roast began (s, min, h, d).
        temperature : QuantityLike
            The reading (degC, degF, K).

        Raises
        ------
        InputError
            The place or the reading is refused, or the reading is not later than the one before.

        Examples
        --------
        >>> roast = {
        ...     "mass": "12 lb",
        ...     "start": "40 degF",
        ...     "oven": [{"temperature": "325 degF"}],
        ...     "target": "165 degF",
        ... }
        >>> probe = Probe(roast, places=["breast"], members=200)
        >>> probe.push("breast", "60 min", "66 degF")
        """
        self._handle.push(place, {"elapsed": elapsed, "temperature": temperature}, plain)

    def state(self) -> TimeForecast:
        """Verdict, kill and forecast from the readings so far.

        Returns
        -------
        TimeForecast
            As `forecast` gives it.

        Raises
        ------
        InputError
            There is no reading yet to forecast from.

        Examples
        --------
        >>> roast = {
        ...     "mass": "12 lb",
        ...     "start": "40 degF",
        ...     "oven": [{"temperature": "325 degF"}],
        ...     "target": "165 degF",
        ... }
        >>> probe = Probe(roast, places=["breast"], members=200)
        >>> probe.push("breast", "60 min", "66 degF")
        >>> probe.state().verdict
        'cannot-tell'
        """
        return TimeForecast._adopt(self._handle.state())


def forecast(
    roast: Mapping[str, object],
    *,
    probes: _Probes,
    seed: int | None = None,
    members: int | None = None,
) -> TimeForecast:
    """Forecast when a roast will be done, and judge it, from what its probes have shown.

    Parameters
    ----------
    roast : Mapping[str, object]
        The arguments of `simulate_roast`, for a thawed bird; its target is the temperature waited for.
    probes : Mapping[str, Iterable[tuple[QuantityLike, QuantityLike]]]
        For each place (``"breast"``, ``"thigh"``, ``"wing"``, ``"stuffing"`` or ``"oven"``) its readings in order
        of time: pairs of elapsed time and temperature.
    seed : int, optional
        Chooses the ensemble; the same seed gives the same answers.
    members : int, optional
        Size of the ensemble, 200 to 10 000.

    Returns
    -------
    TimeForecast
        Whether a roast is done, and when it will be, by its probes so far.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.
    ModelRangeError
        The case lies outside the range in which the model was checked.

    References
    ----------
    * USDA Food Safety and Inspection Service; FoodSafety.gov, Safe Minimum Internal Temperature Chart,
      Poultry

    Examples
    --------
    >>> roast = {"mass": "12 lb", "start": "40 degF", "oven": [{"temperature": "325 degF"}], "target": "165 degF"}
    >>> seen = forecast(roast, probes={"breast": [("60 min", "66 degF"), ("70 min", "76 degF")]}, members=200)
    >>> seen.verdict
    'fails'
    """
    fields = {"roast": roast, "probes": _traces(probes), "seed": seed, "members": members}
    return TimeForecast._adopt(ask("forecast", fields))


def _traces(probes: _Probes) -> list[dict[str, object]]:
    return [
        {"place": place, "readings": [_reading(reading) for reading in readings]}
        for place, readings in probes.items()
    ]


def _reading(reading: object) -> object:
    if isinstance(reading, tuple) and len(reading) == 2:
        return {"elapsed": reading[0], "temperature": reading[1]}
    return reading
