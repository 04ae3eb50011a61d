"""The heat model in the oven and after it: how long a roast takes, and what a rest does.

A model explains; it never decides. Each answer names the standard's own time or limit among its cautions.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ._core import Quantity
from .answers import Answer, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = [
    "CarryOver",
    "Curve",
    "KillBasis",
    "Pull",
    "RestSimulation",
    "RestedZone",
    "RoastSimulation",
    "RoastedZone",
    "pull_from_oven",
    "simulate_rest",
    "simulate_roast",
]


class Curve(Record):
    """The temperature of one zone over time, as two columns of equal length.

    Examples
    --------
    >>> oven = [{"temperature": "325 degF"}]
    >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
    >>> seconds, degrees = roast.zones[0].curve.arrays()
    >>> len(seconds) == len(degrees)
    True
    """

    __slots__ = ()
    zone: str
    elapsed_s: tuple[float, ...]
    temp_degC: tuple[float, ...]

    def arrays(self) -> tuple[Any, Any]:
        """Return both columns as NumPy arrays, or as ``array.array`` where there is no NumPy.

        Returns
        -------
        tuple
            Seconds since the start and degrees Celsius, both float64 of shape (n,).

        Examples
        --------
        >>> oven = [{"temperature": "325 degF"}]
        >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
        >>> seconds, degrees = roast.zones[0].curve.arrays()
        >>> len(seconds) == len(degrees)
        True
        """
        try:
            from numpy import asarray
        except ImportError:
            from array import array

            return array("d", self.elapsed_s), array("d", self.temp_degC)
        return asarray(self.elapsed_s, dtype="float64"), asarray(self.temp_degC, dtype="float64")


class KillBasis(Record):
    """How the kill along a simulated curve was counted: by a named scheme, and never as a verdict.

    Examples
    --------
    >>> oven = [{"temperature": "325 degF"}]
    >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
    >>> roast.kill.target
    7.0
    """

    __slots__ = ()
    scheme: Record
    target: float
    """In powers of ten."""
    source: Record
    note: str


class RoastedZone(Record):
    """One zone of a roast.

    Examples
    --------
    >>> oven = [{"temperature": "325 degF"}]
    >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
    >>> [zone.zone for zone in roast.zones]
    ['breast', 'thigh']
    """

    __slots__ = ()
    _views = {"curve": Curve}

    zone: str
    reached: Quantity | None
    """When the model has it at the target; None when it never gets there."""
    curve: Curve
    kill_log10: tuple[float, ...]
    """The kill up to each row of the curve, counted no further than the target of the scheme."""
    kill_reached: Quantity | None
    """When that kill comes to the target; None when it does not."""


class RoastSimulation(Answer, kind="simulate_roast"):
    """What the model says of a roast. A thermometer decides, never the time.

    Examples
    --------
    >>> oven = [{"temperature": "325 degF"}]
    >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
    >>> roast.slowest
    'breast'
    """

    __slots__ = ()
    _views = {"time_to_target": TimeEstimate, "zones": RoastedZone, "kill": KillBasis}

    time_to_target: TimeEstimate | None
    """10 %, median and 90 % of the time until every zone is at the target; None when one never gets there."""
    slowest: str
    zones: tuple[RoastedZone, ...]
    kill: KillBasis
    evaporated: Quantity
    frozen_minimum_used: bool
    """True when the time is that of the rule for a bird from frozen, because the model gave less."""
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
        >>> oven = [{"temperature": "325 degF"}]
        >>> roast = simulate_roast("13 lb", start="40 degF", oven=oven, target="165 degF")
        >>> len(roast.plot().lines)
        2
        """
        from .plotting import draw_curves

        return draw_curves([zone.curve for zone in self.zones], ax)


class CarryOver(Record):
    """A rise in temperature: 10 %, median and 90 %.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> rest = simulate_rest(roast, room="70 degF", duration="30 min")
    >>> rise = rest.zones[0].rise
    >>> rise.low <= rise.likely <= rise.high
    True
    """

    __slots__ = ()
    low: Quantity
    likely: Quantity
    high: Quantity


