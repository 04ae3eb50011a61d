"""Gravy and stock: how much of what, and how the stock is cooled."""

from __future__ import annotations

from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, TimeEstimate
from .door import ask
from .quantities import QuantityLike

__all__ = ["Gravy", "Stock", "gravy", "stock"]


class Gravy(Answer, kind="gravy"):
    """What goes into a gravy."""

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
    stock_to_have: Quantity
    """Stock to have ready if the bird gives few drippings."""
    allergens: tuple[str, ...]
    findings: tuple[Finding, ...]
    do: tuple[str, ...]
    rules: tuple[str, ...]


class Stock(Answer, kind="stock"):
    """What goes into a stock, what comes of it, and how it is cooled."""

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
    """Say what a gravy takes, for a number of guests or a volume."""
    fields = {
        "guests": guests,
        "volume": volume,
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
    """Say what a stock takes, from a mass of bones or from the raw mass of the bird they come from."""
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
