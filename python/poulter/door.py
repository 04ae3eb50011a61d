"""The one door: a question in, an answer out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from . import _core
from .answers import Answer
from .quantities import plain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Protocol, TypeAlias
else:
    Protocol = object

__all__ = [
    "ArrowArray",
    "ArrowStream",
    "Column",
    "Float64Array",
    "Float64Buffer",
    "MakesArray",
    "Temperatures",
    "ask",
    "ask_log",
    "evaluate",
]


class Float64Buffer(Protocol):
    """A one-dimensional buffer of float64, such as an ``array.array("d")`` or an array of NumPy."""

    def __buffer__(self, flags: int, /) -> memoryview:
        """Give access to the memory."""


class Float64Array(Protocol):
    """An array of NumPy, whose types show a buffer only from Python 3.12 on."""

    @property
    def __array_interface__(self) -> dict[str, Any]:
        """Where the memory lies."""


class ArrowStream(Protocol):
    """A series of Arrow in one or several pieces, such as one of Polars or a chunked array of pyarrow."""

    def __arrow_c_stream__(self, requested_schema: Any = None) -> Any:
        """Give the pieces."""


class ArrowArray(Protocol):
    """A series of Arrow in one piece, such as an array of pyarrow."""

    def __arrow_c_array__(self, requested_schema: Any = None) -> Any:
        """Give the piece."""


class MakesArray(Protocol):
    """What makes an array of itself, such as a series of pandas."""

    def __array__(self) -> Any:
        """Make an array."""


Column: TypeAlias = (
    Sequence[float | None] | Float64Buffer | Float64Array | ArrowStream | ArrowArray | MakesArray
)
"""The times or the temperatures of a log; None, NaN and null stand for a missing reading."""

Temperatures: TypeAlias = Column | Mapping[str, Column]
"""The temperatures of one place, or of several by their names."""


def evaluate(request: Mapping[str, object]) -> Answer:
    """Answer a question given as a mapping with its ``kind`` and fields.

    Parameters
    ----------
    request : Mapping[str, object]
        ``kind``, one of `kinds`, and the arguments of the function of that name.

    Returns
    -------
    Answer
        An answer of the class for its kind.

    Raises
    ------
    InputError
        The kind is unknown, or a field is missing, unknown or out of range.
    PoulterError
        What the function of that name raises.

    Examples
    --------
    >>> evaluate({"kind": "thaw_time", "mass": (15, "lb"), "method": "refrigerator"})["allowed"]
    True
    """
    return Answer.of(_core.evaluate(request, plain), request)


def ask(kind: str, fields: Mapping[str, object]) -> dict[str, Any]:
    """Put a question to the core; a field that is None is left out, so the core's own default holds."""
    given = {name: value for name, value in fields.items() if value is not None}
    return _core.evaluate({**given, "kind": kind}, plain)


def ask_log(
    kind: str,
    fields: Mapping[str, object],
    elapsed_s: Column | None,
    temp: Temperatures | None,
    unit: str | None,
    csv: str | None = None,
) -> dict[str, Any]:
    """Put a question about a log to the core; the columns go as they are, and buffers are read where they lie."""
    given = {name: value for name, value in fields.items() if value is not None}
    if csv is not None:
        if not (elapsed_s is None and temp is None):
            expected = "either csv, or elapsed_s with temp, is needed"
            raise _core.refuse("conflict", field="csv", given="", expected=expected)
        return _core.evaluate({**given, "kind": kind, "log": {"csv": csv}}, plain)
    for name, value in (("elapsed_s", elapsed_s), ("temp", temp), ("unit", unit)):
        if value is None:
            expected = "elapsed_s, temp and unit, or csv, are needed"
            raise _core.refuse("missing-field", field=name, given="", expected=expected)
    columns = temp if isinstance(temp, Mapping) else {"core": temp}
    places: list[tuple[str, str, object]] = [
        (place, str(unit), column) for place, column in columns.items()
    ]
    return _core.evaluate_log({**given, "kind": kind}, elapsed_s, places, plain)
