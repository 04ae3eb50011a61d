"""Answers: frozen records with the rules, sources, assumptions and cautions behind them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ._core import Quantity

# Type checkers take this for true. `typing` takes longer to import than the whole package.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, ClassVar, Literal, NoReturn, Self, TypeAlias

    _Verdict: TypeAlias = Literal["meets", "fails", "cannot-tell"]

__all__ = ["Answer", "Citation", "Finding", "Record", "TemperatureLimit", "TimeEstimate", "TimeLimit"]


class Record:
    """A frozen set of named values, read as attributes or by name.

    Examples
    --------
    >>> import poulter
    >>> record = poulter.thaw_time("15 lb", method="refrigerator").time
    >>> record["low"] == record.low
    True
    >>> list(record)
    ['low', 'likely', 'high']
    """

    __slots__ = ("_wire",)
    _wire: dict[str, Any]
    _views: ClassVar[Mapping[str, type[Record]]] = {}
    _declared: ClassVar[frozenset[str]] = frozenset()

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        cls._declared = cls._declared | frozenset(cls.__annotations__)

    def __init__(self, fields: Mapping[str, Any]) -> None:
        object.__setattr__(self, "_wire", _copy(fields))

    @classmethod
    def _adopt(cls, wire: dict[str, Any]) -> Self:
        """Wrap a dict that nobody else holds."""
        record = cls.__new__(cls)
        object.__setattr__(record, "_wire", wire)
        return record

    def _fields(self) -> dict[str, Any]:
        return self._wire

    def __getattr__(self, name: str) -> Any:
        if not name.startswith("_"):
            fields = self._fields()
            if name in fields:
                return _view(fields[name], self._views.get(name, Record))
            # A field that is declared but not in this answer has nothing to say.
            if name in self._declared:
                return None
        raise AttributeError(f"{type(self).__name__!r} object has no attribute {name!r}")

    def __getitem__(self, name: str) -> Any:
        return _view(self._fields()[name], self._views.get(name, Record))

    def __contains__(self, name: object) -> bool:
        return name in self._fields()

    def __iter__(self) -> Iterator[str]:
        return iter(self._fields())

    def __len__(self) -> int:
        return len(self._fields())

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen; to_dict() gives a copy to change")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} is frozen; to_dict() gives a copy to change")

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Record):
            return NotImplemented
        return type(self) is type(other) and self._wire == other._wire

    def __hash__(self) -> int:
        return hash((type(self), _hashable(self._wire)))

    def __reduce__(self) -> tuple[type[Self], tuple[dict[str, Any]]]:
        return type(self), (self._wire,)

    def __dir__(self) -> list[str]:
        return sorted({*super().__dir__(), *self._fields()})

    def __repr__(self) -> str:
        from .display import summary

        return f"<{type(self).__name__} {summary(self)}>"

    def to_dict(self) -> dict[str, Any]:
        """Return a copy as plain dicts and lists, ready for JSON.

        Returns
        -------
        dict
            The fields; quantities are dicts of ``value`` and ``unit``.

        Examples
        --------
        >>> import poulter
        >>> poulter.thaw_time("15 lb", method="refrigerator").time.to_dict()["low"]
        {'value': 3.0, 'unit': 'd'}
        """
        copied: dict[str, Any] = _copy(self._wire)
        return copied


class TimeEstimate(Record):
    """A shortest, a likely and a longest time.

    Examples
    --------
    >>> import poulter
    >>> time = poulter.thaw_time("15 lb", method="refrigerator").time
    >>> print(time)
    3 d to 4 d
    >>> time.likely
    Quantity(3.75, 'd')
    """

    __slots__ = ()
    low: Quantity
    likely: Quantity
    high: Quantity

    def __str__(self) -> str:
        low, high = self.low.shown(), self.high.shown()
        return low if low == high else f"{low} to {high}"


class TemperatureLimit(Record):
    """A limit of temperature with its comparison.

    Examples
    --------
    >>> import poulter
    >>> limit = poulter.leftovers().reheat
    >>> print(limit)
    >= 165 °F
    """

    __slots__ = ()
    temperature: Quantity
    """The binding value in the source's own unit."""
    also_printed: Quantity | None
    """The value the source prints beside it, where it differs."""

    @property
    def comparison(self) -> str:
        """How a value is compared with the limit: ``<``, ``<=``, ``>=`` or ``>``.

        Returns
        -------
        str
            The comparison.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().reheat.comparison
        '>='
        """
        return str(self["is"])

    def __str__(self) -> str:
        return f"{self.comparison} {self.temperature}"


class TimeLimit(Record):
    """A limit of time with its comparison.

    Examples
    --------
    >>> import poulter
    >>> limit = poulter.leftovers().chill_within
    >>> print(limit)
    <= 2 h
    """

    __slots__ = ()
    duration: Quantity

    @property
    def comparison(self) -> str:
        """How a time is compared with the limit: ``<``, ``<=``, ``>=`` or ``>``.

        Returns
        -------
        str
            The comparison.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().chill_within.comparison
        '<='
        """
        return str(self["is"])

    def __str__(self) -> str:
        return f"{self.comparison} {self.duration.shown()}"


