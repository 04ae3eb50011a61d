"""Pictures of curves, forecasts and logs, with matplotlib (the extra ``plot``).

Each place has its own line style and its name at the end of its line, so that colour is never the only sign.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import cycle

from .door import Column, Temperatures

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .forecasting import TimeForecast
    from .simulating import Curve

__all__ = ["plot_log"]

STYLES = ("-", "--", "-.", ":")
MARKERS = ("o", "s", "^", "D", "v", "x")


def axes(ax: Any, unit: str) -> Any:
    """The axes to draw on, new ones unless given."""
    try:
        from matplotlib import pyplot
    except ImportError as error:
        message = "plot() needs matplotlib: pip install 'poulter[plot]'"
        raise ImportError(message, name="matplotlib") from error
    if ax is None:
        _, ax = pyplot.subplots()
    ax.set_xlabel("time [h]")
    ax.set_ylabel(f"temperature [{'°' + unit.removeprefix('deg')}]")
    return ax


def draw_curves(curves: Iterable[Curve], ax: Any) -> Any:
    """Temperatures of the model over time, one line a place."""
    ax = axes(ax, "degC")
    for curve, style, marker in zip(curves, cycle(STYLES), cycle(MARKERS)):
        _line(ax, curve.zone, curve.elapsed_s, curve.temp_degC, style, marker)
    ax.set_title("Model, no verdict")
    ax.legend()
    return ax


def draw_forecast(forecast: TimeForecast, ax: Any) -> Any:
    """What each probe will show, with its 10 % to 90 % band, and when the roast will be at the target."""
    ax = axes(ax, "degC")
    for place, style, marker in zip(forecast.places, cycle(STYLES), cycle(MARKERS)):
        rows = [row.elapsed.to("h").value for row in place.ahead]
        ends = [[getattr(row, end).to("degC").value for row in place.ahead] for end in ("low", "likely", "high")]
        if rows:
            _line(ax, f"{place.place}, likely", [3600 * row for row in rows], ends[1], style, marker)
            ax.fill_between(rows, ends[0], ends[2], alpha=0.2, hatch="//", label=f"{place.place}, 10 % to 90 %")
        if place.last_counted is not None:
            last = place.last_counted
            ax.plot(
                [last["elapsed"].to("h").value],
                [last["temperature"].to("degC").value],
                marker=marker,
                linestyle="",
                label=f"{place.place}, last reading",
            )
    time = forecast.time_to_target
    if time is not None:
        ax.axvline(time.likely.to("h").value, linestyle="-", color="black", label="at the target, likely")
        for end in (time.low, time.high):
            ax.axvline(end.to("h").value, linestyle=":", color="black")
    ax.set_title(f"Forecast; by what was measured: {forecast.verdict}")
    ax.legend()
    return ax


def plot_log(elapsed_s: Column, temp: Temperatures, *, unit: str, ax: Any = None) -> Any:
    """Draw a log, one line a place; a missing reading is a gap.

    Parameters
    ----------
    elapsed_s : Column
        Seconds since the log began, of shape (n,).
    temp : Temperatures
        Temperatures in `unit`, of shape (n,), of one place or by place; None and NaN are missing readings.
    unit : {"degC", "degF", "K"}
        The unit of `temp`.
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
    >>> axes = plot_log([0, 60], [40, 41], unit="degF")
    >>> len(axes.lines)
    1
    """
    ax = axes(ax, unit)
    places = temp if isinstance(temp, Mapping) else {"core": temp}
    for (place, column), style, marker in zip(places.items(), cycle(STYLES), cycle(MARKERS)):
        _line(ax, place, elapsed_s, column, style, marker)
    ax.legend()
    return ax


def _line(ax: Any, name: str, elapsed_s: Any, temp: Any, style: str, marker: str) -> None:
    hours = [float(second) / 3600 for second in elapsed_s]
    values: Sequence[float] = [float("nan") if value is None else float(value) for value in temp]
    every = max(1, len(hours) // 12)
    ax.plot(hours, values, linestyle=style, marker=marker, markevery=every, label=name)
