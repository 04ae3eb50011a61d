"""Answers held to general-purpose reference libraries: CoolProp for brine, icalendar for the calendar."""

from datetime import timedelta
from pathlib import Path

import icalendar
import pytest
from CoolProp.CoolProp import PropsSI

import poulter

ORDERS = Path(__file__).parents[1] / "orders"
SUPPER = (ORDERS / "lakeside-supper.toml").read_text(encoding="utf-8")
# A frozen bird thawed in cold water, so that the plan has changes of water.
WATER = """
serve_at = "2026-12-19T18:30[Europe/Lisbon]"
now = "2026-12-18T20:00[Europe/Lisbon]"
guests = { adults = 6 }
bird = { species = "turkey", mass = "10 lb", state = "frozen" }
methods = { thaw = "cold-water" }
"""


@pytest.mark.parametrize("percent", [1, 3, 5, 5.47, 8, 10, 15, 20])
def test_a_brine_freezes_and_weighs_as_coolprop_says(percent):
    wet = poulter.brine("12 lb", method="wet", strength=f"{percent} %").wet
    fluid = f"INCOMP::MNA[{percent / 100}]"
    freezes = PropsSI("T_FREEZE", "T", 293.15, "P", 101325, fluid)
    assert wet.freezes_at.to("K").value == pytest.approx(freezes, abs=0.05)
    density = PropsSI("D", "T", 277.15, "P", 101325, fluid)
    litres = wet.brine_mass.to("kg").value / density * 1000
    # The volume is rounded up to a hundredth of a litre; the density behind it is right to 0.1 kg/m³.
    within = litres * 0.1 / density
    assert -within <= wet.brine_volume.to("L").value - litres <= 0.01 + within


def events(order):
    plan = poulter.plan(order)
    calendar = icalendar.Calendar.from_ical(plan.to_ics())
    return plan, list(calendar.walk("VEVENT"))


def test_the_calendar_is_read_and_agrees_with_the_plan():
    plan, found = events(SUPPER)
    assert not any(event.errors for event in found)
    assert len({event["UID"] for event in found}) == len(found)
    for step, event in zip(plan.steps, of_steps(found), strict=True):
        # An offset and a zone in brackets, as RFC 9557 has it; Python reads the offset.
        planned = step.window.planned
        moment = planned if not isinstance(planned, str) else icalendar_moment(planned)
        assert event.decoded("DTSTART") == moment
        assert step.title in event["SUMMARY"]
        assert event.walk("VALARM"), step.title


def of_steps(found):
    """The events of the steps themselves, without those that call for a check."""
    return [event for event in found if not event["UID"].endswith("-check@poulter")]


def icalendar_moment(text):
    from datetime import datetime

    return datetime.fromisoformat(text.split("[")[0])


def test_every_change_of_water_has_an_alarm():
    plan, found = events(WATER)
    (thaw,) = [event for step, event in zip(plan.steps, of_steps(found), strict=True) if step.id == "thaw"]
    repeating = [alarm for alarm in thaw.walk("VALARM") if "REPEAT" in alarm]
    assert repeating, "no alarm repeats"
    # USDA FSIS, Turkey Basics: Safe Thawing: change the water every 30 minutes.
    assert {alarm.decoded("DURATION") for alarm in repeating} == {timedelta(minutes=30)}
    # 10 lb: 5 h by the pound, so at least nine changes.
    assert max(int(alarm["REPEAT"]) for alarm in repeating) + 1 >= 9
