"""Errors: one class for each block of codes, every attribute, pickled and copied whole."""

import copy
import pickle

import pytest

import poulter
from poulter import _core, errors

# Blocks of codes and their meaning are fixed: input, units, rules, model range, solver, internal.
CLASS_OF_BLOCK = {
    1: poulter.InputError,
    2: poulter.UnitError,
    3: poulter.RuleError,
    4: poulter.ModelRangeError,
    5: poulter.SolverError,
    9: poulter.PoulterError,
}
ATTRIBUTES = {"code", "slug", "field", "given", "expected", "advice", "citations"}


@pytest.mark.parametrize(("code", "slug", "advice"), _core.error_kinds())
def test_every_kind_of_the_core_has_its_class(code, slug, advice):
    error = _core.refuse(slug, field="bird.mass", given="x", expected="y")
    assert type(error) is CLASS_OF_BLOCK[code // 100] is errors.class_for(code)
    assert vars(error) == {
        "code": code,
        "slug": slug,
        "field": "bird.mass",
        "given": "x",
        "expected": "y",
        "advice": advice,
        "citations": (),
    }
    shown = "x" if slug == "wrong-type" else '"x"'
    assert str(error) == f"bird.mass: {shown} given, y ({advice}; error {code})"


def test_kinds_are_unique_and_every_block_is_known():
    kinds = _core.error_kinds()
    assert len({code for code, _, _ in kinds}) == len({slug for _, slug, _ in kinds}) == len(kinds)
    assert {code // 100 for code, _, _ in kinds} == set(CLASS_OF_BLOCK)


@pytest.mark.parametrize(
    ("error", "bases"),
    [
        (poulter.InputError, (poulter.PoulterError, ValueError)),
        (poulter.UnitError, (poulter.InputError, ValueError)),
        (poulter.RuleError, (poulter.PoulterError, LookupError)),
        (poulter.ModelRangeError, (poulter.PoulterError, ValueError)),
        (poulter.SolverError, (poulter.PoulterError, RuntimeError)),
    ],
)
def test_an_error_is_also_the_builtin_it_resembles(error, bases):
    assert all(issubclass(error, base) for base in bases)


def test_a_refusal_of_the_rules_cites_the_rule():
    with pytest.raises(poulter.RuleError) as caught:
        poulter.thaw_time("60 lb", method="refrigerator")
    error = caught.value
    assert (error.code, error.slug, error.field) == (301, "no-published-row", "mass")
    assert error.given == "60 lb"
    assert error.citations == ("us-consumer.thaw.refrigerator",)


@pytest.mark.parametrize("level", range(pickle.HIGHEST_PROTOCOL + 1))
def test_an_error_survives_pickling(level):
    with pytest.raises(poulter.RuleError) as caught:
        poulter.thaw_time("60 lb", method="refrigerator")
    same(pickle.loads(pickle.dumps(caught.value, level)), caught.value)


def test_an_error_is_copied_whole():
    with pytest.raises(poulter.UnitError) as caught:
        poulter.thaw_time("400", method="refrigerator")
    same(copy.copy(caught.value), caught.value)
    same(copy.deepcopy(caught.value), caught.value)


def same(one, other):
    assert type(one) is type(other)
    assert str(one) == str(other)
    assert vars(one) == vars(other)
    assert vars(one).keys() == ATTRIBUTES


def test_one_can_raise_ones_own():
    error = poulter.PoulterError("no oven")
    assert (str(error), error.code, error.citations) == ("no oven", 0, ())
