"""Quantities: every way to write one, exact equality, and conversion by the core."""

import copy
import decimal
import pickle
from datetime import timedelta
from types import MappingProxyType

import pint
import pytest

import poulter
from poulter import Quantity

PINT: pint.UnitRegistry = pint.UnitRegistry()

FIFTEEN_POUNDS = [
    "15 lb",
    "14 lb 16 oz",
    "240 oz",
    (15, "lb"),
    (15.0, "lb"),
    (decimal.Decimal("15"), "lb"),
    Quantity(15, "lb"),
    Quantity.parse("15 lb"),
    {"value": 15, "unit": "lb"},
    MappingProxyType({"value": 15, "unit": "lb"}),
    PINT.Quantity(15, "lb"),
    PINT.Quantity(240, "oz"),
]


@pytest.mark.parametrize("mass", FIFTEEN_POUNDS, ids=str)
def test_every_way_to_write_a_mass_gives_the_same_answer(mass):
    assert poulter.thaw_time(mass, method="refrigerator") == poulter.thaw_time(
        "15 lb", method="refrigerator"
    )


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # BIPM SI Brochure and NIST SP 811, appendix B: exact by definition.
        ((41, "degF"), (5, "degC")),
        ((140, "degF"), (60, "degC")),
        ((1, "lb"), (0.45359237, "kg")),
        ((16, "oz"), (1, "lb")),
        ((1, "d"), (24, "h")),
        ((9, "delta_degF"), (5, "delta_degC")),
        ((1, "in"), (25.4, "mm")),
    ],
)
def test_the_same_amount_is_equal_whatever_the_unit(one, other):
    assert Quantity(*one) == Quantity(*other)
    assert hash(Quantity(*one)) == hash(Quantity(*other))
    assert Quantity(*one).to(other[1]).value == other[0]


def test_unequal_amounts_are_ordered_and_told_apart_at_the_last_thousandth():
    limit = Quantity(165, "degF")
    assert Quantity(164.999, "degF") < limit < Quantity(165.001, "degF")
    assert limit <= Quantity(165, "degF") <= limit
    assert Quantity(165.001, "degF") >= limit > Quantity(73.888, "degC")
    assert Quantity(74, "degC") != limit


def test_different_sorts_are_unequal_and_have_no_order():
    assert Quantity(1, "lb") != Quantity(1, "h")
    assert Quantity(1, "lb") != 1
    with pytest.raises(TypeError):
        _ = Quantity(1, "lb") < Quantity(1, "h")
    with pytest.raises(TypeError):
        _ = Quantity(1, "lb") < 2  # type: ignore[operator]


@pytest.mark.parametrize("unit", [unit for unit in poulter.units() if unit not in {"1", "%"}])
def test_units_agree_with_pint(unit):
    names = {"floz": "fluid_ounce", "min": "minute", "d": "day", "qt": "quart", "h": "hour"}
    names |= {"delta_degC": "delta_degC", "delta_degF": "delta_degF"}
    base = {
        "[mass]": ("kg", "kilogram"),
        "[time]": ("s", "second"),
        "[length]": ("m", "meter"),
        "[length] ** 3": ("L", "liter"),
        "[temperature]": ("K", "kelvin"),
    }
    theirs = PINT.Quantity(7, names.get(unit, unit))
    wire, pint_name = base[str(theirs.dimensionality)]
    expected = theirs.to(pint_name).magnitude
    assert poulter.convert(7, unit, wire) == pytest.approx(expected, rel=1e-7)
    assert Quantity(7, unit).to(wire).value == poulter.convert(7, unit, wire)


def test_pint_temperatures_and_differences_stay_apart():
    readings = {"breast": PINT.Quantity(75, "degC"), "thigh": PINT.Quantity(170, "degF")}
    request = {"kind": "check_cooking", "readings": readings}
    assert outcome(request) == outcome(
        {"kind": "check_cooking", "readings": {"breast": "75 degC", "thigh": "170 degF"}}
    )
    with pytest.raises(poulter.UnitError) as caught:
        poulter.check_cooking({"breast": PINT.Quantity(75, "delta_degC")})
    assert caught.value.field == "readings.breast"


def outcome(request):
    try:
        return poulter.evaluate(request).to_dict()
    except poulter.PoulterError as error:
        return vars(error)


def test_an_unknown_pint_unit_names_the_known_ones():
    with pytest.raises(poulter.UnitError) as caught:
        poulter.thaw_time(PINT.Quantity(1, "stone"), method="refrigerator")
    assert (caught.value.code, caught.value.field, caught.value.given) == (202, "mass", "stone")
    assert "pound" in caught.value.expected


def test_a_timedelta_is_a_duration():
    request = {"kind": "check_cooking", "readings": {"breast": "160 degF"}}
    assert outcome(request | {"held": timedelta(minutes=2)}) == outcome(request | {"held": "120 s"})


def test_a_quantity_is_frozen_copied_and_pickled():
    quantity = Quantity(4.5, "lb")
    assert (quantity.value, quantity.unit) == (4.5, "lb")
    assert (str(quantity), repr(quantity)) == ("4.5 lb", "Quantity(4.5, 'lb')")
    with pytest.raises(AttributeError):
        quantity.value = 5  # type: ignore[misc]
    for twin in (
        copy.copy(quantity),
        copy.deepcopy(quantity),
        *(pickle.loads(pickle.dumps(quantity, level)) for level in range(2, 6)),
        eval(repr(quantity)),
    ):
        assert (twin.value, twin.unit) == (4.5, "lb")
    assert len({quantity, Quantity(72, "oz"), Quantity(4.5, "kg")}) == 2


def test_an_amount_is_shown_as_the_trade_writes_it():
    assert Quantity(4.5, "lb").shown() == "4 lb 8 oz"
    assert Quantity(3.75, "h").shown() == "3 h 45 min"
    assert Quantity(6.8, "kg").shown() == "6.8 kg"
    assert Quantity(165, "degF").shown() == "165 °F"


def test_a_negative_margin_is_a_quantity():
    assert Quantity(-30, "min") < Quantity(0, "h")


@pytest.mark.parametrize(
    ("value", "unit", "error", "code"),
    [
        (float("nan"), "lb", poulter.InputError, 106),
        (float("inf"), "lb", poulter.InputError, 106),
        (1, "stone", poulter.UnitError, 202),
        (1, "F", poulter.UnitError, 202),
        (1, "LB", poulter.UnitError, 202),
    ],
)
def test_a_quantity_that_cannot_be_is_refused(value, unit, error, code):
    with pytest.raises(error) as caught:
        Quantity(value, unit)
    assert caught.value.code == code


def test_conversion_between_sorts_is_refused():
    with pytest.raises(poulter.UnitError) as caught:
        poulter.convert(1, "lb", "h")
    assert caught.value.expected == "one of the units kg, g, mg, lb, oz is needed"
    with pytest.raises(poulter.UnitError):
        Quantity.parse("400")
