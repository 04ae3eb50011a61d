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
    """A refused request. Unsafe food is never an error: it is an answer with a verdict."""

    code: int
    """Number of the kind of error; it never changes meaning."""
    slug: str
    """Short stable word for the kind of error."""
    field: str
    """Path of the field at fault, such as ``bird.mass``; empty when the whole request is at fault."""
    given: str
    """What was given, shortened when long."""
    expected: str
    """What is allowed."""
    advice: str
    """What to do about it."""
    citations: tuple[str, ...]
    """Ids of the rules that explain the refusal."""

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
    """A field is missing, unknown, of the wrong type or out of range."""


class UnitError(InputError):
    """A unit is missing, unknown or of the wrong dimension."""


class RuleError(PoulterError, LookupError):
    """No published rule covers the case, or a rule is unknown or broken."""


class ModelRangeError(PoulterError, ValueError):
    """The case lies outside the range in which a model was checked."""


class SolverError(PoulterError, RuntimeError):
    """A numerical method did not converge."""


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
