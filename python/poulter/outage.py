"""Power failures: what may become of the food in a refrigerator or freezer."""

from __future__ import annotations

from datetime import date

from .answers import Answer, Finding
from .door import ask
from .quantities import QuantityLike

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Literal

__all__ = ["PowerFailure", "power_failure"]


class PowerFailure(Answer, kind="power_failure"):
    """What may become of food after a power failure."""

    __slots__ = ()
    _views = {"findings": Finding}

    verdict: Literal["meets", "fails", "cannot-tell"]
    """Whether the food may still be used. Treat ``"cannot-tell"`` as ``"fails"``."""
    outcome: Literal["keep", "freeze-again", "use-now", "discard", "not-known"]
    findings: tuple[Finding, ...]
    do: tuple[str, ...]


def power_failure(
    appliance: str,
    *,
    off_for: QuantityLike | None = None,
    door_shut: bool | None = None,
    warmest: QuantityLike | None = None,
    above_for: QuantityLike | None = None,
    ice_crystals: bool | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> PowerFailure:
    """Judge the food in a ``"refrigerator"``, ``"freezer-full"`` or ``"freezer-half"`` that lost its power.

    ``off_for`` is how long the power was off, ``door_shut`` whether the door stayed shut. ``warmest`` is the warmest
    reading of the food, ``above_for`` how long it was above the cold limit, ``ice_crystals`` whether it still holds
    them. What is left out counts as not known.

    >>> power_failure("refrigerator", off_for="4 h", door_shut=True).verdict
    'meets'
    >>> power_failure("refrigerator", off_for="4 h 1 min", door_shut=True).outcome
    'discard'
    """
    fields = {
        "appliance": appliance,
        "off_for": off_for,
        "door_shut": door_shut,
        "warmest": warmest,
        "above_for": above_for,
        "ice_crystals": ice_crystals,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return PowerFailure._adopt(ask("power_failure", fields))
