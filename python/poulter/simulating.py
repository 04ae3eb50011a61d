"""The heat model: how long a thaw, a roast, a rest and cooling take, and when a roast on a probe is done.

A model explains; it never decides. Each answer names the standard's own time or limit among its cautions.
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
    "CarryOver",
    "CoolingSimulation",
    "Curve",
    "KillBasis",
    "Passing",
    "PlaceForecast",
    "Probe",
    "ProbeFinding",
    "Pull",
    "ReadingAhead",
    "RestSimulation",
    "RestedZone",
    "RoastSimulation",
    "RoastedZone",
    "ThawSimulation",
    "TimeForecast",
    "forecast",
    "pull_from_oven",
    "simulate_cooling",
    "simulate_rest",
    "simulate_roast",
    "simulate_thaw",
]


class Curve(Record):
    """The temperature of one zone over time, as two columns of equal length."""

    __slots__ = ()
    zone: str
    elapsed_s: tuple[float, ...]
    temp_degC: tuple[float, ...]

    def arrays(self) -> tuple[Any, Any]:
        """Return both columns as NumPy arrays, or as ``array.array`` where there is no NumPy."""
        try:
            from numpy import asarray
        except ImportError:
            from array import array

            return array("d", self.elapsed_s), array("d", self.temp_degC)
        return asarray(self.elapsed_s, dtype="float64"), asarray(self.temp_degC, dtype="float64")


class KillBasis(Record):
    """How the kill along a simulated curve was counted: by a named scheme, and never as a verdict."""

    __slots__ = ()
    scheme: Record
    target: float
    """In powers of ten."""
    source: Record
    note: str


class RoastedZone(Record):
    """One zone of a roast."""

    __slots__ = ()
    _views = {"curve": Curve}

    zone: str
    reached: Quantity | None
    """When the model has it at the target; None when it never gets there."""
    curve: Curve
    kill_log10: tuple[float, ...]
    """The kill up to each row of the curve, counted no further than the target of the scheme."""


class RoastSimulation(Answer, kind="simulate_roast"):
    """What the model says of a roast. A thermometer decides, never the time."""

    __slots__ = ()
    _views = {"time_to_target": TimeEstimate, "zones": RoastedZone, "kill": KillBasis}

    time_to_target: TimeEstimate | None
    """10 %, median and 90 % of the time until every zone is at the target; None when one never gets there."""
    slowest: str
    zones: tuple[RoastedZone, ...]
    evaporated: Quantity
    frozen_minimum_used: bool
    """True when the time is that of the rule for a bird from frozen, because the model gave less."""
    kill: KillBasis
    leaves_out: tuple[str, ...]
    sources: tuple[str, ...]

    def plot(self, ax: Any = None) -> Any:
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``."""
        from .plotting import draw_curves

        return draw_curves([zone.curve for zone in self.zones], ax)


class ThawSimulation(Answer, kind="simulate_thaw"):
    """What the model says of a thaw."""

    __slots__ = ()
    _views = {"thawed": TimeEstimate, "curves": Curve}

    thawed: TimeEstimate
    """10 %, median and 90 % of the time until no place is below 0 °C."""
    curves: tuple[Curve, ...]
    leaves_out: tuple[str, ...]
    sources: tuple[str, ...]

    def plot(self, ax: Any = None) -> Any:
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``."""
        from .plotting import draw_curves

        return draw_curves(self.curves, ax)


class CarryOver(Record):
    """A rise in temperature: 10 %, median and 90 %."""

    __slots__ = ()
    low: Quantity
    likely: Quantity
    high: Quantity


class RestedZone(Record):
    """One zone of a resting roast."""

    __slots__ = ()
    _views = {"rise": CarryOver, "curve": Curve}

    zone: str
    at_start: Quantity
    rise: CarryOver
    hottest_after: Quantity
    curve: Curve
    kill_log10: tuple[float, ...]
    """The kill up to each row of the curve; the first is that in the oven, the others never count."""


class RestSimulation(Answer, kind="simulate_rest"):
    """What the model says of a rest."""

    __slots__ = ()
    _views = {"zones": RestedZone, "kill": KillBasis}

    zones: tuple[RestedZone, ...]
    counts_toward_safety: bool
    """Always False: a minimum is met by a reading, never by an expected rise."""
    kill: KillBasis
    leaves_out: tuple[str, ...]
    sources: tuple[str, ...]

    def plot(self, ax: Any = None) -> Any:
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``."""
        from .plotting import draw_curves

        return draw_curves([zone.curve for zone in self.zones], ax)


