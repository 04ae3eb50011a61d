"""The heat model in the cold: how long a thaw and cooling take.

A model explains; it never decides. Each answer names the standard's own time or limit among its cautions.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ._core import Quantity
from .answers import Answer, Record, TimeEstimate
from .door import ask
from .quantities import QuantityLike
from .simulating import Curve

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = [
    "CoolingGrowth",
    "CoolingSimulation",
    "Passing",
    "ThawSimulation",
    "ZoneGrowth",
    "simulate_cooling",
    "simulate_thaw",
]


class ThawSimulation(Answer, kind="simulate_thaw"):
    """What the model says of a thaw.

    Examples
    --------
    >>> water = {"kind": "water", "temperature": "50 degF", "running": True}
    >>> thaw = simulate_thaw("12 lb", start="0 degF", surroundings=water)
    >>> print(thaw.thawed)
    5 h 7 min to 9 h 55 min
    """

    __slots__ = ()
    _views = {"thawed": TimeEstimate, "curves": Curve}

    thawed: TimeEstimate
    """10 %, median and 90 % of the time until no place is below 0 °C."""
    curves: tuple[Curve, ...]
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
        >>> water = {"kind": "water", "temperature": "50 degF", "running": True}
        >>> thaw = simulate_thaw("12 lb", start="0 degF", surroundings=water)
        >>> len(thaw.plot().lines) == len(thaw.curves)
        True
        """
        from .plotting import draw_curves

        return draw_curves(self.curves, ax)


class Passing(Record):
    """When the centre has cooled to a temperature.

    Examples
    --------
    >>> food = {"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}
    >>> stages = [{"surroundings": {"kind": "ice-bath"}, "duration": "2 h"}]
    >>> cooling = simulate_cooling(food, start="180 degF", stages=stages, thresholds=["70 degF"])
    >>> cooling.passings[0].threshold
    Quantity(70, 'degF')
    """

    __slots__ = ()
    _views = {"after": TimeEstimate}

    threshold: Quantity
    after: TimeEstimate | None
    """None when the stages end first."""


class ZoneGrowth(Record):
    """Growth along the curve of one place.

    Examples
    --------
    >>> food = {"kind": "carved", "depth": "2 in", "cooled_from": "both-faces"}
    >>> stages = [{"surroundings": {"kind": "refrigerator", "temperature": "38 degF"}, "duration": "24 h"}]
    >>> cooling = simulate_cooling(food, start="140 degF", stages=stages, thresholds=["70 degF"])
    >>> [zone.zone for zone in cooling.growth.zones]
    ['centre', 'surface']
    """

    __slots__ = ()
    zone: str
    growth_log10: tuple[float, ...]
    """In powers of ten up to each row of the curve."""


class CoolingGrowth(Record):
    """How much Clostridium perfringens could grow in meat while it cools: experimental, and never a verdict.

    Examples
    --------
    >>> food = {"kind": "carved", "depth": "2 in", "cooled_from": "both-faces"}
    >>> stages = [{"surroundings": {"kind": "refrigerator", "temperature": "38 degF"}, "duration": "24 h"}]
    >>> cooling = simulate_cooling(food, start="140 degF", stages=stages, thresholds=["70 degF"])
    >>> cooling.growth.without_lag < cooling.growth.without_lag_slow
    True
    """

    __slots__ = ()
    _views = {"zones": ZoneGrowth}

    model: Record
    is_experimental: bool
    citation: Record
    without_lag: float
    """In powers of ten where it is most, at the model's own times."""
    without_lag_slow: float
    """The same with every time as long as the slow end of the band."""
    most_at: Quantity
    """Where it is most: 0 % at the centre, 100 % at the surface."""
    zones: tuple[ZoneGrowth, ...]
    note: str


