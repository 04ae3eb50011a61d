"""The picture of a plan: its steps along the clock, with matplotlib (the extra ``plot``)."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .planning import Plan
    from .steps import Step

__all__ = ["draw"]


def draw(plan: Plan, ax: Any = None) -> Any:
    """Draw a bar a step from its planned start for its likely time, a line for the start's window; give the axes.

    Days before the serving may be cut off with ``ax.set_xlim``.
    """
    try:
        from matplotlib import dates as untyped
        from matplotlib import pyplot
    except ImportError as error:
        message = "plot() needs matplotlib: pip install 'poulter[plot]'"
        raise ImportError(message, name="matplotlib") from error
    # Its stubs leave these two without types.
    dates: Any = untyped
    if ax is None:
        _, ax = pyplot.subplots(figsize=(9, 0.6 + 0.35 * max(len(plan.steps), 1)), layout="constrained")
    for row, step in enumerate(plan.steps):
        start = _moment(step.window.planned)
        window = [_moment(step.window.earliest), _moment(step.window.latest)]
        # Grey and outlines only: the picture holds in print and for every eye.
        ax.barh(row, step.duration.likely.to_timedelta(), left=start, height=0.6, color="0.8", edgecolor="0.2")
        ax.plot(window, [row, row], color="0.2", marker="|", linewidth=1)
    ax.set_yticks(range(len(plan.steps)), [_label(step) for step in plan.steps])
    ax.invert_yaxis()
    ax.set_title(plan.title)
    if plan.steps:
        zone = _moment(plan.serve_at).tzinfo
        locator = dates.AutoDateLocator(tz=zone)
        ax.xaxis.set_major_locator(locator)
        ax.xaxis.set_major_formatter(dates.ConciseDateFormatter(locator, tz=zone))
        ax.axvline(_moment(plan.serve_at), color="0.2", linestyle=":")
    return ax


def _label(step: Step) -> str:
    return f"{step.title}, {_moment(step.window.planned):%a %H:%M}"


def _moment(text: str) -> Any:
    from datetime import datetime

    return datetime.fromisoformat(text.partition("[")[0])