class RestedZone(Record):
    """One zone of a resting roast.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> rest = simulate_rest(roast, room="70 degF", duration="30 min")
    >>> [zone.zone for zone in rest.zones]
    ['breast', 'thigh']
    """

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
    """What the model says of a rest.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> rest = simulate_rest(roast, room="70 degF", duration="30 min")
    >>> rest.counts_toward_safety
    False
    """

    __slots__ = ()
    _views = {"zones": RestedZone, "kill": KillBasis}

    zones: tuple[RestedZone, ...]
    kill: KillBasis
    counts_toward_safety: bool
    """Always False: a minimum is met by a reading, never by an expected rise."""
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
        >>> rest = simulate_rest(roast, room="70 degF", duration="30 min")
        >>> len(rest.plot().lines) == len(rest.zones)
        True
        """
        from .plotting import draw_curves

        return draw_curves([zone.curve for zone in self.zones], ax)


class Pull(Answer, kind="pull_from_oven"):
    """At what reading a roast is taken out, and how far it rises from there.

    Examples
    --------
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "160 degF",
    ... }
    >>> str(pull_from_oven(roast, room="72 degF", duration="30 min").reading)
    '165 °F'
    """

    __slots__ = ()
    _views = {"after": TimeEstimate, "rise": CarryOver}

    reading: Quantity
    """What every place must show; never below the minimum of the standard."""
    after: TimeEstimate | None
    """Time in the oven until then; None when the model never gets there."""
    slowest: str
    rise: CarryOver


def simulate_roast(
    mass: QuantityLike,
    *,
    start: QuantityLike,
    oven: Iterable[Mapping[str, object]],
    target: QuantityLike,
    cut: str | None = None,
    stuffed: bool | None = None,
    oven_lag: Mapping[str, object] | None = None,
    door_openings: Iterable[Mapping[str, object]] = (),
    tent: Mapping[str, object] | None = None,
    species: str | None = None,
    standard: str | None = None,
) -> RoastSimulation:
    """Simulate a roast in each of its zones.

    Parameters
    ----------
    mass : QuantityLike
        Mass ready to cook, without stuffing: 1.5 kg to 24 lb whole, 4 lb to 8 lb for a breast (kg, g, mg, lb,
        oz).
    start : QuantityLike
        Temperature throughout at the start, −25 °C to 25 °C. Below the freezing point the roast is one from
        frozen (degC, degF, K).
    oven : Iterable[Mapping[str, object]]
        One to eight settings of the oven in order, each with ``temperature`` and ``duration``; only the last may
        leave out its duration.
    target : QuantityLike
        Temperature to be reached in every place, up to 185 °F (degC, degF, K).
    cut : {"whole", "bone-in-breast"}, optional
        The cut; whole when left out.
    stuffed : bool, optional
        Whether a whole bird is stuffed.
    oven_lag : Mapping[str, object], optional
        ``{"time_constant": "6 min", "start": "70 degF"}``: how slowly the oven follows, and how hot it is at
        first, its first setting when left out.
    door_openings : Iterable[Mapping[str, object]], default ()
        Each ``{"at": "90 min", "duration": "2 min"}``.
    tent : Mapping[str, object], optional
        Foil over the bird, ``{"from": "0 min", "until": "2 h"}``; either may be left out.
    species : str, optional
        Turkey or chicken; turkey when left out.
    standard : str, optional
        The standard whose rule stands beside the model; ``"us-consumer"`` when left out.

    Returns
    -------
    RoastSimulation
        What the model says of a roast. A thermometer decides, never the time.

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
    * Choi and Okos 1986: thermal properties of the components of food
    * USDA timetables for turkey at 325 °F: the lengths of the zones were fitted to them
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Cooking (after 2006), Approximate cooking
      times
    * USDA Food Safety and Inspection Service; FoodSafety.gov, Safe Minimum Internal Temperature Chart,
      Poultry

    Examples
    --------
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
        "cut": cut,
        "stuffed": stuffed,
        "oven_lag": oven_lag,
        "door_openings": list(door_openings),
        "tent": tent,
        "species": species,
        "standard": standard,
    }
    return RoastSimulation._adopt(ask("simulate_roast", fields))


def simulate_rest(
    roast: Mapping[str, object],
    *,
    room: QuantityLike,
    duration: QuantityLike,
) -> RestSimulation:
    """Simulate the rest of a roast that comes out when its slowest zone is at its target.

    Parameters
    ----------
    roast : Mapping[str, object]
        The arguments of `simulate_roast`; its target is the temperature at which the roast comes out.
    room : QuantityLike
        Temperature of the room, 10 °C to 35 °C (degC, degF, K).
    duration : QuantityLike
        Length of the rest, 1 minute to 2 hours (s, min, h, d).

    Returns
    -------
    RestSimulation
        What the model says of a rest.

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
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "165 degF",
    ... }
    >>> rest = simulate_rest(roast, room="70 degF", duration="30 min")
    >>> rest.counts_toward_safety
    False
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

    The reading is the target less the likely rise, or the minimum of the standard or of the house where that is
    higher.

    Parameters
    ----------
    roast : Mapping[str, object]
        The arguments of `simulate_roast`.
    room : QuantityLike
        Temperature of the room, 10 °C to 35 °C (degC, degF, K).
    duration : QuantityLike
        Length of the rest, 1 minute to 2 hours (s, min, h, d).
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    Pull
        At what reading a roast is taken out, and how far it rises from there.

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
    >>> roast = {
    ...     "mass": "12 lb",
    ...     "start": "40 degF",
    ...     "oven": [{"temperature": "325 degF"}],
    ...     "target": "160 degF",
    ... }
    >>> str(pull_from_oven(roast, room="72 degF", duration="30 min").reading)
    '165 °F'
    """
    fields = {"roast": roast, "room": room, "duration": duration, "house_rules": house_rules}
    return Pull._adopt(ask("pull_from_oven", fields))