class Pull(Answer, kind="pull_from_oven"):
    """At what reading a roast is taken out, and how far it rises from there."""

    __slots__ = ()
    _views = {"after": TimeEstimate, "rise": CarryOver}

    reading: Quantity
    """What every place must show; never below the minimum of the standard."""
    after: TimeEstimate | None
    """Time in the oven until then; None when the model never gets there."""
    slowest: str
    rise: CarryOver


class Passing(Record):
    """When the centre has cooled to a temperature."""

    __slots__ = ()
    _views = {"after": TimeEstimate}

    threshold: Quantity
    after: TimeEstimate | None
    """None when the stages end first."""


class CoolingSimulation(Answer, kind="simulate_cooling"):
    """What the model says of food that cools."""

    __slots__ = ()
    _views = {"passings": Passing, "curves": Curve}

    passings: tuple[Passing, ...]
    centre_at_end: Quantity
    evaporated: Quantity
    curves: tuple[Curve, ...]
    leaves_out: tuple[str, ...]
    sources: tuple[str, ...]

    def plot(self, ax: Any = None) -> Any:
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``."""
        from .plotting import draw_curves

        return draw_curves(self.curves, ax)


class ProbeFinding(Record):
    """A probe on bone or pulled out, a door that was opened, an oven that is off."""

    __slots__ = ()
    trouble: str
    """pulled-out, touches-bone, door-opened, oven-off or unlike-any"""
    place: str
    at: Quantity
    until: Quantity | None
    evidence: str


class ReadingAhead(Record):
    """What a probe will show at one time ahead."""

    __slots__ = ()
    elapsed: Quantity
    low: Quantity
    likely: Quantity
    high: Quantity


class PlaceForecast(Record):
    """The forecast for one probe in the bird."""

    __slots__ = ()
    _views = {"time_to_target": TimeEstimate, "ahead": ReadingAhead}

    place: str
    time_to_target: TimeEstimate | None
    last_counted: Record | None
    ahead: tuple[ReadingAhead, ...]


class BandCoverage(Record):
    """How often such bands held the true time in a study of synthetic roasts."""

    __slots__ = ()
    seen: Quantity
    covered: Quantity
    roasts: int


class TimeForecast(Answer, kind="forecast"):
    """Whether a roast is done, and when it will be, by its probes so far."""

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
        """Draw it on matplotlib axes, new ones unless given, and return them. Needs the extra ``plot``."""
        from .plotting import draw_forecast

        return draw_forecast(self, ax)


class Probe:
    """The probes in one roast: push readings as they come, ask at any time.

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
        """``roast`` holds the arguments of `simulate_roast`; ``places`` are breast, thigh, wing, stuffing or oven."""
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
        """Add a reading; one that is refused changes nothing."""
        self._handle.push(place, {"elapsed": elapsed, "temperature": temperature}, plain)

    def state(self) -> TimeForecast:
        """Verdict, kill and forecast from the readings so far."""
        return TimeForecast._adopt(self._handle.state())


