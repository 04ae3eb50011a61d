"""Exceptions: what was refused, where, and what to do about it."""

from __future__ import annotations

__all__ = [
    "InputError",
    "ModelRangeError",
    "PoulterError",
    "RuleError",
    "SolverError",
    "UnitError",
    "class_for",
]


class PoulterError(Exception):
    """A refused request. Unsafe food is never an error: it is an answer with a verdict.

    Parameters
    ----------
    message : str
        The whole sentence, as it is printed.
    code : int, default 0
        Number of the kind of error; it never changes meaning.
    slug : str, default ""
        Short stable word for the kind of error.
    field : str, default ""
        Path of the field at fault, such as ``bird.mass``; empty when the whole request is at fault.
    given : str, default ""
        What was given, shortened when long.
    expected : str, default ""
        What is allowed.
    advice : str, default ""
        What to do about it.
    citations : tuple of str, default ()
        Ids of the rules that explain the refusal.

    Examples
    --------
    >>> import poulter
    >>> try:
    ...     poulter.thaw_time("15 stone", method="refrigerator")
    ... except poulter.PoulterError as error:
    ...     print(error.code, error.slug, error.field, error.given)
    202 unit-unknown mass stone
    """

    code: int
    slug: str
    field: str
    given: str
    expected: str
    advice: str
    citations: tuple[str, ...]

    def __init__(
        self,
        message: str,
        *,
        code: int = 0,
        slug: str = "",
        field: str = "",
        given: str = "",
        expected: str = "",
        advice: str = "",
        citations: tuple[str, ...] | list[str] = (),
    ) -> None:
        super().__init__(message)
        self.code = code
        self.slug = slug
        self.field = field
        self.given = given
        self.expected = expected
        self.advice = advice
        self.citations = tuple(citations)


class InputError(PoulterError, ValueError):
    """A field is missing, unknown, of the wrong type or out of range.

    Examples
    --------
    >>> import poulter
    >>> try:
    ...     poulter.thaw_time("15 lb", method="sun")
    ... except poulter.InputError as error:
    ...     print(error.field, error.given)
    method sun
    """


class UnitError(InputError):
    """A unit is missing, unknown or of the wrong dimension.

    Examples
    --------
    >>> import poulter
    >>> try:
    ...     poulter.Quantity(165, "F")
    ... except poulter.UnitError as error:
    ...     print(error.slug, error.given)
    unit-unknown F
    """


class RuleError(PoulterError, LookupError):
    """No published rule covers the case, or a rule is unknown or broken.

    Examples
    --------
    >>> import poulter
    >>> try:
    ...     poulter.thaw_time("15 lb", method="refrigerator", standard="atlantis")
    ... except poulter.RuleError as error:
    ...     print(error.slug, error.given)
    rule-unknown atlantis
    """


class ModelRangeError(PoulterError, ValueError):
    """The case lies outside the range in which a model was checked.

    Examples
    --------
    >>> import poulter
    >>> oven = [{"temperature": "325 degF"}]
    >>> try:
    ...     poulter.simulate_roast("50 lb", start="40 degF", oven=oven, target="165 degF")
    ... except poulter.ModelRangeError as error:
    ...     print(error.slug, error.field)
    model-range mass
    """


class SolverError(PoulterError, RuntimeError):
    """A numerical method did not converge.

    Examples
    --------
    >>> import poulter
    >>> issubclass(poulter.SolverError, RuntimeError)
    True
    """


_CLASS_OF_BLOCK: dict[int, type[PoulterError]] = {
    1: InputError,
    2: UnitError,
    3: RuleError,
    4: ModelRangeError,
    5: SolverError,
    9: PoulterError,
}


def class_for(code: int) -> type[PoulterError]:
    """Return the exception class for the number of an error."""
    return _CLASS_OF_BLOCK.get(code // 100, PoulterError)
