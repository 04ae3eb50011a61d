"""The one door: a question in, an answer out."""

from __future__ import annotations

from collections.abc import Mapping

from . import _core
from .answers import Answer
from .quantities import plain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = ["ask", "evaluate"]


def evaluate(request: Mapping[str, object]) -> Answer:
    """Answer a question given as a mapping with its ``kind`` and fields.

    >>> evaluate({"kind": "thaw_time", "mass": (15, "lb"), "method": "refrigerator"})["allowed"]
    True
    """
    return Answer.of(_core.evaluate(request, plain), request)


def ask(kind: str, fields: Mapping[str, object]) -> dict[str, Any]:
    """Put a question to the core; a field that is None is left out, so the core's own default holds."""
    given = {name: value for name, value in fields.items() if value is not None}
    return _core.evaluate({**given, "kind": kind}, plain)
