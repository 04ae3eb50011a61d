"""Rest, carve, hold and serve."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TemperatureLimit, TimeEstimate, TimeLimit
from .door import ask
from .quantities import QuantityLike

__all__ = ["RestAndCarve", "rest_and_carve"]


class RestAndCarve(Answer, kind="rest_and_carve"):
    """How a bird rests, is carved, held and served.

    Examples
    --------
    >>> print(rest_and_carve("13 lb").rest)
    20 min to 30 min
    """

    __slots__ = ()
    _views = {
        "rest": TimeEstimate,
        "carve": TimeEstimate,
        "hold_hot": TemperatureLimit,
        "hold_hot_for": TimeLimit,
        "stand_out_for": TimeLimit,
        "findings": Finding,
    }

    rest: TimeEstimate | None
    """Rest before carving; heat that goes on rising meanwhile is never counted as safety."""
    carve: TimeEstimate | None
    slices_low: Quantity | None
    slices_high: Quantity | None
    hold_hot: TemperatureLimit | None
    """How hot food must be held."""
    hold_hot_for: TimeLimit | None
    stand_out_for: TimeLimit | None
    """How long food may stand out in these surroundings."""
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


def rest_and_carve(
    mass: QuantityLike,
    *,
    stuffed: bool | None = None,
    solution_added: QuantityLike | None = None,
    held_at: QuantityLike | None = None,
    held_for: QuantityLike | None = None,
    out_for: QuantityLike | None = None,
    surroundings: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> RestAndCarve:
    """Say how long a bird of this raw mass rests, what carving gives, and how it is held and served.

    Parameters
    ----------
    mass : QuantityLike
        Raw mass of the bird (kg, g, mg, lb, oz).
    stuffed : bool, optional
        Whether stuffing is in the bird.
    solution_added : QuantityLike, optional
        Solution added by the packer, from the label; none when left out (%, 1).
    held_at : QuantityLike, optional
        The coldest reading of food held hot; then it is judged (degC, degF, K).
    held_for : QuantityLike, optional
        How long it has been held hot; then it is judged (s, min, h, d).
    out_for : QuantityLike, optional
        How long the food has stood out; then it is judged (s, min, h, d).
    surroundings : QuantityLike, optional
        Air where the food stands; the limit on a hot day hangs on it (degC, degF, K).
    species : str, optional
        The kind of bird, such as ``"chicken"``; turkey when left out.
    cut : str, optional
        The cut, such as ``"boneless-breast"``; whole when left out.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    on : date | str, optional
        The day whose rules are wanted; those that hold now when left out.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    RestAndCarve
        How a bird rests, is carved, held and served.

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
    * USDA Agricultural Research Service, National Nutrient Database for Standard Reference (Release 26),
      Turkey, whole: 3812 g roasted of 5002 g raw, refuse 31 %, skin 7 %
    * USDA Food Safety and Inspection Service, Danger Zone (40 °F to 140 °F)
    * USDA Food Safety and Inspection Service, Turkey Basics: Handling Cooked Dinners

    Examples
    --------
    >>> print(rest_and_carve("13 lb").rest)
    20 min to 30 min
    """
    fields = {
        "mass": mass,
        "stuffed": stuffed,
        "solution_added": solution_added,
        "held_at": held_at,
        "held_for": held_for,
        "out_for": out_for,
        "surroundings": surroundings,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return RestAndCarve._adopt(ask("rest_and_carve", fields))
