"""Checks, marks and rules through their functions, against the printed source, just under, at and just over."""

from datetime import date, timedelta

import pint
import pytest

import poulter
from poulter import Quantity

CODE = "us-food-code-2022"
UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("side", "reading", "expected"),
    [
        # FDA Food Code 2022, 3-501.16(A): 57 °C (135 °F) or above, 5 °C (41 °F) or below.
        ("hot", "134.999 degF", "fails"),
        ("hot", "135 degF", "meets"),
        ("hot", "135.001 degF", "meets"),
        ("cold", "40.999 degF", "meets"),
        ("cold", "41 degF", "meets"),
        ("cold", "41.001 degF", "fails"),
    ],
)
def test_holding_is_judged_under_at_and_over(side, reading, expected):
    assert poulter.check_holding([reading], side=side, standard=CODE).verdict == expected
    missed = poulter.check_holding([reading, None], side=side, standard=CODE).verdict
    assert missed == ("fails" if expected == "fails" else "cannot-tell")


@pytest.mark.parametrize("readings", [(Quantity(150, "degF"), "134 degF"), [(150, "degF"), "134 degF"]])
def test_two_readings_are_never_taken_for_a_number_with_its_unit(readings):
    assert poulter.check_holding(readings, side="hot", standard=CODE).verdict == "fails"
    assert poulter.check_reheating(readings).verdict == "fails"
    assert poulter.check_holding(iter(readings), side="hot", standard=CODE).verdict == "fails"


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: poulter.check_holding("150 degF", side="hot"), "temperatures"),
        (lambda: poulter.check_holding((150, "degF"), side="hot"), "temperatures[0]"),
        (lambda: poulter.check_holding(Quantity(150, "degF"), side="hot"), "temperatures"),
        (lambda: poulter.check_holding(UNITS.Quantity(150, "degF"), side="hot"), "temperatures"),
        (lambda: poulter.check_reheating("165 degF"), "temperatures"),
        (lambda: poulter.check_thawing("39 degF", method="refrigerator"), "temperatures"),
        (lambda: poulter.label_state("30 degF"), "temperatures"),
        (lambda: poulter.date_mark("2026-11-01", today="2026-11-02"), "prepared"),
        (lambda: poulter.check_time_out("1 h"), "periods"),
        (lambda: poulter.check_cooling("1 h"), "readings"),
        (lambda: poulter.compare("hold.hot", standards="uk"), "standards"),
        (lambda: poulter.strictest_holding("hot", standards=["uk"]), "check"),
    ],
)
def test_one_thing_in_the_place_of_a_list_is_refused(ask, field):
    with pytest.raises(poulter.InputError) as caught:
        ask()
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("minutes", "expected"), [(119, "meets"), (120, "meets"), (121, "fails")]
)
def test_periods_out_are_added_up(minutes, expected):
    # USDA FSIS, "Danger Zone": never out of refrigeration over 2 hours.
    air = "70 degF"
    periods = [(timedelta(minutes=60), air), (timedelta(minutes=minutes - 60), air)]
    answer = poulter.check_time_out(periods)
    assert (answer.verdict, answer.total) == (expected, Quantity(minutes, "min"))
    mappings = [{"duration": time, "surroundings": air} for time, air in periods]
    assert poulter.check_time_out(mappings) == answer
    assert poulter.check_time_out([*periods, (None, air)]).verdict != "meets"


@pytest.mark.parametrize(
    ("elapsed", "expected"), [("239 min", "meets"), ("4 h", "meets"), ("241 min", "fails")]
)
def test_four_hours_without_temperature_control(elapsed, expected):
    # FDA Food Code 2022, 3-501.19(B): from 57 °C (135 °F) or above when removed, within 4 hours, marked.
    order = {"start": "135 degF", "marked": True, "procedure": True, "standard": CODE}
    answer = poulter.check_time_control("four-hours", from_="hot", elapsed=elapsed, **order)
    assert answer.verdict == expected
    assert poulter.check_time_control("four-hours", from_="hot").verdict == "cannot-tell"


@pytest.mark.parametrize(
    ("reading", "expected"), [("164.999 degF", "fails"), ("165 degF", "meets"), ("165.001 degF", "meets")]
)
def test_reheating_is_judged_under_at_and_over(reading, expected):
    # USDA FSIS, Leftovers and Food Safety: reheat to 165 °F.
    assert poulter.check_reheating([reading, "170 degF"]).verdict == expected


@pytest.mark.parametrize(
    ("minutes", "expected"), [(239, "meets"), (240, "meets"), (241, "fails"), (None, "cannot-tell")]
)
def test_time_above_the_cold_limit_in_running_water(minutes, expected):
    # FDA Food Code 2022, 3-501.13(B)(4): raw food above 5 °C (41 °F) for at most 4 hours, preparation included.
    above = None if minutes is None else timedelta(minutes=minutes)
    order = {"method": "running-water", "above_cold": above, "standard": CODE}
    assert poulter.check_thawing(["70 degF", "65 degF"], **order).verdict == expected
    assert poulter.check_thawing(["70.001 degF"], **order).verdict == "fails"
    assert poulter.check_thawing(["70 degF", None], **order).verdict != "meets"


