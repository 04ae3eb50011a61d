"""Quantities: every way to write one, exact equality, and conversion by the core."""

import concurrent.futures
import contextlib
import copy
import decimal
import pickle
from datetime import datetime, timedelta
from types import MappingProxyType
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pint
import polars as pl
import pyarrow as pa
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
    number = 300 if unit == "K" else 7
    theirs = PINT.Quantity(number, names.get(unit, unit))
    wire, pint_name = base[str(theirs.dimensionality)]
    if unit.startswith("delta_"):
        wire = pint_name = "delta_degC"
    expected = theirs.to(pint_name).magnitude
    assert poulter.convert(number, unit, wire) == pytest.approx(expected, rel=1e-7)
    assert Quantity(number, unit).to(wire).value == poulter.convert(number, unit, wire)


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


# Sums and differences are held against Pint, which keeps temperatures and differences apart too.
@pytest.mark.parametrize(
    ("one", "sign", "other"),
    [
        ((4, "lb"), "+", (8, "oz")),
        ((1, "h"), "-", (90, "min")),
        ((2, "gal"), "+", (3, "cup")),
        ((165, "degF"), "-", (160, "degF")),
        ((74, "degC"), "-", (165, "degF")),
        ((40, "degF"), "+", (5, "delta_degC")),
        ((40, "degF"), "-", (5, "delta_degC")),
        ((5, "delta_degC"), "-", (9, "delta_degF")),
    ],
)
def test_sums_and_differences_are_those_of_pint(one, sign, other):
    ours, theirs = Quantity(*one), PINT.Quantity(*one)
    added, expected = (
        (ours + Quantity(*other), theirs + PINT.Quantity(*other))
        if sign == "+"
        else (ours - Quantity(*other), theirs - PINT.Quantity(*other))
    )
    found = added.to_pint(PINT)
    assert found.dimensionality == expected.dimensionality
    assert found.to(expected.units).magnitude == pytest.approx(expected.magnitude, rel=1e-9, abs=1e-9)
    absolute = {"degC", "degF", "K"}
    assert (added.unit in absolute) == (str(expected.units) in {"degree_Celsius", "degree_Fahrenheit"})


def test_multiples_parts_and_ratios():
    bird = Quantity(15, "lb")
    assert bird * 2 == 2 * bird == Quantity(30, "lb")
    assert bird / 3 == Quantity(5, "lb") and bird * 0.1 == Quantity(1.5, "lb")
    assert bird / Quantity(8, "oz") == 30.0
    assert -bird == bird - bird - bird and abs(-bird) == abs(bird) == bird
    assert sum([bird, Quantity(8, "oz")]) == Quantity(15.5, "lb")
    assert (f"{bird / 7:.2f}", f"{bird}") == ("2.14 lb", "15 lb")
    assert np.float64(2) * bird == bird * np.int64(2) == Quantity(30, "lb")


@pytest.mark.parametrize(
    "act",
    [
        lambda lb, degc: lb + degc,
        lambda lb, degc: lb - Quantity(1, "h"),
        lambda lb, degc: lb / Quantity(1, "h"),
        lambda lb, degc: degc + degc,
        lambda lb, degc: degc * 2,
        lambda lb, degc: degc / 2,
        lambda lb, degc: degc / degc,
        lambda lb, degc: -degc,
        lambda lb, degc: Quantity(1, "delta_degC") - degc,
        lambda lb, degc: Quantity(1, "delta_degC").to("K"),
    ],
)
def test_what_makes_no_sense_is_refused(act):
    with pytest.raises(poulter.UnitError) as caught:
        act(Quantity(1, "lb"), Quantity(20, "degC"))
    assert caught.value.given and caught.value.expected


def test_arithmetic_with_something_else_is_a_type_error():
    for act in (
        lambda q: q + 1,
        lambda q: 1 + q,
        lambda q: q - "1 lb",
        lambda q: q * q,
        lambda q: q * "2",
        lambda q: q * True,
        lambda q: 1 / q,
    ):
        with pytest.raises(TypeError):
            act(Quantity(1, "lb"))
    with pytest.raises(poulter.InputError, match="other than 0"):
        _ = Quantity(1, "lb") / 0
    with pytest.raises(poulter.InputError, match="other than nothing"):
        _ = Quantity(1, "lb") / Quantity(0, "lb")


@pytest.mark.parametrize("unit", poulter.units())
def test_a_pickle_is_exactly_the_amount_in_the_unit_shown(unit):
    quantity = Quantity(207.123, unit)
    others = [quantity]
    for other in poulter.units():
        with contextlib.suppress(poulter.UnitError):
            others.append(quantity.to(other))
    for shown in others:
        for twin in (pickle.loads(pickle.dumps(shown)), copy.deepcopy(shown)):
            assert twin == shown and twin.unit == shown.unit and hash(twin) == hash(shown)


