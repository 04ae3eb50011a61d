"""What is accepted as a quantity or a moment, and how it goes to the core."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, timedelta

from ._core import Quantity, refuse
from .answers import Record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, Protocol, TypeAlias
else:
    Protocol = object

__all__ = [
    "Measured",
    "Moment",
    "QuantityLike",
    "listed",
    "paired",
    "plain",
    "quantity",
    "to_pint",
    "to_timedelta",
]


class Measured(Protocol):
    """A quantity of another library, such as Pint: a number and a unit with a name."""

    @property
    def magnitude(self) -> Any:
        """The number."""

    @property
    def units(self) -> Any:
        """The unit; its text is its name."""


QuantityLike: TypeAlias = (
    str | Quantity | tuple[float, str] | timedelta | Measured | Mapping[str, object]
)
"""A quantity: ``"15 lb"``, ``(15, "lb")``, ``Quantity(15, "lb")``, ``{"value": 15, "unit": "lb"}``, a
``timedelta``, a quantity of Pint, or a scalar of pyarrow or NumPy that holds one of these."""

Moment: TypeAlias = str | datetime
"""A moment: a ``datetime`` with a time zone, or text such as ``"2026-12-19T18:30[Europe/Lisbon]"``."""

# Pint's names for the units of the wire. Pint's customary volumes are the US ones, as here.
_WIRE_NAME = {
    "centimeter": "cm",
    "cup": "cup",
    "day": "d",
    "degree_Celsius": "degC",
    "degree_Fahrenheit": "degF",
    "delta_degree_Celsius": "delta_degC",
    "delta_degree_Fahrenheit": "delta_degF",
    "dimensionless": "1",
    "fluid_ounce": "floz",
    "foot": "ft",
    "gallon": "gal",
    "gram": "g",
    "hour": "h",
    "inch": "in",
    "kelvin": "K",
    "kilogram": "kg",
    "liter": "L",
    "meter": "m",
    "milligram": "mg",
    "milliliter": "mL",
    "millimeter": "mm",
    "minute": "min",
    "ounce": "oz",
    "percent": "%",
    "pound": "lb",
    "quart": "qt",
    "second": "s",
    "tablespoon": "tbsp",
    "teaspoon": "tsp",
}


def plain(value: object, field: str) -> object:
    """Return the form in which a value that JSON does not have goes to the core.

    Called by the compiled half with the path of the field, for errors.
    """
    if isinstance(value, Quantity):
        return _pair(value.value, value.unit)
    if isinstance(value, tuple):
        return _tuple(value)
    if isinstance(value, datetime):
        return _moment(value, field)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, timedelta):
        return _pair(value.total_seconds(), "s")
    if isinstance(value, Mapping):
        return dict(value)
    if isinstance(value, Record):
        return value.to_dict()
    inner = _unwrapped(value)
    if inner is not value:
        return inner
    magnitude, unit = getattr(value, "magnitude", None), getattr(value, "units", None)
    if magnitude is not None and unit is not None:
        return _measured(magnitude, str(unit), field)
    return _number(value, field)


def quantity(value: QuantityLike) -> Quantity:
    """Return anything that is accepted as a quantity as a `Quantity`."""
    given: object = value
    if not isinstance(given, str | Quantity):
        given = plain(given, "")
        given = given if isinstance(given, str | Mapping) else plain(given, "")
    if isinstance(given, Quantity):
        return given
    if isinstance(given, str):
        return Quantity.parse(given)
    if not (isinstance(given, Mapping) and given.keys() == {"value", "unit"}):
        expected = "text with a unit, or a number with its unit, is needed"
        raise refuse("wrong-type", field="", given=type(value).__name__, expected=expected)
    number, unit = given["value"], given["unit"]
    if isinstance(number, str | bool) or not isinstance(unit, str):
        expected = "a number as value and text as unit are needed"
        raise refuse("wrong-type", field="value", given=repr(number), expected=expected)
    return Quantity(float(number), unit)


def to_timedelta(duration: Quantity) -> timedelta:
    """Return a duration as a ``timedelta``."""
    # Whole milliseconds, the step of a duration.
    return timedelta(milliseconds=round(duration.to("s").value * 1000))


def to_pint(amount: Quantity, registry: Any) -> Any:
    """Return a quantity of a unit registry of Pint."""
    name = {wire: theirs for theirs, wire in _WIRE_NAME.items()}[amount.unit]
    return registry.Quantity(amount.value, name)


def listed(items: object, each: Callable[[object], object] | None = None) -> object:
    """Return a list of what is iterable; the core refuses anything else where it stands.

    A list is needed since ``(reading, "140 °F")`` by itself would pass for a number with its unit. A column of numbers
    with its unit, ``(temperatures, "degF")``, is one quantity after the other.
    """
    if isinstance(items, tuple) and len(items) == 2 and isinstance(items[1], str):
        column, unit = items
        if isinstance(column, Iterable) and not isinstance(column, str | tuple | Mapping):
            items = [None if _missing(value) else (value, unit) for value in column]
    if not isinstance(items, Iterable) or isinstance(items, str | bytes | Mapping):
        return items
    try:
        found = iter(items)
    except TypeError:
        # A single quantity of Pint passes for iterable until it is asked.
        return items
    return [item if each is None else each(item) for item in found]


def paired(first: str, second: str) -> Callable[[object], object]:
    """Return a function that names the two parts of a pair and leaves anything else alone."""

    def named(item: object) -> object:
        if isinstance(item, tuple) and len(item) == 2:
            return {first: item[0], second: item[1]}
        return item

    return named


def _unwrapped(value: Any) -> object:
    """Take a value out of a scalar of pyarrow or of NumPy's times, and None out of the NA of pandas."""
    if hasattr(value, "as_py"):
        return value.as_py()
    name = type(value).__name__
    if name == "timedelta64":
        return value.astype("timedelta64[us]").item()
    return None if name == "NAType" else value