@pytest.mark.parametrize(
    ("today", "expected"), [(6, "meets"), (7, "meets"), (8, "fails")]
)
def test_a_date_mark_is_seven_days_with_the_day_of_preparation_as_the_first(today, expected):
    # FDA Food Code 2022, 3-501.17(A): 5 °C (41 °F) or less for at most 7 days, the day of preparation is day 1.
    prepared = [date(2026, 11, 2), date(2026, 11, 1)]
    answer = poulter.date_mark(prepared, today=date(2026, 11, today), warmest="41 degF")
    assert (answer.verdict, answer.last_day, answer.days_used) == (expected, "2026-11-07", today)


def test_the_days_in_the_freezer_do_not_count():
    # FDA Food Code 2022, 3-501.17(C): the count stops while the food is frozen. In on the 3rd and out on the 10th, six
    # days lie wholly in the freezer.
    def mark(came_out):
        stay = [(date(2026, 11, 3), came_out)]
        return poulter.date_mark(["2026-11-01"], today="2026-11-12", frozen=stay, warmest="41 degF")

    answer = mark(date(2026, 11, 10))
    assert (answer.verdict, answer.last_day, answer.days_used) == ("meets", "2026-11-13", 6)
    assert mark(None).last_day is None


@pytest.mark.parametrize(
    ("reading", "word", "verdict"),
    [
        # 9 CFR 381.129(b)(6): "fresh" only if never below 26 °F; "frozen" at 0 °F or below.
        ("26.001 degF", "fresh", "meets"),
        ("26 degF", "fresh", "meets"),
        ("25.999 degF", "no-word", "fails"),
        ("0.001 degF", "no-word", "fails"),
        ("0 degF", "frozen", "fails"),
        ("-0.001 degF", "frozen", "fails"),
    ],
)
def test_a_label_says_fresh_down_to_26(reading, word, verdict):
    answer = poulter.label_state(["38 degF", reading], says="fresh")
    assert (answer.word, answer.verdict) == (word, verdict)
    assert poulter.label_state([reading]).verdict is None


@pytest.mark.parametrize(
    ("appliance", "off_for", "verdict"),
    [
        # FoodSafety.gov, Food Safety During Power Outage: refrigerator 4 hours, full freezer 48, half full 24.
        ("refrigerator", "239 min", "meets"),
        ("refrigerator", "4 h", "meets"),
        ("refrigerator", "241 min", "fails"),
        ("freezer-full", "48 h", "meets"),
        ("freezer-full", "2881 min", "cannot-tell"),
        ("freezer-half", "24 h", "meets"),
        ("freezer-half", "1441 min", "cannot-tell"),
    ],
)
def test_a_shut_door_keeps_food_for_the_hours_of_the_source(appliance, off_for, verdict):
    answer = poulter.power_failure(appliance, off_for=off_for, door_shut=True)
    assert answer.verdict == verdict
    assert poulter.power_failure(appliance, off_for=off_for).verdict != "meets"


def test_water_boils_lower_on_a_mountain_and_the_minimum_stays():
    # ICAO standard atmosphere at 1500 m: 84 556 Pa; steam tables: saturation at 84.6 kPa is 95.0 °C.
    answer = poulter.altitude("1500 m")
    assert answer.pressure_Pa == pytest.approx(84_556, abs=10)
    assert answer.boils_at.value == pytest.approx(95.0, abs=0.1)
    assert answer.minimum is not None and str(answer.minimum) == ">= 165 °F"
    assert poulter.altitude(UNITS.Quantity(1500, "m")) == answer
    with pytest.raises(poulter.PoulterError) as caught:
        poulter.altitude("9001 m")
    assert caught.value.field == "altitude"


def test_a_plant_may_name_its_process():
    # USDA FSIS, Appendix B (1999). Option 1: 130 to 80 °F within 1.5 h, then to 40 °F within 5 h. Option 2: 120 to 80 °F
    # within 1 h, and to 55 °F within 6 h in all.
    plant = "us-processor"
    quick = [("0 min", "130 degF"), ("90 min", "80 degF"), ("390 min", "40 degF")]
    assert poulter.check_cooling(quick, standard=plant).verdict == "meets"
    slow = [("0 min", "120 degF"), ("60 min", "80 degF"), ("6 h", "55 degF"), ("9 h", "40 degF")]
    assert poulter.check_cooling(slow, standard=plant).verdict == "fails"
    assert poulter.check_cooling(slow, standard=plant, process="option-2").verdict == "meets"
    late = [*slow[:2], ("361 min", "55 degF"), slow[3]]
    assert poulter.check_cooling(late, standard=plant, process="option-2").verdict == "fails"