def simulate_roast(
    mass: QuantityLike,
    *,
    start: QuantityLike,
    oven: Iterable[Mapping[str, object]],
    target: QuantityLike,
    oven_lag: Mapping[str, object] | None = None,
    door_openings: Iterable[Mapping[str, object]] = (),
    tent: Mapping[str, object] | None = None,
    cut: str | None = None,
    stuffed: bool | None = None,
    species: str | None = None,
    standard: str | None = None,
) -> RoastSimulation:
    """Simulate a roast in each of its zones.

    ``oven`` holds the settings in order; only the last may leave out its duration. ``oven_lag`` is
    ``{"time_constant": "6 min", "start": "70 degF"}``: how slowly the oven follows, and how hot it is at first, its first
    setting when left out. A door opening is ``{"at": "90 min", "duration": "2 min"}``; ``tent`` is foil over the bird,
    ``{"from": "0 min", "until": "2 h"}``, either of which may be left out.

    >>> oven = [{"temperature": "475 degF", "duration": "30 min"}, {"temperature": "325 degF"}]
    >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
    >>> [zone.zone for zone in roast.zones]
    ['breast', 'thigh']
    """
    fields = {
        "mass": mass,
        "start": start,
        "oven": list(oven),
        "target": target,
        "oven_lag": oven_lag,
        "door_openings": list(door_openings),
        "tent": tent,
        "cut": cut,
        "stuffed": stuffed,
        "species": species,
        "standard": standard,
    }
    return RoastSimulation._adopt(ask("simulate_roast", fields))


def simulate_thaw(
    mass: QuantityLike,
    *,
    start: QuantityLike,
    surroundings: Mapping[str, object],
    species: str | None = None,
    standard: str | None = None,
) -> ThawSimulation:
    """Simulate the thaw of a whole bird.

    ``surroundings`` is ``{"kind": "refrigerator", "temperature": "38 degF", "wrapped": True}`` or
    ``{"kind": "water", "temperature": "50 degF", "running": True}``.
    """
    fields = {
        "mass": mass,
        "start": start,
        "surroundings": surroundings,
        "species": species,
        "standard": standard,
    }
    return ThawSimulation._adopt(ask("simulate_thaw", fields))


def simulate_rest(
    roast: Mapping[str, object],
    *,
    room: QuantityLike,
    duration: QuantityLike,
) -> RestSimulation:
    """Simulate the rest of a roast that comes out when its slowest zone is at its target.

    ``roast`` holds the arguments of `simulate_roast`.
    """
    fields = {"roast": roast, "room": room, "duration": duration}
    return RestSimulation._adopt(ask("simulate_rest", fields))


def pull_from_oven(
    roast: Mapping[str, object],
    *,
    room: QuantityLike,
    duration: QuantityLike,
    house_rules: str | None = None,
) -> Pull:
    """Choose the reading at which a roast is taken out so that it rests to its target.

    ``roast`` holds the arguments of `simulate_roast`. The reading is the target less the likely rise, or
    the minimum of the standard, or of the house's own ``house_rules``, where that is higher.

    >>> roast = {"mass": "12 lb", "start": "40 degF", "oven": [{"temperature": "325 degF"}], "target": "160 degF"}
    >>> str(pull_from_oven(roast, room="72 degF", duration="30 min").reading)
    '165 °F'
    """
    fields = {"roast": roast, "room": room, "duration": duration, "house_rules": house_rules}
    return Pull._adopt(ask("pull_from_oven", fields))


def simulate_cooling(
    food: Mapping[str, object],
    *,
    start: QuantityLike,
    stages: Iterable[Mapping[str, object]],
    thresholds: Iterable[QuantityLike],
    standard: str | None = None,
) -> CoolingSimulation:
    """Simulate how food cools in one place after another.

    ``food`` is ``{"kind": "whole", "mass": "12 lb"}``, ``{"kind": "carved", "depth": "1 in", "cooled_from":
    "both-faces"}`` or ``{"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}``. A stage is
    ``{"surroundings": {"kind": "ice-bath"}, "duration": "30 min"}``.
    """
    fields = {
        "food": food,
        "start": start,
        "stages": list(stages),
        "thresholds": list(thresholds),
        "standard": standard,
    }
    return CoolingSimulation._adopt(ask("simulate_cooling", fields))


def forecast(
    roast: Mapping[str, object],
    *,
    probes: _Probes,
    seed: int | None = None,
    members: int | None = None,
) -> TimeForecast:
    """Forecast when a roast will be done, and judge it, from what its probes have shown.

    ``roast`` holds the arguments of `simulate_roast`. ``probes`` maps each place (breast, thigh, wing, stuffing or
    oven) to its readings: pairs of elapsed time and temperature, in order of time.

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
