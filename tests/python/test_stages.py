"""Each question through its function, against the printed source."""

import inspect
import json

import pytest

import poulter
from poulter import Quantity

SCHEMAS = {"request": poulter.request_schema, "response": poulter.response_schema}


def of_kind(which, kind):
    """The properties of one kind in the schema, by following its references."""
    schema = json.loads(SCHEMAS[which]())
    (variant,) = [
        item for item in schema["oneOf"] if item["properties"]["kind"].get("const") == kind
    ]

    def properties(node):
        node = schema["$defs"][node["$ref"].rsplit("/", 1)[1]] if "$ref" in node else node
        return node.get("properties", {})

    found = {**variant["properties"], **properties(variant)}
    if which == "response":
        found = properties(found["answer"])
    return set(found) - {"kind"}


@pytest.mark.parametrize("kind", sorted(set(poulter.kinds()) - {"plan"}))
def test_a_function_takes_the_fields_of_its_question(kind):
    assert set(inspect.signature(getattr(poulter, kind)).parameters) == of_kind("request", kind)


def test_an_order_has_the_fields_of_its_question():
    assert set(inspect.signature(poulter.Order).parameters) == of_kind("request", "plan")


@pytest.mark.parametrize("kind", poulter.kinds())
def test_an_answer_declares_the_fields_of_the_core(kind):
    declared = set(poulter.Answer._classes[kind].__annotations__) - {"_views"}
    assert declared == of_kind("response", kind)


@pytest.mark.parametrize(
    "record", [record for record in poulter.Record.__subclasses__() if record is not poulter.Answer]
)
def test_a_record_declares_the_fields_of_the_core(record):
    renamed = {"Check": "Record"}
    definitions = json.loads(poulter.response_schema())["$defs"]
    name = renamed.get(record.__name__, record.__name__)
    assert set(record.__annotations__) == set(definitions[name]["properties"])


def test_the_minimum_of_165_is_judged_under_at_and_over_in_both_units():
    # USDA FSIS, Safe Minimum Internal Temperature Chart: all poultry 165 °F; 165 °F is 73.888… °C.
    for reading, expected in [
        ("164.999 degF", "fails"),
        ("165 degF", "meets"),
        ("165.001 degF", "meets"),
        ("73.888 degC", "fails"),
        ("73.889 degC", "meets"),
    ]:
        places = {"breast": reading, "thigh": "170 degF", "wing": "170 degF"}
        assert poulter.check_cooking(places).verdict == expected, reading


def test_a_place_missing_cannot_tell_and_a_place_low_fails():
    high = Quantity(170, "degF")
    assert poulter.check_cooking({}).verdict == "cannot-tell"
    assert poulter.check_cooking({"breast": high, "thigh": high}).verdict == "cannot-tell"
    assert (
        poulter.check_cooking({"breast": high, "thigh": high, "wing": None}).verdict
        == "cannot-tell"
    )
    assert poulter.check_cooking({"breast": (160, "degF"), "thigh": high}).verdict == "fails"


def test_the_thermometer_may_be_wrong():
    places = dict.fromkeys(("breast", "thigh", "wing"), "166 degF")
    assert poulter.check_cooking(places, accuracy="1 delta_degF").verdict == "meets"
    verdict = poulter.check_cooking(places, accuracy="1.001 delta_degF")
    assert verdict.verdict == "fails"
    assert verdict.findings[0].margin == Quantity(-0.001, "delta_degF")


def test_the_roasting_table_comes_back():
    # USDA FSIS, Turkey Basics: Safe Cooking, unstuffed: 12 to 14 pounds, 3 to 3 3/4 hours at 325 °F.
    roast = poulter.roast_time("13 lb")
    assert str(roast.time) == "3 h to 3 h 45 min"
    assert [phase.dial for phase in roast.oven] == [Quantity(325, "degF")]
    # Stuffed: 12 to 14 pounds, 3 1/2 to 4 hours.
    assert str(poulter.roast_time("13 lb", stuffed=True).time) == "3 h 30 min to 4 h"


def test_a_pound_for_each_guest():
    # USDA FSIS, Turkey Basics: Safe Thawing / Let's Talk Turkey: 1 pound per person for a whole bird.
    answer = poulter.purchase(adults=10)
    assert answer.buy == Quantity(10, "lb") and answer.birds == 1
    assert answer.on_the_plate is not None and answer.on_the_plate.meat < Quantity(10, "lb")