@pytest.mark.parametrize(
    "act",
    [
        lambda text: Quantity.parse(text),
        lambda text: Quantity.of(text),
        lambda text: Quantity(1, text),
        lambda text: Quantity(1, "lb").to(text),
        lambda text: poulter.convert(1, text, "lb"),
        lambda text: poulter.convert(1, "lb", text),
        lambda text: poulter.thaw_time(text, method="refrigerator"),
    ],
)
def test_text_that_is_no_unicode_is_refused_as_input(act):
    with pytest.raises(poulter.InputError, match="lone surrogates") as caught:
        act("15 l\ud800b")
    assert caught.value.slug == "malformed"


@pytest.mark.parametrize("mass", FIFTEEN_POUNDS, ids=str)
def test_anything_accepted_becomes_a_quantity(mass):
    assert Quantity.of(mass) == Quantity(15, "lb")


@pytest.mark.parametrize("given", [15, True, None, ["15 lb"], {"value": 15}, ("15", "lb"), (True, "lb"), object()])
def test_what_is_no_quantity_does_not_become_one(given):
    with pytest.raises(poulter.PoulterError):
        Quantity.of(given)


@pytest.mark.parametrize(
    "time",
    [
        timedelta(minutes=90),
        np.timedelta64(90, "m"),
        np.timedelta64(5_400_000_000_000, "ns"),
        pd.Timedelta("90min"),
        pa.scalar(timedelta(minutes=90)),
        pl.Series([timedelta(minutes=90)])[0],
        pd.Series([timedelta(minutes=90)])[0],
        PINT.Quantity(1.5, "hour"),
    ],
    ids=lambda time: type(time).__module__,
)
def test_times_of_every_library_are_durations(time):
    duration = Quantity.of(time)
    assert duration == Quantity(1.5, "h")
    assert duration.to_timedelta() == timedelta(minutes=90)


@pytest.mark.parametrize(
    "number",
    [np.float64(15), np.float32(15), np.int64(15), np.array(15.0)[()], pa.scalar(15.0), pd.Series([15])[0]],
    ids=lambda number: type(number).__name__,
)
def test_numbers_of_every_library_take_a_unit(number):
    assert Quantity.of((number, "lb")) == Quantity(15, "lb")
    assert poulter.thaw_time((number, "lb"), method="refrigerator").allowed


def test_a_column_with_its_unit_is_a_list_of_readings():
    listed = poulter.check_holding(["140 degF", None, "141 degF"], side="hot")
    for column in (
        np.array([140, np.nan, 141]),
        pd.Series([140, pd.NA, 141], dtype="Int64"),
        pl.Series([140, None, 141]),
        pa.array([140, None, 141]),
    ):
        assert poulter.check_holding((column, "degF"), side="hot") == listed
    texts = pa.array(["140 degF", None, "141 degF"])
    assert poulter.check_holding(texts, side="hot") == listed
    warm = PINT.Quantity(np.array([140.0, 141.0]), "degF")
    assert poulter.check_holding(warm, side="hot") == poulter.check_holding(["140 degF", "141 degF"], side="hot")


def test_moments_of_pandas_are_those_of_the_standard_library():
    zone = ZoneInfo("Europe/Lisbon")
    order = {"guests": {"adults": 4}, "bird": {"species": "chicken"}}
    for moment in (datetime(2026, 10, 25, 1, 30, fold=1, tzinfo=zone), datetime(2026, 12, 19, 18, 30, tzinfo=zone)):
        now = moment - timedelta(days=6)
        theirs = poulter.plan(order | {"serve_at": pd.Timestamp(moment), "now": pd.Timestamp(now)})
        assert theirs == poulter.plan(order | {"serve_at": moment, "now": now})


def test_readings_in_kelvin_have_a_margin():
    findings = poulter.check_cooking({"breast": "330 kelvin"}).findings
    margin = next(finding.margin for finding in findings if finding.margin)
    # 330 K is 134.33 °F, against the 165 °F of the United States.
    assert float(f"{margin.value:.2f}") == -30.67


def test_threads_share_a_quantity_and_an_answer():
    bird, answer = Quantity(15, "lb"), poulter.thaw_time("15 lb", method="refrigerator")

    def work(step):
        total = sum([bird] * step)
        asked = poulter.thaw_time(total / step, method="refrigerator")
        return total / bird, hash(asked) == hash(answer), asked == answer, bird.to("kg").to("lb") == bird

    with concurrent.futures.ThreadPoolExecutor(8) as pool:
        assert list(pool.map(work, range(1, 200))) == [(step, True, True, True) for step in range(1, 200)]