def test_every_standard_has_a_row_and_each_row_its_source():
    answer = poulter.compare("hold.hot", reading="60 degC")
    assert {"us-consumer", "uk", "scotland", "canada"} <= {row.standard for row in answer.rows}
    for row in answer.rows:
        assert row.rule is None or (isinstance(row.rule, poulter.RuleRow) and row.rule.sources)
    assert "uk.hold.hot: at least 63 °C" in answer._repr_html_()
    # Hot holding: 60 °C in Canada (B.22.026) and Australia (Standard 3.2.2), 63 °C in England (SI 2013/2996).
    verdicts = {row.standard: row.verdict for row in answer.rows}
    assert (verdicts["canada"], verdicts["australia"], verdicts["uk"]) == ("meets", "meets", "fails")


def test_the_book_is_listed_and_narrowed():
    book = poulter.rules().rows
    # Common practice has no document; everything else names one.
    assert {row.kind for row in book if not row.sources} == {"common-practice"}
    narrowed = poulter.rules(standard="uk", stage="serve").rows
    assert narrowed and {(row.standard, row.stage) for row in narrowed} == {("uk", "serve")}
    assert set(narrowed) < set(book)
    with pytest.raises(poulter.RuleError):
        poulter.rules(standard="mars")


def test_the_strictest_takes_the_arguments_of_its_check():
    readings = [(timedelta(0), "135 degF"), (timedelta(hours=2), "70 degF"), (timedelta(hours=6), "41 degF")]
    answer = poulter.strictest_cooling({"readings": readings, "cut": None}, standards=(CODE,))
    assert isinstance(answer, poulter.StrictestVerdict) and answer.kind == "strictest_cooling"
    (member,) = answer.members
    assert member.findings == poulter.check_cooling(readings, standard=CODE).findings
    # Hot holding: 60 °C in Canada (B.22.026), 63 °C in England (SI 2013/2996, Schedule 4).
    check = {"side": "hot", "temperatures": (Quantity(62, "degC"), "64 degC")}
    held = poulter.strictest_holding(check, standards=["canada", "uk"])
    assert (held.verdict, held.decided_by) == ("fails", ("uk",))
    with pytest.raises(poulter.InputError):
        poulter.strictest_holding(check, standards=[])


def test_a_question_as_a_mapping_gives_the_same_class():
    answer = poulter.evaluate({"kind": "rules", "standard": "uk", "topic": "hold.hot"})
    assert isinstance(answer, poulter.RuleList)
    assert answer == poulter.rules(standard="uk", topic="hold.hot")


HOUSE = """
[[rule]]
id = "us-consumer.{topic}.house"
topic = "{topic}"
title = "Rule of this kitchen"
kind = "requirement"
status = "common-practice"
last_checked = "2026-11-25"
requirement = {{ type = "{type}", limit = {{ is = ">=", temperature = "{limit}" }} }}
"""


def test_house_rules_go_with_a_function_and_never_make_it_kinder():
    places = dict.fromkeys(("breast", "thigh", "wing"), "170 degF")
    for limit, expected in [("169.999 °F", "meets"), ("170 °F", "meets"), ("170.001 °F", "fails")]:
        house = HOUSE.format(topic="doneness.bird", type="minimum-temperature", limit=limit)
        answer = poulter.check_cooking(places, house_rules=house)
        assert answer.verdict == expected, limit
        assert any(citation.added_by_caller for citation in answer.citations)
    low = dict.fromkeys(places, "160 degF")
    house = HOUSE.format(topic="doneness.bird", type="minimum-temperature", limit="150 °F")
    answer = poulter.check_cooking(low, house_rules=house)
    assert answer.verdict == "fails"
    assert any("is looser than us-consumer.doneness.bird" in caution for caution in answer.cautions)


def test_house_rules_go_with_columns_and_with_several_standards():
    house = HOUSE.format(topic="hold.hot", type="temperature", limit="150 °F")
    columns = {"elapsed_s": [0, 60, 120], "temp": [145, 145, 145], "unit": "degF", "holding": "hot"}
    assert poulter.check_holding_log(**columns).verdict == "meets"
    assert poulter.check_holding_log(**columns, house_rules=house).verdict == "fails"
    check = {"side": "hot", "temperatures": ["145 °F"]}
    assert poulter.strictest_holding(check, standards=["us-consumer"]).verdict == "meets"
    assert poulter.strictest_holding(check, standards=["us-consumer"], house_rules=house).verdict == "fails"
    assert poulter.rules(topic="hold.hot", house_rules=house).rows[-1].added_by_caller
    with pytest.raises(poulter.RuleError) as caught:
        poulter.check_holding(["145 °F"], side="hot", house_rules="[[rule]]")
    assert caught.value.field.startswith("house_rules")