class Citation(Record):
    """A rule behind an answer, with its sources.

    Examples
    --------
    >>> import poulter
    >>> citation = poulter.thaw_time("15 lb", method="refrigerator").citations[0]
    >>> citation.rule, citation.kind, citation.status
    ('us-consumer.thaw.refrigerator', 'guidance', 'copy')
    """

    __slots__ = ()
    rule: str
    """Id of the rule."""
    title: str
    kind: str
    """How binding it is."""
    status: str
    """How the number was read in its source."""
    sources: tuple[str, ...]
    """Documents, with section."""
    last_checked: str
    """When the rule was last compared with its source."""
    note: str | None
    added_by_caller: bool | None


class Finding(Record):
    """One remark, with the rule it rests on.

    Examples
    --------
    >>> import poulter
    >>> finding = poulter.check_reheating(["164 °F"]).findings[0]
    >>> finding.verdict, finding.margin
    ('fails', Quantity(-1, 'delta_degF'))
    """

    __slots__ = ()
    kind: Literal["verdict", "advice", "caution"]
    verdict: _Verdict | None
    text: str
    rule: str | None
    margin: Quantity | None
    """How far from the limit; negative on the unsafe side."""


class Answer(Record):
    """An answer with its basis. The fields of the answer itself are read as attributes.

    Examples
    --------
    >>> import poulter
    >>> answer = poulter.thaw_time("15 lb", method="refrigerator")
    >>> answer.kind, answer["allowed"]
    ('thaw_time', True)
    >>> answer.citations[0].rule
    'us-consumer.thaw.refrigerator'
    """

    __slots__ = ()
    _classes: ClassVar[dict[str, type[Answer]]] = {}

    def __init_subclass__(cls, *, kind: str | tuple[str, ...] = ()) -> None:
        super().__init_subclass__()
        for name in (kind,) if isinstance(kind, str) else kind:
            Answer._classes[name] = cls

    @classmethod
    def of(cls, response: dict[str, Any], request: Mapping[str, object]) -> Answer:
        """Wrap a response of the core, and the request it answers, in the class for its kind.

        Parameters
        ----------
        response : dict
            What the core answered.
        request : Mapping
            What was asked.

        Returns
        -------
        Answer
            An answer of the class for its kind.

        Raises
        ------
        KeyError
            The response has no ``kind``.

        Examples
        --------
        >>> import json
        >>> import poulter
        >>> request = {"kind": "thaw_time", "mass": {"value": 15, "unit": "lb"}, "method": "refrigerator"}
        >>> response = json.loads(poulter.evaluate_json(json.dumps(request)))
        >>> Answer.of(response, request).allowed
        True
        """
        return Answer._classes.get(response["kind"], Answer)._to(request, response)

    @classmethod
    def _to(cls, request: Mapping[str, object], response: dict[str, Any]) -> Self:
        """Wrap a response; a class whose answer can be worked on keeps the request."""
        return cls._adopt(response)

    def _fields(self) -> dict[str, Any]:
        fields: dict[str, Any] = self._wire["answer"]
        return fields

    @property
    def kind(self) -> str:
        """The kind of question that was answered.

        Returns
        -------
        str
            One of `kinds`.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().kind
        'leftovers'
        """
        return str(self._wire["kind"])

    @property
    def answer(self) -> Record:
        """The fields of the answer by themselves.

        Returns
        -------
        Record
            The fields.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().answer["chill_within"].duration
        Quantity(2, 'h')
        """
        return Record._adopt(self._fields())

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was assumed because the question did not say.

        Returns
        -------
        tuple of str
            A sentence each; empty when nothing was assumed.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().assumed[0]
        'The surroundings are not above 90 °F (32.2 °C); there the limit is at most 1 h.'
        """
        return tuple(self._wire["assumed"])

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to keep in mind.

        Returns
        -------
        tuple of str
            A sentence each.

        Examples
        --------
        >>> import poulter
        >>> isinstance(poulter.leftovers().cautions, tuple)
        True
        """
        return tuple(self._wire["cautions"])

    @property
    def citations(self) -> tuple[Citation, ...]:
        """The rules behind the answer, with their sources.

        Returns
        -------
        tuple of Citation
            One for each rule.

        Examples
        --------
        >>> import poulter
        >>> poulter.leftovers().citations[0].rule
        'us-consumer.cool.start'
        """
        return tuple(Citation._adopt(citation) for citation in self._wire["citations"])

    def __bool__(self) -> NoReturn:
        # `if check_cooking(...)` would otherwise call every bird done.
        raise TypeError("an answer has no truth value; compare its verdict or another field")

    def _repr_html_(self) -> str:
        from .display import html

        return html(self)


def _view(value: Any, record: type[Record]) -> Any:
    if isinstance(value, dict):
        if value.keys() == {"value", "unit"}:
            # Powers of ten are plain numbers.
            if value["unit"] == "log10":
                return float(value["value"])
            return Quantity(value["value"], value["unit"])
        return record._adopt(value)
    if isinstance(value, list):
        return tuple(_view(item, record) for item in value)
    return value


def _copy(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _copy(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_copy(item) for item in value]
    return value


def _hashable(value: Any) -> Any:
    if isinstance(value, dict):
        return frozenset((key, _hashable(item)) for key, item in value.items())
    if isinstance(value, list):
        return tuple(_hashable(item) for item in value)
    return value
