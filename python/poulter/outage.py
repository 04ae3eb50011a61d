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
    """What may become of food after a power failure.

    Examples
    --------
    >>> power_failure("freezer-full", off_for="48 h", door_shut=True).outcome
    'keep'
    """

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

    What is left out counts as not known.

    Parameters
    ----------
    appliance : {"refrigerator", "freezer-full", "freezer-half"}
        What lost its power.
    off_for : QuantityLike, optional
        For how long (s, min, h, d).
    door_shut : bool, optional
        Whether the door stayed shut.
    warmest : QuantityLike, optional
        The warmest reading of the food (degC, degF, K).
    above_for : QuantityLike, optional
        How long the food has been above the cold limit, where that is known (s, min, h, d).
    ice_crystals : bool, optional
        Whether the food still holds ice crystals.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    PowerFailure
        What may become of food after a power failure.

    Raises
    ------
    InputError
        An argument is missing, unknown or out of range; the error names it.
    UnitError
        A unit is missing, unknown or of another dimension.
    RuleError
        The standard is unknown, a rule of the house is broken, or no rule covers the case.

    References
    ----------
    * FoodSafety.gov, Food safety in a power outage, Refrigerated food
    * USDA Food Safety and Inspection Service, Leftovers and Food Safety

    Examples
    --------
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
