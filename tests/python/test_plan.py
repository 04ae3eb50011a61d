"""The plan through Python: every way to give an order, every part of the answer."""

import copy
import pickle
from datetime import datetime
from html import unescape
from zoneinfo import ZoneInfo

import pytest

import poulter
from poulter import Quantity, _core

LISBON = ZoneInfo("Europe/Lisbon")
TOML = """
serve_at = "2026-12-19T18:30[Europe/Lisbon]"
now = "2026-12-13T09:00[Europe/Lisbon]"
[guests]
adults = 11
children = 3
[bird]
species = "turkey"
mass = "6.8 kg"
state = "frozen"
"""
MAPPING = {
    "serve_at": datetime(2026, 12, 19, 18, 30, tzinfo=LISBON),
    "now": datetime(2026, 12, 13, 9, tzinfo=LISBON),
    "guests": {"adults": 11, "children": 3},
    "bird": {"species": "turkey", "mass": (6.8, "kg"), "state": "frozen"},
}


@pytest.fixture(scope="module")
def plan():
    return poulter.plan(TOML)


def test_every_way_to_give_an_order_gives_the_same_plan(plan):
    order = poulter.Order(**MAPPING)
    native = TOML.replace('"2026-12-13T09:00[Europe/Lisbon]"', "2026-12-13T09:00:00Z")
    assert poulter.plan(MAPPING) == poulter.plan(order) == plan
    assert poulter.evaluate({"kind": "plan", **MAPPING}) == plan
    assert poulter.plan(pickle.loads(pickle.dumps(order))) == plan
    assert poulter.plan(native).feasible


def test_a_plan_ends_at_the_hour_with_steps_in_order(plan):
    assert plan.feasible is True
    assert plan.serve_at.startswith("2026-12-19T18:30:00+00:00")
    planned = [moment(step.window.planned) for step in plan.steps]
    assert planned == sorted(planned)
    (serve,) = (step for step in plan.steps if step.id == "serve")
    assert moment(serve.window.planned) == datetime(2026, 12, 19, 18, 30, tzinfo=LISBON)
    for step in plan.steps:
        assert (
            moment(step.window.earliest)
            <= moment(step.window.planned)
            <= moment(step.window.latest)
        )
        assert step.duration.low <= step.duration.likely <= step.duration.high
        assert all(check.limit and check.otherwise for check in step.record)


def moment(text):
    return datetime.fromisoformat(text.split("[")[0])


def test_a_plan_names_its_bird_rules_and_the_ways_it_weighed(plan):
    assert plan.bird.mass == Quantity(6.8, "kg") and plan.bird.count == 1
    assert any(chain.kept for chain in plan.chains) and all(c.reason for c in plan.chains)
    cited = {citation.rule for citation in plan.citations}
    assert {rule for step in plan.steps for rule in step.rules} <= cited
    assert plan.changes == ()


def test_an_impossible_dinner_is_an_answer_with_what_would_do():
    late = MAPPING | {"now": datetime(2026, 12, 19, 15, tzinfo=LISBON)}
    plan = poulter.plan(late)
    assert plan.feasible is False and plan.steps == ()
    assert plan.changes and all(change.change for change in plan.changes)
    assert not any(chain.kept for chain in plan.chains)
    with pytest.raises(TypeError):
        bool(plan)


def test_the_sheets_come_with_the_plan(plan):
    text, markdown, html, calendar = (
        plan.to_text(),
        plan.to_markdown(),
        plan.to_html(),
        plan.to_ics(),
    )
    for sheet in (text, markdown, html):
        assert all(step.title in sheet for step in plan.steps if "(" not in step.title)
        assert "us-consumer.thaw.refrigerator" in sheet
    assert max(map(len, text.splitlines())) <= 80
    assert html.lower().startswith("<!doctype html>") and "<script" not in html
    # RFC 5545, sections 3.1 and 3.4: CRLF, lines of at most 75 octets, one VCALENDAR.
    assert calendar.startswith("BEGIN:VCALENDAR\r\n") and calendar.endswith("END:VCALENDAR\r\n")
    assert max(len(line.encode()) for line in calendar.split("\r\n")) <= 75
    assert calendar.count("BEGIN:VEVENT") >= len(plan.steps)


def test_the_sheets_survive_pickling_and_every_way_to_ask(plan):
    twins = [
        pickle.loads(pickle.dumps(plan)),
        copy.copy(plan),
        copy.deepcopy(plan),
        poulter.plan(MAPPING),
        poulter.evaluate({"kind": "plan", **MAPPING}),
    ]
    for twin in twins:
        assert isinstance(twin, poulter.Plan)
        assert twin.to_text() == plan.to_text()


def test_a_later_change_of_the_order_does_not_reach_the_plan(plan):
    order = copy.deepcopy(MAPPING)
    made = poulter.plan(order)
    order["guests"]["adults"] = 40
    assert made == plan and made.to_text() == plan.to_text()


def test_a_plan_without_its_order_has_no_sheet(plan):
    bare = poulter.Plan(plan.to_dict())
    assert bare == plan
    with pytest.raises(poulter.InputError) as caught:
        bare.to_html()
    assert (caught.value.code, caught.value.field) == (103, "order")
    assert "<table>" in bare._repr_html_()


