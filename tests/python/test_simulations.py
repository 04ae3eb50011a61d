"""The heat model through its functions."""

from datetime import timedelta

import pytest

import poulter
from poulter import Quantity

STILL = [{"temperature": "325 degF"}]
ROAST = {"mass": "12 lb", "start": "40 degF", "target": "165 degF", "oven": STILL}


def test_a_roast_lies_inside_the_printed_row_and_names_it():
    # USDA FSIS, Turkey Basics: Safe Cooking, unstuffed: 12 to 14 pounds, 3 to 3 3/4 hours at 325 degF.
    roast = poulter.simulate_roast("13 lb", start="40 degF", oven=STILL, target="165 degF")
    assert roast.time_to_target is not None
    assert Quantity(3, "h") <= roast.time_to_target.likely <= Quantity(3.75, "h")
    assert any("3 h to 3 h 45 min" in text for text in roast.cautions)
    curve = roast.zones[0].curve
    assert len(curve.elapsed_s) == len(curve.temp_degC) and curve.elapsed_s[1] == 300.0


def test_carry_over_never_counts():
    rest = poulter.simulate_rest(ROAST, room=(72, "degF"), duration=timedelta(minutes=30))
    assert rest.counts_toward_safety is False
    rise = rest.zones[0].rise
    assert rise.low < rise.likely < rise.high


def test_ice_water_cools_faster_than_a_refrigerator():
    food = {"kind": "liquid", "depth": "2 in", "cooled_from": "both-faces", "stirred": True}

    def passed(surroundings):
        stages = [{"surroundings": surroundings, "duration": "24 h"}]
        cooled = poulter.simulate_cooling(food, start="180 degF", stages=stages, thresholds=["70 degF"])
        after = cooled.passings[0].after
        assert after is not None
        return after.likely

    assert passed({"kind": "ice-bath"}) < passed({"kind": "refrigerator", "temperature": "38 degF"})


def test_readings_narrow_a_forecast_as_pairs_and_as_mappings():
    pairs = [("60 min", "66 degF"), (timedelta(minutes=90), (98, "degF"))]
    mappings = [{"elapsed": elapsed, "temperature": reading} for elapsed, reading in pairs]
    seen = poulter.forecast(ROAST, probes={"breast": pairs}, members=200)
    assert poulter.forecast(ROAST, probes={"breast": mappings}, members=200) == seen
    before = poulter.forecast(ROAST, probes={"breast": []}, members=200).time_to_target
    after = seen.time_to_target
    assert before is not None and after is not None and seen.seen == Quantity(90, "min")

    def width(time):
        return time.high.to("min").value - time.low.to("min").value

    assert width(after) < width(before)


def test_what_the_model_does_not_cover_is_refused():
    with pytest.raises(poulter.ModelRangeError) as caught:
        poulter.simulate_roast("5 lb", start="40 degF", oven=STILL, target="165 degF", species="duck")
    assert (caught.value.code, caught.value.field) == (401, "species")


def test_an_order_may_ask_for_the_model():
    order = poulter.Order(
        serve_at="2026-12-19T18:30[Europe/Lisbon]",
        guests={"adults": 4},
        bird={"species": "turkey", "mass": "6 lb", "state": "thawed"},
        use_model=True,
    )
    (roast,) = (step for step in poulter.plan(order).steps if step.id == "roast")
    assert roast.model is not None and roast.model.kind == "model"
    assert roast.model.printed is None and roast.duration == roast.model.time


def minutes(roast):
    assert roast.time_to_target is not None
    return roast.time_to_target.likely.to("min").value


def test_what_takes_heat_takes_time():
    def roast(**handling):
        return poulter.simulate_roast("13 lb", start="40 degF", oven=STILL, target="165 degF", **handling)

    steady = roast()
    for handling in (
        {"oven_lag": {"time_constant": "10 min", "start": "70 degF"}},
        {"door_openings": [{"at": "1 h", "duration": timedelta(minutes=5)}]},
        {"tent": {"until": "2 h"}},
    ):
        assert minutes(roast(**handling)) >= minutes(steady), handling
    # FSIS Appendix A, turkey: 7 log10, and nothing more is counted.
    assert steady.kill.target == 7
    assert steady.zones[0].kill_log10[-1] == 7 and steady.zones[0].kill_log10[0] == 0
    assert "no verdict" in steady.kill.note


def test_a_roast_is_pulled_no_earlier_than_the_minimum():
    # FSIS: 165 degF in every place, whatever the rest may add.
    for target in ("164.9 degF", "165 degF", "165.1 degF"):
        pull = poulter.pull_from_oven({**ROAST, "target": target}, room="72 degF", duration="30 min")
        assert pull.reading == Quantity(165, "degF") and pull.after is not None
