"""Each question through its function, against the printed source."""

import inspect
import json
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

import poulter
from poulter import Quantity

WITHOUT_RULES = {
    "forecast",
    "growth",
    "lethality",
    "oven_energy",
    "simulate_cooling",
    "simulate_rest",
    "simulate_roast",
    "simulate_thaw",
}
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
    fields = of_kind("request", kind)
    if kind in WITHOUT_RULES:
        # House rules may stand in any question; these rest on no rule.
        fields = fields - {"house_rules"}
    if "log" in fields:
        # A log comes as columns or, to be judged, as text.
        fields = fields - {"log"} | {"elapsed_s", "temp", "unit"} | ({"csv"} if "standard" in fields else set())
    # `from` is no name in Python; the argument is called from_.
    taken = {name.rstrip("_") for name in inspect.signature(getattr(poulter, kind)).parameters}
    # On the wire `kind` names the question, so that of a rule is rule_kind there.
    assert taken == {"kind" if name == "rule_kind" else name for name in fields}


def test_an_order_has_the_fields_of_its_question():
    fields = of_kind("request", "plan")
    # `class` is no name in Python; the argument is called class_, the attribute too.
    assert {name.rstrip("_") for name in inspect.signature(poulter.Order).parameters} == fields
    assert {name.rstrip("_") for name in poulter.Order.__annotations__} | {"class"} == fields


@pytest.mark.parametrize("kind", poulter.kinds())
def test_an_answer_declares_the_fields_of_the_core(kind):
    declared = set(poulter.Answer._classes[kind].__annotations__) - {"_order"}
    assert declared == of_kind("response", kind)


@pytest.mark.parametrize(
    "record", sorted(
        set(poulter.Record.__subclasses__()) - {poulter.Answer, poulter.Order}, key=lambda r: r.__name__
    ),
)
def test_a_record_declares_the_fields_of_the_core(record):
    renamed = {"AllergenSummary": "Allergens", "Check": "Record"}
    definitions = json.loads(poulter.response_schema())["$defs"]
    name = renamed.get(record.__name__, record.__name__)
    # `is` is no name in Python; the records that have it call it comparison.
    declared = {"is" if hasattr(record, "comparison") else "", *record.__annotations__} - {""}
    # Nor is `from`: the start of a use is read as an item.
    declared |= {"from"} if record is poulter.Use else set()
    assert declared == set(definitions[name]["properties"])


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


def test_a_raw_bird_keeps_a_day_or_two():
    # USDA FSIS, Refrigeration and Food Safety, cold storage chart: fresh whole poultry 1 to 2 days at 40 °F or below.
    answer = poulter.storage("raw-whole", place="refrigerator", since=date(2026, 12, 18))
    assert (answer.keeps.low, answer.keeps.high) == (Quantity(1, "d"), Quantity(2, "d"))
    assert (answer.use_by, answer.last_day) == ("2026-12-19", "2026-12-20")
    assert answer.temperature is not None and str(answer.temperature) == "<= 40 °F"


def test_leftovers_must_be_cold_within_two_hours():
    # USDA FSIS, Leftovers and Food Safety: within 2 hours of cooking; reheat to 165 °F.
    served = datetime(2026, 12, 19, 18, 30, tzinfo=ZoneInfo("Europe/Lisbon"))
    answer = poulter.leftovers(cooked_at=served)
    assert answer.chill_within is not None and str(answer.chill_within) == "<= 2 h"
    assert answer.chill_by == "2026-12-19T20:30:00+00:00[Europe/Lisbon]"
    assert answer.reheat is not None and answer.reheat.temperature == Quantity(165, "degF")
    for after, expected in [("119 min", "meets"), ("2 h", "meets"), ("121 min", "fails")]:
        judged = poulter.leftovers(chilled_after=after, surroundings="70 degF")
        verdicts = [f.verdict for f in judged.findings if f.verdict]
        assert expected in verdicts, after


def test_cooling_is_judged_from_pairs_and_from_mappings():
    # FDA Food Code 2022, 3-501.14: 135 to 70 °F within 2 h, and to 41 °F within 6 h in all.
    pairs = [
        (timedelta(0), "135 degF"),
        (timedelta(hours=2), (70, "degF")),
        (timedelta(hours=6), Quantity(41, "degF")),
    ]
    mappings = [{"elapsed": elapsed, "temperature": reading} for elapsed, reading in pairs]
    code = "us-food-code-2022"
    verdict = poulter.check_cooling(pairs, standard=code)
    assert verdict.verdict == "meets"
    assert poulter.check_cooling(mappings, standard=code) == verdict
    late = [*pairs[:2], (timedelta(hours=6, milliseconds=1), "41 degF")]
    assert poulter.check_cooling(late, standard=code).verdict == "fails"
    missed = [pairs[0], (timedelta(hours=2), None), pairs[2]]
    assert poulter.check_cooling(missed, standard=code).verdict != "meets"


def test_a_brine_names_its_salt_and_refuses_a_volume_without_its_kind():
    answer = poulter.brine("15 lb", method="wet")
    assert answer.allowed and answer.salt is not None and answer.wet is not None
    assert answer.salt.volume_low <= answer.salt.volume_high
    assert answer.wet.vessel > answer.wet.brine_volume
    with pytest.raises(poulter.UnitError) as caught:
        poulter.brine("15 lb", method="wet", salt={"volume": "1 cup"})
    assert caught.value.slug == "salt-kind-missing"


def test_gravy_stock_and_carving_answer():
    assert poulter.gravy(guests=10).liquid == poulter.gravy(guests=10, fat="drippings").liquid
    assert poulter.gravy(guests=20).liquid > poulter.gravy(guests=10).liquid
    assert poulter.stock(bones="2 kg").water > Quantity(0, "L")
    # USDA FSIS: keep hot food at 140 °F or above.
    hold = poulter.rest_and_carve("15 lb").hold_hot
    assert hold is not None and (hold.comparison, hold.temperature) == (">=", Quantity(140, "degF"))


def test_allergens_are_named_and_an_avoided_one_is_found():
    # FD&C Act 201(qq) as amended by the FASTER Act of 2021: milk and wheat are among the nine.
    answer = poulter.allergens(["butter", "wheat flour"], avoid=("wheat",))
    assert {"milk", "wheat"} <= set(answer.contains)
    assert any(finding.kind == "caution" or finding.verdict for finding in answer.findings)
    inside = poulter.prepare("15 lb", ingredients=["butter", "wheat flour"]).allergens
    assert inside is not None and inside.contains == answer.contains
    with pytest.raises(poulter.InputError) as caught:
        poulter.allergens("butter")
    assert caught.value.field == "ingredients"
