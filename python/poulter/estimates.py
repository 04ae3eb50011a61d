"""Estimates along a log: kill by heat, and growth. They explain; they are not verdicts."""

from __future__ import annotations

from collections.abc import Mapping

from .answers import Answer, Record
from .door import Column, Temperatures, ask_log
from .quantities import QuantityLike

__all__ = ["Growth", "Lethality", "growth", "lethality"]


class Lethality(Answer, kind="lethality"):
    """The kill that a log stands for, or the faults that hide it.

    Examples
    --------
    >>> round(lethality([0, 60], [70, 70], unit="degC").log_reduction, 2)
    10.27
    """

    __slots__ = ()

    lethality: Record | None
    """The scheme, its target and source, and the figures of each place; None when the log is at fault."""
    faults: tuple[Record, ...]
    """Faults and cautions, each with its place and rows."""

    def __repr__(self) -> str:
        if self.lethality is None:
            return _at_fault(self)
        least = next(p for p in self.lethality.places if p.place == self.lethality.governing)
        return f"<{type(self).__name__} {least.place!r}: {least.shown}>"

    @property
    def log_reduction(self) -> float | None:
        """The kill of the place with the least of it, in powers of ten; None when the log is at fault.

        It is the integral of the log as it was recorded, without a cap at the target.

        Returns
        -------
        float or None
            Powers of ten.

        Examples
        --------
        >>> kill = lethality([0, 294], [150, 150], unit="degF", scheme="poultry-7log-turkey")
        >>> round(kill.log_reduction, 3)
        7.0
        """
        if self.lethality is None:
            return None
        return min(float(place.estimate) for place in self.lethality.places)


class Growth(Answer, kind="growth"):
    """The growth that a log stands for, or the faults that hide it.

    Examples
    --------
    >>> answer = growth([0, 300, 600], [40.0, 40.2, 40.1], unit="degC")
    >>> round(answer.log_growth, 2)
    0.36
    """

    __slots__ = ()

    growth: Record | None
    """The model, its source, and the figures of each place; None when the log is at fault."""
    faults: tuple[Record, ...]
    """Faults and cautions, each with its place and rows."""

    def __repr__(self) -> str:
        if self.log_growth is None:
            return _at_fault(self)
        return f"<{type(self).__name__} without lag: {self.log_growth:.2f} log10>"

    @property
    def log_growth(self) -> float | None:
        """The growth without lag of the place with the most of it, in powers of ten; None when at fault.

        Returns
        -------
        float or None
            Powers of ten.

        Examples
        --------
        >>> answer = growth([0, 300, 600], [40.0, 40.2, 40.1], unit="degC")
        >>> round(answer.log_growth, 2)
        0.36
        """
        if self.growth is None:
            return None
        return max(float(place.without_lag) for place in self.growth.places)


def _at_fault(estimate: Lethality | Growth) -> str:
    return f"<{type(estimate).__name__} at fault: {', '.join(f.fault for f in estimate.faults)}>"


def lethality(
    elapsed_s: Column,
    temp: Temperatures,
    unit: str = "degC",
    scheme: str | Mapping[str, object] = "poultry-7log",
    *,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
) -> Lethality:
    """Add up the kill along a log.

    The sum is exact for straight lines between the readings.

    Parameters
    ----------
    elapsed_s : Column
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures
        Temperatures in `unit`, each of shape (n,): one column, or a mapping from places to columns. None and NaN
        are missing readings.
    unit : {"degC", "degF", "K"}, default "degC"
        The unit of `temp`.
    scheme : str | Mapping[str, object], default "poultry-7log"
        ``"poultry-7log"``, ``"poultry-7log-chicken"``, ``"poultry-7log-turkey"``, ``"meat-6.5log"``,
        ``"uk-70-2"``, or a mapping with ``"scheme": "own"``, ``reference``, ``d_value``, ``z_value``, ``target``
        such as ``{"value": 7, "unit": "log10"}`` and, if wanted, ``lowest`` and ``highest``.
    accuracy : QuantityLike, optional
        How far the probes may read too high; from 0 to 10 kelvin (delta_degC, delta_degF, K).
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault: ``longest_gap``, ``flat_line``, ``steepest_per_second`` and
        ``coarse_step``.

    Returns
    -------
    Lethality
        The kill that a log stands for, or the faults that hide it.

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
    * FSIS Cooking Guideline for Meat and Poultry Products (Revised Appendix A), December 2021

    Examples
    --------
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
    """Add up growth along a log.

    Every model is experimental and passes no food.

    Parameters
    ----------
    elapsed_s : Column
        Seconds since the log began, of shape (n,): a list or a buffer of float64, none missing.
    temp : Temperatures
        Temperatures in `unit`, each of shape (n,): one column, or a mapping from places to columns. None and NaN
        are missing readings.
    unit : {"degC", "degF", "K"}, default "degC"
        The unit of `temp`.
    model : str | Mapping[str, object], default "perfringens-roasted-chicken"
        The name of an organism in a food, or a mapping with the parameters of a ``"cardinal"`` or
        ``"square-root"`` model.
    lag : Mapping[str, object], optional
        ``h0`` (no unit), ``start_log10`` and ``ceiling_log10``, for a figure with lag and ceiling beside the one
        without.
    checks : Mapping[str, object], optional
        Limits beyond which the log is at fault: ``longest_gap``, ``flat_line``, ``steepest_per_second`` and
        ``coarse_step``.

    Returns
    -------
    Growth
        The growth that a log stands for, or the faults that hide it.

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
    * Food Control, one-step dynamic analysis of Clostridium perfringens in roasted chicken and braised beef
      (from memory)

    Examples
    --------
    >>> answer = growth([0, 300, 600], [40.0, 40.2, 40.1], unit="degC")
    >>> round(answer.log_growth, 2)
    0.36
    """
    fields = {
        "model": {"model": model} if isinstance(model, str) else model,
        "lag": lag,
        "checks": checks,
    }
    return Growth._adopt(ask_log("growth", fields, elapsed_s, temp, unit))