def test_a_notebook_shows_the_sheet_in_a_frame_of_its_own(plan):
    shown = plan._repr_html_()
    assert shown.startswith('<iframe sandbox=""') and shown.count("<") == 2
    assert unescape(shown.split('srcdoc="')[1].split('"')[0]) == plan.to_html()


@pytest.mark.parametrize(
    ("order", "form", "code", "field"),
    [("{}", "pdf", 105, "format"), ("{", "text", 101, ""), ("[]", "text", 104, "")],
)
def test_a_sheet_that_cannot_be_is_refused(order, form, code, field):
    with pytest.raises(poulter.InputError) as caught:
        _core.worksheet(order, "host", form)
    assert (caught.value.code, caught.value.field) == (code, field)


def test_an_order_is_frozen_and_copied_without_what_was_left_out():
    order = poulter.Order(**MAPPING)
    assert order.to_dict() == MAPPING
    with pytest.raises(AttributeError):
        order.standard = "uk"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("order", "code", "field"),
    [
        ("serve_at = ", 101, ""),
        ("x = " + "[" * 100_000, 101, ""),
        ("x = " + "9" * 10_000, 101, ""),
        ("a" * 10_000_000, 101, ""),
        ("\ud800", 101, ""),
        ("", 103, None),
        (TOML + "colour = 1\n", 102, "bird.colour"),
        (TOML.replace("[Europe/Lisbon]", "", 1), 107, "serve_at"),
        (MAPPING | {"serve_at": datetime(2026, 12, 19, 18, 30)}, 107, "serve_at"),
        (MAPPING | {"bird": {"species": "turkey", "mass": 6.8}}, 201, "bird.mass"),
        (4, 104, ""),
        (None, 104, ""),
    ],
    ids=lambda value: ascii(value)[:30],
)
def test_a_bad_order_is_refused_at_its_field(order, code, field):
    with pytest.raises(poulter.InputError) as caught:
        poulter.plan(order)
    assert caught.value.code == code, caught.value
    assert field in (None, caught.value.field)


def test_progress_gives_a_plan_with_news():
    order = poulter.Order(
        serve_at="2026-12-19T18:30[Europe/Lisbon]",
        planned_at="2026-12-12T09:00[Europe/Lisbon]",
        now="2026-12-16T09:00[Europe/Lisbon]",
        guests={"adults": 8},
        bird={"species": "turkey", "mass": "12 lb", "state": "frozen"},
        progress=[
            {"at": "2026-12-14T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
            {"at": "2026-12-16T09:00[Europe/Lisbon]", "reading": Quantity(8, "degF")},
        ],
    )
    plan = poulter.plan(order)
    assert plan.feasible and plan.chains[0].thaw == "cold-water"
    assert isinstance(plan.news[0], poulter.News) and "8 °F" in plan.news[0].why
    assert plan.abandoned is None
    order = order.to_dict()
    order["progress"] = [
        {"at": "2026-12-16T09:00[Europe/Lisbon]", "stood_out": {"duration": "3 h"}}
    ]
    (given_up,) = poulter.plan(order).abandoned
    assert isinstance(given_up, poulter.Abandoned) and given_up.verdict in ("fails", "cannot-tell")


def test_several_birds_say_what_they_keep_for_themselves():
    birds = [
        {"name": name, "species": "chicken", "mass": "4 lb", "state": "fresh"}
        for name in ("one", "two")
    ]
    plan = poulter.plan(
        poulter.Order(
            serve_at="2026-12-19T18:30[Europe/Lisbon]",
            now="2026-12-19T08:00[Europe/Lisbon]",
            guests={"adults": 8},
            birds=birds,
            kitchen={"ovens": [{"name": "upper"}, {"name": "lower"}]},
        )
    )
    assert plan.feasible and [bird.name for bird in plan.birds] == ["one", "two"]
    ovens = [use for step in plan.steps for use in step.uses or () if use.resource == "oven"]
    assert {use.name for use in ovens} == {"upper", "lower"}
    assert ovens[0]["from"] < ovens[0].to and isinstance(ovens[0], poulter.Use)
    assert isinstance(plan.on_time, poulter.OnTime)
    assert 0 < plan.on_time.probability.value <= 100


def test_a_class_is_named_with_an_underscore_in_python():
    order = poulter.Order(
        serve_at="2026-11-18T13:00[America/Chicago]",
        now="2026-11-17T08:00[America/Chicago]",
        guests={"adults": 24},
        bird={"species": "chicken", "mass": "4 lb", "state": "fresh"},
        class_={
            "students": 24,
            "stations": 6,
            "lessons": [
                {
                    "from": "2026-11-18T09:00[America/Chicago]",
                    "to": "2026-11-18T14:00[America/Chicago]",
                }
            ],
        },
    )
    assert {step.by for step in poulter.plan(order).steps} == {"class", "teacher"}


def test_a_timeline_has_a_bar_for_every_step():
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("agg")
    plan = poulter.plan(TOML)
    axes = plan.plot()
    assert len(axes.patches) == len(plan.steps) == len(axes.get_yticklabels())
    assert axes.get_yticklabels()[0].get_text().startswith(plan.steps[0].title)
    # Bars start when the step is planned, in the plan's own zone.
    left = matplotlib.dates.num2date(axes.patches[0].get_x())
    assert abs(left - datetime.fromisoformat(plan.steps[0].window.planned.partition("[")[0])).total_seconds() < 1
    assert plan.plot(axes) is axes
    matplotlib.pyplot.close("all")
