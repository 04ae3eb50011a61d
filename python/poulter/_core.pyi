"""The compiled half of the package."""

from array import array
from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import Any, Literal, Never, TypeVar, final, overload

from .door import Float64Array, Float64Buffer
from .errors import PoulterError
from .quantities import QuantityLike

__all__ = [
    "ProbeHandle",
    "Quantity",
    "__version__",
    "check_logs",
    "command_line",
    "convert",
    "error_kinds",
    "evaluate",
    "evaluate_json",
    "evaluate_log",
    "kinds",
    "refuse",
    "request_json",
    "request_schema",
    "response_schema",
    "restore",
    "units",
    "worksheet",
]

__version__: str

_Array = TypeVar("_Array", bound=Float64Array | Float64Buffer)

@final
class Quantity:
    """A number with its unit. Equal to any other quantity that is exactly the same amount, whatever its unit."""

    @overload
    def __new__(cls, value: float, unit: str) -> Quantity: ...
    @overload
    def __new__(cls, value: str, unit: None = None) -> Quantity: ...
    @staticmethod
    def parse(text: str, /) -> Quantity:
        """Read text such as "4 lb 8 oz" or "165 °F"."""
    @staticmethod
    def of(value: QuantityLike, /) -> Quantity:
        """Take anything that is accepted as a quantity: text, a pair, a timedelta, a quantity of Pint."""
    def to(self, unit: str, /) -> Quantity:
        """The same amount in another unit."""
    def to_timedelta(self) -> timedelta:
        """The duration as a `datetime.timedelta`."""
    def to_pint(self, registry: Any, /) -> Any:
        """The same quantity in a unit registry of Pint."""
    def shown(self) -> str:
        """The amount as a cook reads it, rounded: "4 lb 8 oz", "3 h 45 min". `str` gives the exact number."""
    @property
    def value(self) -> float:
        """The number of `unit`."""
    @property
    def unit(self) -> str:
        """The name of the unit."""
    def __add__(self, other: Quantity, /) -> Quantity: ...
    def __radd__(self, other: Literal[0], /) -> Quantity: ...
    def __sub__(self, other: Quantity, /) -> Quantity: ...
    def __rsub__(self, other: Never, /) -> Never: ...
    def __mul__(self, factor: float, /) -> Quantity: ...
    def __rmul__(self, factor: float, /) -> Quantity: ...
    @overload
    def __truediv__(self, divisor: Quantity, /) -> float: ...
    @overload
    def __truediv__(self, divisor: float, /) -> Quantity: ...
    def __rtruediv__(self, other: Never, /) -> Never: ...
    def __neg__(self, /) -> Quantity: ...
    def __abs__(self, /) -> Quantity: ...
    def __format__(self, spec: str, /) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __ne__(self, other: object, /) -> bool: ...
    def __lt__(self, other: Quantity, /) -> bool: ...
    def __le__(self, other: Quantity, /) -> bool: ...
    def __gt__(self, other: Quantity, /) -> bool: ...
    def __ge__(self, other: Quantity, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __reduce__(self) -> tuple[Callable[[int, str], Quantity], tuple[int, str]]: ...
    def _repr_html_(self) -> str: ...

def command_line(arguments: list[str], /) -> int:
    """Run the command line and return its exit code; the first argument is the name it goes by."""

def check_logs(
    question: Mapping[str, object],
    table: object,
    /,
    log: str,
    place: str,
    unit: str | None = None,
    lists: bool = False,
    default: Callable[[Any, str], object] | None = None,
) -> Any:
    """Judge the logs of a table, one row for each: an Arrow producer, or with `lists` a dict of lists.

    `table` is an Arrow producer, or a list of columns: a name, the values, and for a column of lists where each of
    them begins. Values are an Arrow producer, a buffer, or a list of str. The interpreter lock is released meanwhile.
    """

@overload
def convert(value: float, unit: str, to: str, /) -> float:
    """Convert a number, or an array or list of numbers, to another unit of the same sort."""

@overload
def convert(
    value: list[float] | list[float | None] | tuple[float | None, ...], unit: str, to: str, /
) -> list[float]: ...
@overload
def convert(value: memoryview[float], unit: str, to: str, /) -> array[float]: ...
@overload
def convert(value: _Array, unit: str, to: str, /) -> _Array: ...

def error_kinds() -> list[tuple[int, str, str]]:
    """All kinds of error, as (code, slug, advice)."""

def evaluate(
    request: Mapping[str, object], /, default: Callable[[Any, str], object] | None = None
) -> dict[str, Any]:
    """Answer a question given as a dict, with a dict.

    `default(value, field)` is called for a value that JSON has no form for and returns one that it has.
    """

def evaluate_json(text: str, /) -> str:
    """Answer a question given as JSON text, with JSON text.

    The answer is the same, byte for byte, in every language. The interpreter lock is released meanwhile.
    """

def evaluate_log(
    request: Mapping[str, object],
    elapsed_s: object,
    places: list[tuple[str, str, object]],
    /,
    default: Callable[[Any, str], object] | None = None,
) -> dict[str, Any]:
    """Answer a question about a log given as columns: seconds, and for each place its name, unit and temperatures.

    A column is a list, or a buffer of float64 in one dimension, with steps or without; it is copied once. NaN and
    None stand for a missing reading. The interpreter lock is released while the answer is worked out.
    """

def kinds() -> list[str]:
    """The kinds of question that `evaluate` answers."""

def refuse(slug: str, *, field: str, given: str, expected: str) -> PoulterError:
    """Make the exception for input that was refused before it reached the core."""

def request_json(
    request: Mapping[str, object], /, default: Callable[[Any, str], object] | None = None
) -> str:
    """The JSON text of a request, with `default` as in `evaluate`."""

def request_schema() -> str:
    """The JSON Schema of a request, as JSON text."""

def response_schema() -> str:
    """The JSON Schema of a response, as JSON text."""

def restore(steps: int, unit: str, /) -> Quantity:
    """Make a pickled quantity again."""

def units() -> list[str]:
    """The names of all units, as quantities carry them."""

def worksheet(order: str, kind: str, format: str, /) -> str | bytes:
    """Plan an order given as JSON text and write a sheet of a kind in a format; a spreadsheet comes as bytes."""

@final
class ProbeHandle:
    """The probes in one roast; `poulter.Probe` is the class to use."""

    def __new__(
        cls,
        request: Mapping[str, object],
        /,
        default: Callable[[Any, str], object] | None = None,
    ) -> ProbeHandle: ...
    def push(
        self,
        place: str,
        reading: Mapping[str, object],
        /,
        default: Callable[[Any, str], object] | None = None,
    ) -> None:
        """Add a reading of one place, given as a dict of elapsed time and temperature."""

    def state(self) -> dict[str, Any]:
        """The state up to now, as a dict."""
