"""Checked rules for buying, thawing, cooking and keeping poultry, each answer with its source."""

from ._core import (
    Quantity,
    __version__,
    convert,
    evaluate_json,
    kinds,
    request_schema,
    response_schema,
    units,
)
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
from .planning import (
    Chain,
    Change,
    Check,
    Order,
    Plan,
    PlannedBird,
    Repeat,
    ShoppingItem,
    Step,
    Window,
    plan,
)
from .purchasing import OnThePlate, Purchase, purchase
from .quantities import Moment, QuantityLike
from .roasting import OvenPhase, RoastTime, roast_time
from .thawing import ThawTime, thaw_time

__all__ = [
    "Answer",
    "Chain",
    "Change",
    "Check",
    "Citation",
    "CookingVerdict",
    "Finding",
    "InputError",
    "ModelRangeError",
    "Moment",
    "OnThePlate",
    "Order",
    "OvenPhase",
    "Plan",
    "PlannedBird",
    "PoulterError",
    "Purchase",
    "Quantity",
    "QuantityLike",
    "Record",
    "Repeat",
    "RoastTime",
    "RuleError",
    "ShoppingItem",
    "SolverError",
    "Step",
    "ThawTime",
    "TimeEstimate",
    "UnitError",
    "Window",
    "__version__",
    "check_cooking",
    "convert",
    "evaluate",
    "evaluate_json",
    "kinds",
    "plan",
    "purchase",
    "request_schema",
    "response_schema",
    "roast_time",
    "thaw_time",
    "units",
]