def _missing(value: Any) -> bool:
    # NaN alone differs from itself.
    return _unwrapped(value) is None or (isinstance(value, float) and value != value)


def _pair(value: object, unit: str) -> dict[str, object]:
    return {"value": value, "unit": unit}


def _tuple(value: tuple[Any, ...]) -> object:
    if len(value) == 2 and isinstance(value[1], str) and not isinstance(value[0], str):
        return _pair(value[0], value[1])
    return list(value)


def _measured(magnitude: object, unit: str, field: str) -> dict[str, object]:
    if unit not in _WIRE_NAME:
        expected = f"one of the units {', '.join(sorted(_WIRE_NAME))} is needed"
        raise refuse("unit-unknown", field=field, given=unit, expected=expected)
    return _pair(magnitude, _WIRE_NAME[unit])


def _number(value: Any, field: str) -> object:
    kind = type(value)
    # A scalar of NumPy or of the standard library; an array has a length and is no scalar.
    if not hasattr(kind, "__len__"):
        if hasattr(kind, "__index__"):
            return int(value)
        if hasattr(kind, "__float__"):
            return float(value)
    expected = "text, a number with its unit, a date, a datetime, a list or a dict is needed"
    raise refuse("wrong-type", field=field, given=kind.__name__, expected=expected)


def _moment(value: datetime, field: str) -> str:
    offset = value.utcoffset()
    if offset is None:
        expected = "a datetime with a time zone is needed"
        raise refuse("bad-moment", field=field, given=value.isoformat(), expected=expected)
    local = value.replace(tzinfo=None).isoformat()
    shift = _shift(offset)
    zone = getattr(value.tzinfo, "key", None)
    if zone is None:
        return f"{local}{shift}[{shift}]"
    # The offset decides between the two hours of the same name when clocks go back.
    if offset != value.replace(fold=1 - value.fold).utcoffset():
        return f"{local}{shift}[{zone}]"
    return f"{local}[{zone}]"


def _shift(offset: timedelta) -> str:
    sign = "-" if offset < timedelta(0) else "+"
    minutes = abs(offset) // timedelta(minutes=1)
    return f"{sign}{minutes // 60:02}:{minutes % 60:02}"
