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
    """The allergens of one ingredient.

    Examples
    --------
    >>> allergens(["butter"]).ingredients[0].contains
    ('milk',)
    """

    __slots__ = ()
    ingredient: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    """Allergens a bought one may hold: read its label."""
    note: str | None


class AllergenSummary(Record):
    """The allergens of a list of ingredients, inside a larger answer.

    Examples
    --------
    >>> prepare("12 lb", ingredients=["butter"]).allergens.contains
    ('milk',)
    """

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
    """The allergens of a list of ingredients.

    Examples
    --------
    >>> found = allergens(["butter", "unknown spice"])
    >>> found.contains, found.unknown
    (('milk',), ('unknown spice',))
    """

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
    """One thing to do, or never to do.

    Examples
    --------
    >>> step = prepare("12 lb").steps[0]
    >>> step.when, step.rule
    ('throughout', 'us-consumer.prepare.hands')
    """

    __slots__ = ()
    when: str
    text: str
    rule: str | None


class StuffingAmount(Record):
    """How much stuffing a bird takes.

    Examples
    --------
    >>> stuffing = prepare("12 lb", stuffed=True).stuffing
    >>> stuffing.volume_low, stuffing.volume_high
    (Quantity(6, 'cup'), Quantity(9, 'cup'))
    """

    __slots__ = ()
    volume_low: Quantity
    volume_high: Quantity
    mass_low: Quantity
    mass_high: Quantity


class Prepare(Answer, kind="prepare"):
    """How a bird is prepared, with amounts by mass.

    Examples
    --------
    >>> prepare("12 lb").steps[2].when
    'throughout'
    """

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

    Parameters
    ----------
    mass : QuantityLike
        Mass of the bird (kg, g, mg, lb, oz).
    stuffed : bool, optional
        Whether the bird is stuffed with stuffing to be eaten.
    already_salted : bool, optional
        Whether the bird already holds salt: brined, basted or kosher.
    ingredients : Sequence[str], optional
        Ingredients whose allergens are wanted.
    allergen_list : {"us-nine", "eu-uk-fourteen"}, optional
        The list of allergens; the nine of the United States when left out.
    avoid : Sequence[str], optional
        Allergens that a guest avoids.
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
    Prepare
        How a bird is prepared, with amounts by mass.

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
    * USDA Food Safety and Inspection Service, Consumer advice on washing hands, raw poultry and surfaces,
      and on keeping raw food apart
    * USDA Food Safety and Inspection Service, Let's Talk Turkey: A Consumer Guide to Safely Roasting a
      Turkey
    * USDA Food Safety and Inspection Service, Hock Locks and Other Accoutrements

    Examples
    --------
    >>> prepare("12 lb").steps[0].rule
    'us-consumer.prepare.hands'
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

    Parameters
    ----------
    ingredients : Sequence[str]
        The ingredients in plain words, at most 200 of at most 200 bytes.
    list : {"us-nine", "eu-uk-fourteen"}, optional
        The list; the nine of the United States when left out.
    avoid : Sequence[str], optional
        Allergens that a guest avoids.
    standard : str, optional
        The standard to answer by; ``"us-consumer"`` when left out. `rules` lists them all.
    house_rules : str, optional
        Rules of the caller's own as TOML text; a looser one than the standard's never decides.

    Returns
    -------
    Allergens
        The allergens of a list of ingredients.

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
    * US Food and Drug Administration, Food Allergies: the major food allergens (since 1 January 2023, with
      sesame)

    Examples
    --------
    >>> allergens(["wheat flour", "butter"]).contains
    ('milk', 'wheat')
    """
    fields = {
        "ingredients": ingredients,
        "list": list,
        "avoid": avoid,
        "standard": standard,
        "house_rules": house_rules,
    }
    return Allergens._adopt(ask("allergens", fields))