class CoolingSimulation(Answer, kind="simulate_cooling"):
    """What the model says of food that cools.

    Examples
    --------
    >>> food = {"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}
    >>> stages = [{"surroundings": {"kind": "ice-bath"}, "duration": "2 h"}]
    >>> cooling = simulate_cooling(food, start="180 degF", stages=stages, thresholds=["70 degF"])
    >>> print(cooling.passings[0].after)
    26 min to 1 h 1 min
    """

    __slots__ = ()
    _views = {"passings": Passing, "curves": Curve, "growth": CoolingGrowth}

    passings: tuple[Passing, ...]
    centre_at_end: Quantity
    evaporated: Quantity
    curves: tuple[Curve, ...]
    growth: CoolingGrowth | None
    """None for stock and gravy, which the published parameters do not cover."""
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
        >>> food = {"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}
        >>> stages = [{"surroundings": {"kind": "ice-bath"}, "duration": "2 h"}]
        >>> cooling = simulate_cooling(food, start="180 degF", stages=stages, thresholds=["70 degF"])
        >>> len(cooling.plot().lines) == len(cooling.curves)
        True
        """
        from .plotting import draw_curves

        return draw_curves(self.curves, ax)


def simulate_thaw(
    mass: QuantityLike,
    *,
    start: QuantityLike,
    surroundings: Mapping[str, object],
    species: str | None = None,
    standard: str | None = None,
) -> ThawSimulation:
    """Simulate the thaw of a whole bird.

    Parameters
    ----------
    mass : QuantityLike
        Mass, 1.5 kg to 24 lb (kg, g, mg, lb, oz).
    start : QuantityLike
        Temperature throughout at the start, −30 °C to −3 °C (degC, degF, K).
    surroundings : Mapping[str, object]
        ``{"kind": "refrigerator", "temperature": "38 degF", "wrapped": True}`` or ``{"kind": "water",
        "temperature": "50 degF", "running": True}``, 1 °C to 21 °C.
    species : str, optional
        Turkey or chicken; turkey when left out.
    standard : str, optional
        The standard whose rule stands beside the model; ``"us-consumer"`` when left out.

    Returns
    -------
    ThawSimulation
        What the model says of a thaw.

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
    * Chen 1985: ice below the freezing point (from memory)
    * USDA Food Safety and Inspection Service, Turkey Basics: Safe Thawing, In cold water

    Examples
    --------
    >>> water = {"kind": "water", "temperature": "50 degF", "running": True}
    >>> thaw = simulate_thaw("12 lb", start="0 degF", surroundings=water)
    >>> print(thaw.thawed)
    5 h 7 min to 9 h 55 min
    """
    fields = {
        "mass": mass,
        "start": start,
        "surroundings": surroundings,
        "species": species,
        "standard": standard,
    }
    return ThawSimulation._adopt(ask("simulate_thaw", fields))


def simulate_cooling(
    food: Mapping[str, object],
    *,
    start: QuantityLike,
    stages: Iterable[Mapping[str, object]],
    thresholds: Iterable[QuantityLike],
    standard: str | None = None,
) -> CoolingSimulation:
    """Simulate how food cools in one place after another.

    Parameters
    ----------
    food : Mapping[str, object]
        ``{"kind": "whole", "mass": "12 lb"}``, ``{"kind": "carved", "depth": "1 in", "cooled_from":
        "both-faces"}`` or ``{"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}``.
    start : QuantityLike
        Temperature throughout at the start, 30 °C to 100 °C (degC, degF, K).
    stages : Iterable[Mapping[str, object]]
        One to eight stages, five days in all at most, such as ``{"surroundings": {"kind": "ice-bath"},
        "duration": "30 min"}``.
    thresholds : Iterable[QuantityLike]
        One to eight temperatures whose passing is asked for, such as 135 °F, 70 °F and 41 °F.
    standard : str, optional
        The standard whose rule stands beside the model; ``"us-consumer"`` when left out.

    Returns
    -------
    CoolingSimulation
        What the model says of food that cools.

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
    * USDA Food Safety and Inspection Service, Leftovers and Food Safety

    Examples
    --------
    >>> food = {"kind": "liquid", "depth": "2 in", "cooled_from": "one-face", "stirred": True}
    >>> stages = [{"surroundings": {"kind": "ice-bath"}, "duration": "2 h"}]
    >>> cooling = simulate_cooling(food, start="180 degF", stages=stages, thresholds=["70 degF"])
    >>> print(cooling.passings[0].after)
    26 min to 1 h 1 min
    """
    fields = {
        "food": food,
        "start": start,
        "stages": list(stages),
        "thresholds": list(thresholds),
        "standard": standard,
    }
    return CoolingSimulation._adopt(ask("simulate_cooling", fields))
