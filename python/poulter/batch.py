"""Many logs at once: a table in, a table of the same library out."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from datetime import date, timedelta

from . import _core
from .quantities import QuantityLike, plain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, TypeVar

    _Table = TypeVar("_Table")

__all__ = ["check_logs"]


def check_logs(
    table: _Table,
    *,
    check: str = "cooking",
    standard: str | None = None,
    unit: str | None = None,
    log: str = "log_id",
    place: str = "place",
    species: str | None = None,
    cut: str | None = None,
    stuffed: bool | None = None,
    holding: str | None = None,
    surroundings: QuantityLike | None = None,
    period: QuantityLike | None = None,
    method: str | None = None,
    accuracy: QuantityLike | None = None,
    checks: Mapping[str, object] | None = None,
    process: str | None = None,
    on: date | str | None = None,
    scheme: str | Mapping[str, object] | None = None,
    model: str | Mapping[str, object] | None = None,
    house_rules: str | None = None,
) -> _Table:
    """Judge every log of a table by the rules of a standard, on all cores.

    Each log is judged as :func:`poulter.check_cooking_log` and its sisters judge one; ``check`` is ``"cooking"``,
    ``"cooling"``, ``"holding"``, ``"reheating"`` or ``"thawing"``, and the other keywords are theirs.

    Parameters
    ----------
    table
        A DataFrame of pandas or Polars, a table of pyarrow, any other producer of Arrow streams or arrays, or a
        mapping from names to NumPy arrays or lists. Columns of float64 in one piece are used where they lie.
    unit
        The unit of temperatures whose column names none: ``"degC"``, ``"degF"`` or ``"K"``. The name of a column
        (``temp_degF``) or ``unit`` in its Arrow metadata says it as well; without any of the three the table is
        refused.
    log, place
        The columns that name the log and the place of a row.
    check
        ``"cooking"``, ``"cooling"``, ``"holding"``, ``"reheating"`` or ``"thawing"``.
    species, cut, stuffed, standard, process, on, house_rules, accuracy, checks
        As in all checks of a log.
    scheme, model, holding, surroundings, period, method
        As in the check that has them; ``scheme`` and ``model`` are those of `lethality` and `growth`.

    The columns of time are ``elapsed_s``, ``elapsed_min`` or ``elapsed_h``. Readings come in three layouts: one
    reading a row (``temp_degC`` with a column ``place``, or without it for one place), one column a place
    (``breast_temp_degC``), or one row a log whose cells are lists. Other columns are passed over.

    Returns
    -------
    A table of the kind that was given, one row a log in the order of their first rows: the log, ``verdict``,
    ``reason``, ``rule`` and ``place`` that decided, ``margin_K`` or ``margin_s``, ``reached_s`` (when every place
    had what the rule asks for), ``fault`` and ``fault_row``, and beside the verdict ``reduction_log10`` with
    ``target_reached_s`` and ``growth_log10`` without lag. Treat ``"cannot-tell"`` as ``"fails"``.

    Raises
    ------
    poulter.UnitError
        A unit is missing or not known.
    poulter.InputError
        A column is missing or does not fit.

    Examples
    --------
    >>> logs = {"log_id": ["a", "a", "b", "b"], "elapsed_s": [0, 60, 0, 60], "temp_degF": [160, 165, 160, 164.9]}
    >>> list(check_logs(logs, cut="boneless-breast")["verdict"])
    ['meets', 'fails']
    """
    fields = {
        "check": check,
        "standard": standard,
        "species": species,
        "cut": cut,
        "stuffed": stuffed,
        "holding": holding,
        "surroundings": surroundings,
        "period": period,
        "method": method,
        "accuracy": accuracy,
        "checks": checks,
        "process": process,
        "on": on,
        "scheme": scheme,
        "model": model,
        "house_rules": house_rules,
    }
    question = {name: value for name, value in fields.items() if value is not None}
    library = type(table).__module__.partition(".")[0]
    if isinstance(table, Mapping):
        columns = [_column(str(name), values) for name, values in table.items() if _is_read(name, log, place)]
        lists = _core.check_logs(question, columns, log, place, unit, True, plain)
        return _numpy(lists)  # type: ignore[return-value]
    if library == "pandas":
        frame: Any = table
        columns = [_series(name, frame[name]) for name in frame.columns if _is_read(name, log, place)]
        lists = _core.check_logs(question, columns, log, place, unit, True, plain)
        return type(frame)(lists)  # type: ignore[no-any-return]
    if not (hasattr(table, "__arrow_c_stream__") or hasattr(table, "__arrow_c_array__")):
        expected = "a DataFrame, an Arrow producer, or a mapping of columns is needed"
        raise _core.refuse("wrong-type", field="table", given=type(table).__name__, expected=expected)
    found: Any = _core.check_logs(question, table, log, place, unit, False, plain)
    if library == "polars":
        return sys.modules["polars"].from_arrow(found).struct.unnest()  # type: ignore[no-any-return]
    if library == "pyarrow":
        pyarrow = sys.modules["pyarrow"]
        batch = pyarrow.record_batch(found)
        return pyarrow.Table.from_batches([batch]) if isinstance(table, pyarrow.Table) else batch  # type: ignore[no-any-return]
    return found  # type: ignore[no-any-return]


def _is_read(name: object, log: str, place: str) -> bool:
    return name in (log, place) or (isinstance(name, str) and ("elapsed" in name or "temp" in name))


def _series(name: str, series: Any) -> tuple[str, object, object]:
    """Give a column of pandas as an array that lends its memory, or as a list of words."""
    kind = getattr(series.dtype, "kind", "O")
    if kind == "m":
        return _column(f"{name}_s", series.dt.total_seconds().to_numpy())
    if kind == "f":
        return _column(name, series.to_numpy(dtype="float64", na_value=float("nan")))
    if kind in "iu":
        return _column(name, series.to_numpy())
    return _column(name, series.tolist())


def _column(name: str, values: Any) -> tuple[str, object, object]:
    """Give a column as name, values and, for lists, where each of them begins."""
    if hasattr(values, "__arrow_c_stream__") or hasattr(values, "__arrow_c_array__"):
        return name, values, None
    if isinstance(values, (bytes, bytearray)) or (isinstance(values, memoryview) and values.format in ("B", "b", "c")):
        expected = "numbers or text are needed; numbers that lie in bytes are read with memoryview(…).cast('d')"
        raise _core.refuse("wrong-type", field=name, given=type(values).__name__, expected=expected)
    kind = getattr(getattr(values, "dtype", None), "kind", None)
    if kind is not None and kind in "fiumM":
        return name, sys.modules["numpy"].asanyarray(values, order="C"), None
    try:
        return name, *_packed(list(values) if kind is None else values.tolist())
    except (TypeError, ValueError, OverflowError) as error:
        expected = "text, numbers, or lists of numbers are needed, with None for a missing one"
        raise _core.refuse("wrong-type", field=name, given=str(error), expected=expected) from None


def _packed(items: list[Any]) -> tuple[object, object]:
    """Give the items as words or as a buffer and, for lists, where each of them begins."""
    if not items or isinstance(items[0], str):
        return [None if item is None or item != item else str(item) for item in items], None
    from array import array

    _are_values(items)
    if not hasattr(items[0], "__iter__"):
        return array("q", items) if all(isinstance(item, int) for item in items) else _floats(items), None
    starts = [0]
    flat = array("d")
    for item in items:
        flat.extend(_floats(item))
        starts.append(len(flat))
    return flat, array("q", starts)


def _are_values(items: Any) -> None:
    """Refuse what ``float`` would read as a count of ticks, and bytes, which would be a list of numbers."""
    for kind in set(map(type, items)):
        if issubclass(kind, timedelta) or kind.__name__ in ("timedelta64", "datetime64"):
            raise TypeError(f"{kind.__name__}: durations are given as numbers of seconds, with total_seconds()")
        if issubclass(kind, (bytes, bytearray)):
            raise TypeError(f"{kind.__name__} among the values")


def _floats(items: Any) -> Any:
    from array import array

    _are_values(items)
    return array("d", [float("nan") if item is None else float(item) for item in items])


def _numpy(lists: dict[str, list[Any]]) -> dict[str, Any]:
    """Give numbers as arrays of NumPy where it is loaded."""
    numpy: Any = sys.modules.get("numpy")
    if numpy is None:
        return lists
    numbers = {name: numpy.asarray(items) for name, items in lists.items() if name.endswith(("_s", "_K", "_log10"))}
    return {**lists, **numbers}
