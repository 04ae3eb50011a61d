"""Checked rules for buying, thawing, cooking and keeping poultry, each answer with its source."""

from ._core import Quantity, __version__, convert, evaluate_json, kinds, units
from .answers import Answer, Citation, Finding, Record, TimeEstimate
from .doneness import CookingVerdict, check_cooking
from .door import evaluate
from .errors import (
    InputError,
    ModelRangeError,
    PoulterError,
    RuleError,
    SolverError,
    UnitError,
)
from .quantities import Moment, QuantityLike
from .thawing import ThawTime, thaw_time

__all__ = [
    "Answer",
    "Citation",
    "CookingVerdict",
    "Finding",
    "InputError",
    "ModelRangeError",
    "Moment",
    "PoulterError",
    "Quantity",
    "QuantityLike",
    "Record",
    "RuleError",
    "SolverError",
    "ThawTime",
    "TimeEstimate",
    "UnitError",
    "__version__",
    "check_cooking",
    "convert",
    "evaluate",
    "evaluate_json",
    "kinds",
    "thaw_time",
    "units",
]
