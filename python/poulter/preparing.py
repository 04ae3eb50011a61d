"""Preparing a bird, and the allergens of what goes on and in it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ._core import Quantity
from .answers import Answer, Finding, Record
from .brining import SaltAmount
from .door import ask
from .quantities import QuantityLike

__all__ = [
    "AllergenSummary",
    "Allergens",
    "IngredientAllergens",
    "Prepare",
    "PrepareStep",
    "StuffingAmount",
    "allergens",
    "prepare",
]


class IngredientAllergens(Record):
    """The allergens of one ingredient."""

    __slots__ = ()
    ingredient: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    """Allergens a bought one may hold: read its label."""
    note: str | None


class AllergenSummary(Record):
    """The allergens of a list of ingredients, inside a larger answer."""

    __slots__ = ()
    _views = {"ingredients": IngredientAllergens, "findings": Finding}

    list: str
    """The list of allergens used."""
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    ingredients: tuple[IngredientAllergens, ...]
    unknown: tuple[str, ...]
    """Ingredients with an unknown word, which may bring more than is listed."""
    findings: tuple[Finding, ...]


class Allergens(Answer, kind="allergens"):
    """The allergens of a list of ingredients."""

    __slots__ = ()
    _views = AllergenSummary._views

    list: str
    """The list of allergens used."""
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    """Allergens that labels must be read for."""
    ingredients: tuple[IngredientAllergens, ...]
    unknown: tuple[str, ...]
    """Ingredients with an unknown word, which may bring more than is listed."""
    findings: tuple[Finding, ...]
    """Ingredients a guest must not eat, or may not."""


class PrepareStep(Record):
    """One thing to do, or never to do."""

    __slots__ = ()
    when: str
    text: str
    rule: str | None


class StuffingAmount(Record):
    """How much stuffing a bird takes."""

    __slots__ = ()
    volume_low: Quantity
    volume_high: Quantity
    mass_low: Quantity
    mass_high: Quantity


class Prepare(Answer, kind="prepare"):
    """How a bird is prepared, with amounts by mass."""

    __slots__ = ()
    _views = {
        "steps": PrepareStep,
        "stuffing": StuffingAmount,
        "salt": SaltAmount,
        "allergens": AllergenSummary,
        "findings": Finding,
    }

    steps: tuple[PrepareStep, ...]
    stuffing: StuffingAmount | None
    fat: Quantity | None
    """Fat for the skin by mass, as butter."""
    fat_volume: Quantity | None
    salt: SaltAmount | None
    """Salt for a bird that holds none yet."""
    allergens: AllergenSummary | None
    findings: tuple[Finding, ...]
    rules: tuple[str, ...]


def prepare(
    mass: QuantityLike,
    *,
    stuffed: bool | None = None,
    already_salted: bool | None = None,
    ingredients: Sequence[str] | None = None,
    allergen_list: str | None = None,
    avoid: Sequence[str] | None = None,
    species: str | None = None,
    cut: str | None = None,
    standard: str | None = None,
    on: date | str | None = None,
    house_rules: str | None = None,
) -> Prepare:
    """Say step by step how a bird of this mass is prepared.

    ``stuffed`` is about stuffing to be eaten; ``already_salted`` about a bird brined, basted or kosher.
    ``ingredients`` are those whose allergens are wanted, ``avoid`` the allergens that a guest avoids.
    """
    fields = {
        "mass": mass,
        "stuffed": stuffed,
        "already_salted": already_salted,
        "ingredients": ingredients,
        "allergen_list": allergen_list,
        "avoid": avoid,
        "species": species,
        "cut": cut,
        "standard": standard,
        "on": on,
        "house_rules": house_rules,
    }
    return Prepare._adopt(ask("prepare", fields))


def allergens(
    ingredients: Sequence[str],
    *,
    list: str | None = None,
    avoid: Sequence[str] | None = None,
    standard: str | None = None,
    house_rules: str | None = None,
) -> Allergens:
    """Name the allergens of ingredients given in plain words.

    ``list`` is the list of allergens, ``"us-nine"`` or ``"eu-uk-fourteen"``; ``avoid`` what a guest avoids.
    """
    fields = {
        "ingredients": ingredients,
        "list": list,
        "avoid": avoid,
        "standard": standard,
        "house_rules": house_rules,
    }
    return Allergens._adopt(ask("allergens", fields))
