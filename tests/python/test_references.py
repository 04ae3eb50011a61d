"""Answers held to reference libraries and tables: CoolProp, fluids, icalendar, and the USDA nutrient database."""

from datetime import timedelta
from pathlib import Path

import fluids
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


EARTH = 6356766.0
"""Radius of the standard atmosphere of 1976, m."""


@pytest.mark.parametrize("metres", [-500, 0, 152.4, 914.4, 1524, 2286, 3048, 3657.6, 5500, 9000])
def test_pressure_and_boil_are_those_of_the_references(metres):
    answer = poulter.altitude(f"{metres} m")
    # The formula's height is a geopotential one; fluids 1.3 takes the geometric height that belongs to it.
    geometric = EARTH * metres / (EARTH - metres)
    assert answer.pressure_Pa == pytest.approx(fluids.ATMOSPHERE_1976(geometric).P, rel=1e-4)
    # For a cook the two heights are one: 0.2 per cent of the pressure at 9000 m.
    assert answer.pressure_Pa == pytest.approx(fluids.ATMOSPHERE_1976(metres).P, rel=2.5e-3)
    boil = PropsSI("T", "P", answer.pressure_Pa, "Q", 0, "Water") - 273.15
    assert answer.boils_at.to("degC").value == pytest.approx(boil, abs=0.02)


# USDA National Nutrient Database for Standard Reference, Release 26: mg of sodium in 100 g, meat and skin, roasted.
SODIUM = [
    ("turkey", None, 103),
    ("turkey", "8 %", 224),
    ("chicken", None, 82),
    ("duck", None, 59),
    ("goose", None, 70),
]


@pytest.mark.parametrize(("species", "solution", "milligrams"), SODIUM)
def test_sodium_is_that_of_the_nutrient_database(species, solution, milligrams):
    plain = poulter.brine("4 kg", method="none", species=species, solution_added=solution).sodium
    # A serving of 3 oz, 85 g, to the milligram; the Daily Value is 2300 mg.
    assert plain.low.to("mg").value == pytest.approx(0.85 * milligrams, abs=0.5)
    assert plain.daily_value_low.to("%").value == pytest.approx(0.85 * milligrams / 23, abs=0.051)


POUND = 453.59237
# The same database: grams of the raw bird, then of cooked meat and of cooked meat with skin. For turkey the roasted
# mass less its refuse; for the others the weight that the table gives for a pound as bought.
YIELDS = [
    ("turkey", None, 5002, 3812 * (1 - 0.31 - 0.07), 3812 * (1 - 0.31)),
    ("turkey", "8 %", 5717, 4147 * (1 - 0.36 - 0.09), 4147 * (1 - 0.36)),
    ("chicken", None, POUND, 146, 178),
    ("capon", None, POUND, 196, 196),
    ("duck", None, POUND, 100, 173),
    ("goose", None, POUND, 143, 188),
]


@pytest.mark.parametrize("standard", ["us-consumer", "uk"])
@pytest.mark.parametrize(("species", "solution", "raw", "meat", "with_skin"), YIELDS)
def test_yields_are_those_of_the_nutrient_database(species, solution, raw, meat, with_skin, standard):
    if standard == "uk" and species == "turkey":
        pytest.skip("no yield of a whole turkey is kept outside the rules of the United States")
    plate = poulter.purchase(
        mass=f"{raw:.3f} g", species=species, solution_added=solution, standard=standard
    ).on_the_plate
    # The rule for turkey with skin is the buying guide's 53 per cent, where the database gives 52.6.
    assert plate.meat.to("g").value == pytest.approx(meat, rel=0.005)
    assert plate.with_skin.to("g").value == pytest.approx(with_skin, rel=0.009)
    pack = "without" if species == "turkey" else "with"
    assert plate.raw_mass_is == f"the bird {pack} neck and giblets"


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
