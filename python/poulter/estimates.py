"""Estimates along a log: kill by heat, and growth. They explain; they are not verdicts."""

from __future__ import annotations

from collections.abc import Mapping

from .answers import Answer, Record
from .door import Column, Temperatures, ask_log
from .quantities import QuantityLike

__all__ = ["Growth", "Lethality", "growth", "lethality"]


class Lethality(Answer, kind="lethality"):
    """The kill that a log stands for, or the faults that hide it."""

    __slots__ = ()

    lethality: Record | None
    """The scheme, its target and source, and the figures of each place; None when the log is at fault."""
    faults: tuple[Record, ...]
    """Faults and cautions, each with its place and rows."""

    @property
    def log_reduction(self) -> float | None:
        """The kill of the place with the least of it, in powers of ten; None when the log is at fault.

        It is the integral of the log as it was recorded, without a cap at the target.
        """
        if self.lethality is None:
            return None
        return min(float(place.estimate) for place in self.lethality.places)


class Growth(Answer, kind="growth"):
    """The growth that a log stands for, or the faults that hide it."""

    __slots__ = ()

    growth: Record | None
    """The model, its source, and the figures of each place; None when the log is at fault."""
    faults: tuple[Record, ...]
    """Faults and cautions, each with its place and rows."""

    @property
    def log_growth(self) -> float | None:
        """The growth without lag of the place with the most of it, in powers of ten; None when at fault."""
        if self.growth is None:
            return None
        return max(float(place.without_lag) for place in self.growth.places)


def lethality(
    elapsed_s: Column,
    temp: Temperatures,
    unit: str = "degC",
    scheme: str | Mapping[str, object] = "poultry-7log",
    *,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
) -> Lethality:
    """Add up the kill along a log, exactly for straight lines between the readings.

    ``elapsed_s`` are seconds since the log began. ``temp`` is a column of temperatures in ``unit``, or a mapping
    from places to columns; a column is a list, an ``array.array("d")`` or any one-dimensional buffer of float64.
    ``scheme`` is ``"poultry-7log"``, ``"poultry-7log-chicken"``, ``"poultry-7log-turkey"``, ``"meat-6.5log"``,
    ``"uk-70-2"``, or a mapping ``{"scheme": "own", ...}`` with a D-value and a z-value.

    >>> kill = lethality([0, 294], [150, 150], unit="degF", scheme="poultry-7log-turkey")
    >>> round(kill.log_reduction, 3)
    7.0
    """
    fields = {
        "scheme": {"scheme": scheme} if isinstance(scheme, str) else scheme,
        "accuracy": accuracy,
        "checks": checks,
    }
    return Lethality._adopt(ask_log("lethality", fields, elapsed_s, temp, unit))


def growth(
    elapsed_s: Column,
    temp: Temperatures,
    unit: str = "degC",
    model: str | Mapping[str, object] = "perfringens-roasted-chicken",
    *,
    lag: Mapping[str, object] | None = None,
    checks: Mapping[str, object] | None = None,
) -> Growth:
    """Add up growth along a log; every model is experimental and passes no food.

    The columns are as in :func:`lethality`. ``model`` is the name of an organism in a food, or a mapping with the
    parameters of a ``"cardinal"`` or ``"square-root"`` model. ``lag`` adds a figure with lag and ceiling.
    """
    fields = {
        "model": {"model": model} if isinstance(model, str) else model,
        "lag": lag,
        "checks": checks,
    }
    return Growth._adopt(ask_log("growth", fields, elapsed_s, temp, unit))
