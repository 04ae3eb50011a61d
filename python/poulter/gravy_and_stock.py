"""Gravy and stock: how much of what, and how the stock is cooled."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["Gravy", "Stock", "gravy", "stock"]


class Gravy(Answer, kind="gravy"):
    """What goes into a gravy.

    Examples
    --------
    >>> sauce = gravy(guests=8)
    >>> sauce.thickener.shown(), sauce.allergens[0]
    ('42 g', 'wheat (flour)')
    """

    __slots__ = ()
    _views = {"findings": Finding}

    liquid: Quantity
    """Liquid to thicken: drippings without fat, and stock."""
    fat: Quantity | None
    """Fat by mass; None for starch."""
    fat_volume: Quantity | None
    thickener: Quantity
    """Flour or starch by mass."""
    thickener_volume: Quantity
    drippings_low: Quantity | None
    """Least drippings with their fat, where anything is known of them."""
    drippings_high: Quantity | None
    rendered_fat_low: Quantity | None
    """Least fat that renders from the birds; only with their mass."""
    rendered_fat_high: Quantity | None
    stock_to_have: Quantity
    """Stock to have ready if the bird gives few drippings."""
    allergens: tuple[str, ...]
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


class Stock(Answer, kind="stock"):
    """What goes into a stock, what comes of it, and how it is cooled.

    Examples
    --------
    >>> pot = stock(bones="2 lb")
    >>> pot.water.shown()
    '1.5 qt'
    """

    __slots__ = ()
    _views = {"time": TimeEstimate}

    bones: Quantity
    water: Quantity
    stock: Quantity
    """Stock that comes of it."""
    vegetables: Quantity
    simmer_low: Quantity | None
    simmer_high: Quantity | None
    time: TimeEstimate | None
    """Time at a bare simmer."""
    chill_within: Quantity | None
    """In what time it must be in the refrigerator."""
    depth: Quantity | None
    """The greatest depth in which it cools."""
    do: tuple[str, ...]
    rules: tuple[str, ...]


def gravy(
    *,
    guests: int | None = None,
    volume: QuantityLike | None = None,
    bird_mass: QuantityLike | None = None,
    generous: bool | None = None,
    body: str | None = None,
    thickener: str | None = None,
    fat: str | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Gravy:
    """Say what a gravy takes, for a number of guests or a volume.

    Parameters
    ----------
    guests : int, optional
        Guests, 1 to 2000; needed unless a volume is given.
    volume : QuantityLike, optional
        Volume wanted; by the guests when left out (L, mL, gal, qt, cup, floz, tbsp, tsp).
    bird_mass : QuantityLike, optional
        Raw mass of all birds; drippings and the fat that renders are reckoned from it (kg, g, mg, lb, oz).
    generous : bool, optional
        Whether guests help themselves, or like much.
    body : {"thin", "medium", "medium-thick", "thick"}, optional
        How thick; the measure most sheets print when left out.
    thickener : {"flour", "starch"}, optional
        What thickens it; flour when left out.
    fat : {"drippings", "butter"}, optional
        The fat; from the drippings when left out.
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
    Gravy
        What goes into a gravy.

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
    * US Food and Drug Administration, Flour is a raw food (consumer advice)
    * FoodSafety.gov, Cold Food Storage Chart, Leftovers

    Examples
    --------
    >>> gravy(guests=8).liquid.shown()
    '2.67 cups'
    """
    fields = {
        "guests": guests,
        "volume": volume,
        "bird_mass": bird_mass,
        "generous": generous,
        "body": body,
        "thickener": thickener,
        "fat": fat,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Gravy._adopt(ask("gravy", fields))


def stock(
    *,
    bones: QuantityLike | None = None,
    bird_mass: QuantityLike | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Stock:
    """Say what a stock takes, from a mass of bones or from the raw mass of the bird they come from.

    Parameters
    ----------
    bones : QuantityLike, optional
        Mass of the bones; in place of `bird_mass` (kg, g, mg, lb, oz).
    bird_mass : QuantityLike, optional
        Raw mass of the whole bird without neck and giblets, of which the roasted carcass is used (kg, g, mg, lb,
        oz).
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
    Stock
        What goes into a stock, what comes of it, and how it is cooled.

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
    * USDA Food Safety and Inspection Service, Leftovers and Food Safety
    * Kansas State University Extension, Turkey: holding, chilling and reheating
    * FoodSafety.gov, Cold Food Storage Chart, Leftovers

    Examples
    --------
    >>> stock(bones="2 lb").water.shown()
    '1.5 qt'
    """
    fields = {
        "bones": bones,
        "bird_mass": bird_mass,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Stock._adopt(ask("stock", fields))
