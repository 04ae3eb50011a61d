"""Conversion of many numbers, beside Pint."""

import array
from fractions import Fraction

import numpy as np
import pint
import pytest

import poulter

PINT = pint.UnitRegistry()
PAIRS = [
    ("degF", "degF", "degC", "degC"),
    ("degC", "degC", "K", "kelvin"),
    ("lb", "pound", "kg", "kilogram"),
    ("h", "hour", "s", "second"),
    ("cup", "cup", "mL", "milliliter"),
    ("delta_degF", "delta_degF", "delta_degC", "delta_degC"),
]


@pytest.mark.parametrize(("unit", "theirs", "to", "target"), PAIRS)
def test_an_array_is_converted_as_pint_does(unit, theirs, to, target):
    values = np.array([[0.0, 40.0, 41.0], [164.9, 165.0, 165.1]])
    expected = PINT.Quantity(values, theirs).to(target).magnitude
    found = poulter.convert(values, unit, to)
    assert isinstance(found, np.ndarray) and found.shape == values.shape and found.dtype == np.float64
    assert found == pytest.approx(expected, rel=1e-12)
    assert poulter.convert(values[:, ::2], unit, to) == pytest.approx(expected[:, ::2], rel=1e-12)
    assert poulter.convert(values[0].tolist(), unit, to) == pytest.approx(expected[0].tolist(), rel=1e-12)


def test_what_comes_back_is_of_the_kind_that_went_in():
    assert poulter.convert((32, 212), "degF", "degC") == [0.0, 100.0]
    assert poulter.convert(array.array("d", [41.0]), "degF", "degC") == array.array("d", [5.0])
    assert poulter.convert(memoryview(array.array("d", [41.0])), "degF", "degC") == array.array("d", [5.0])
    for empty in ([], ()):
        found = poulter.convert(empty, "degF", "degC")
        assert found == []
    for one in (41, 41.0, np.float32(41), np.float64(41), np.int64(41), Fraction(41)):
        assert poulter.convert(one, "degF", "degC") == 5.0


@pytest.mark.parametrize("empty", [array.array("d"), memoryview(array.array("d")), np.array([]), np.empty((0, 3))])
def test_nothing_converts_to_nothing_of_its_kind(empty):
    found = poulter.convert(empty, "degF", "degC")
    if isinstance(empty, np.ndarray):
        assert isinstance(found, np.ndarray) and (found.shape, found.dtype) == (empty.shape, np.float64)
    else:
        assert found == array.array("d")


def test_a_missing_number_stays_missing():
    found = poulter.convert([None, float("nan"), 32], "degF", "degC")
    assert np.isnan(found[:2]).all() and found[2] == 0.0


# Absolute zero is -459.67 °F by the definition of the kelvin (SI Brochure, 9th edition, 2.3.1).
@pytest.mark.parametrize(("value", "fine"), [(-459.68, False), (-459.67, True), (-459.66, True)])
def test_no_number_is_below_absolute_zero(value, fine):
    if fine:
        assert poulter.convert([0.0, value], "degF", "K")[1] == pytest.approx(value + 459.67, abs=0.01)
        return
    with pytest.raises(poulter.InputError) as caught:
        poulter.convert([0.0, value], "degF", "K")
    assert caught.value.field == "values[1].value"


@pytest.mark.parametrize(
    ("value", "given"),
    [
        (np.ma.masked_array([1.0, 2.0], [False, True]), "an array with a mask"),
        (np.ma.masked_array([[1.0], [2.0]], [[False], [True]]), "an array with a mask"),
        (np.ma.masked_array([]), "an array with a mask"),
        (np.array([1, 2]), "a buffer of format l"),
        (b"12", "a buffer of format B"),
        ("12", "str"),
        ({"a": 1.0}, "dict"),
        (None, "NoneType"),
        (["a"], "list"),
    ],
)
def test_what_is_no_number_is_refused_by_name(value, given):
    with pytest.raises(poulter.InputError) as caught:
        poulter.convert(value, "lb", "kg")
    assert (caught.value.field, caught.value.given) == ("value", given)


@pytest.mark.parametrize(("unit", "to"), [("lb", "h"), ("degF", "delta_degC"), ("F", "degC"), ("lb", "pound")])
@pytest.mark.parametrize("value", [1.0, [1.0], np.array([1.0])])
def test_units_of_two_sorts_and_unknown_ones_are_refused(value, unit, to):
    with pytest.raises(poulter.UnitError):
        poulter.convert(value, unit, to)
