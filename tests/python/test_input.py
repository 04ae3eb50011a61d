"""Bad input: refused with the path of the field, never a crash and never an answer."""

import json
import threading
from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

import poulter
from poulter import _core
from poulter.quantities import plain

GOOD = {"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"}


@pytest.mark.parametrize(
    ("change", "code", "field", "given"),
    [
        ({"colour": "red"}, 102, "colour", "colour"),
        ({"mass": "-3 lb"}, 106, "mass", "-3 lb"),
        ({"mass": "400"}, 201, "mass", "400"),
        ({"mass": 400}, 201, "mass", "400"),
        ({"mass": (float("nan"), "lb")}, 106, "mass.value", "NaN"),
        ({"mass": (float("inf"), "lb")}, 106, "mass.value", "inf"),
        ({"mass": "NaN lb"}, 106, "mass", "NaN lb"),
        ({"mass": (10**30, "lb")}, 106, "mass.value", ""),
        ({"mass": (2**63, "lb")}, 106, "mass.value", ""),
        ({"mass": "15 F"}, 202, "mass", "F"),
        ({"mass": (15, "h")}, 202, "mass", "h"),
        ({"mass": "15 \ud800"}, 101, "mass", None),
        ({"mass": object()}, 104, "mass", "object"),
        ({"mass": b"15 lb"}, 104, "mass", "bytes"),
        ({"mass": {15: "lb"}}, 104, "mass", "int"),
        ({"mass": {"value": 15}}, 103, "mass.unit", ""),
        ({"mass": None}, 104, "mass", None),
        ({"mass": {"value": 15, "unit": "lb", "x": 1}}, 102, "mass", "x"),
        ({"mass": ("15", "lb")}, 104, "mass", None),
        ({"mass": "9" * 10_000_000}, 108, "mass", ""),
        ({"method": "sun"}, 105, "method", "sun"),
        ({"method": 4}, 104, "method", None),
        ({"standard": "mars"}, 302, "standard", "mars"),
        ({"kind": "breakfast"}, 105, "kind", "breakfast"),
        ({"kind": 4}, 104, "kind", "4"),
        ({"on": "yesterday"}, None, "on", None),
        ({"list": [1, {"deep": [float("nan")]}]}, 106, "list[1].deep[0]", "NaN"),
        ({"list": [0] * 2_000_000}, 108, None, ""),
        ({"list": range}, 104, "list", "type"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_what_does_not_fit_is_refused_at_its_field(change, code, field, given):
    with pytest.raises(poulter.PoulterError) as caught:
        poulter.evaluate(GOOD | change)
    error = caught.value
    assert code in (None, error.code), error
    assert field in (None, error.field), error
    assert given in (None, error.given), error
    assert error.advice and error.advice in str(error)


@pytest.mark.parametrize("request_", [[], "thaw", 4, None, {}, {"kind": None}])
def test_a_request_that_is_none_is_refused(request_):
    with pytest.raises(poulter.InputError):
        poulter.evaluate(request_)


def test_a_list_that_holds_itself_is_refused():
    ring: list[object] = []
    ring.append(ring)
    with pytest.raises(poulter.InputError) as caught:
        poulter.evaluate(GOOD | {"mass": ring})
    assert caught.value.code == 108
    mapping: dict[str, object] = {}
    mapping["mapping"] = mapping
    with pytest.raises(poulter.InputError):
        poulter.evaluate(mapping)


def test_a_stand_in_that_hands_back_its_input_comes_to_an_end():
    with pytest.raises(poulter.InputError) as caught:
        _core.evaluate({"mass": object()}, lambda value, field: value)
    assert (caught.value.code, caught.value.field) == (108, "mass")


def test_an_error_of_the_stand_in_comes_through():
    def broken(value, field):
        raise KeyError(field)

    with pytest.raises(KeyError, match="mass"):
        _core.evaluate({"mass": object()}, broken)


@pytest.mark.parametrize(
    ("text", "code"),
    [("", 101), ("{", 101), ("[" * 100_000, 101), ("x" * 10_000_000, 108), ("[]", 104), ("\ud800", 101)],
    ids=["empty", "brace", "deep", "large", "list", "surrogate"],
)
def test_junk_text_is_refused(text, code):
    with pytest.raises(poulter.InputError) as caught:
        poulter.evaluate_json(text)
    assert caught.value.code == code
    assert len(str(caught.value)) < 1000


@pytest.mark.parametrize("argument", [b"{}", None, 4, {}])
def test_text_must_be_text(argument):
    with pytest.raises(TypeError):
        poulter.evaluate_json(argument)


def test_options_are_named():
    with pytest.raises(TypeError):
        poulter.thaw_time("15 lb", "refrigerator")  # type: ignore[misc]
    with pytest.raises(TypeError):
        poulter.thaw_time("15 lb", method="refrigerator", colour="red")  # type: ignore[call-arg]


def test_text_and_dict_give_the_same_answer_in_the_same_order():
    as_text = json.loads(poulter.evaluate_json(json.dumps(GOOD)))
    assert json.dumps(poulter.evaluate(GOOD).to_dict()) == json.dumps(as_text)


def test_a_day_is_a_date_or_text():
    by_date = poulter.thaw_time("15 lb", method="refrigerator", on=date(2026, 11, 25))
    assert by_date == poulter.thaw_time("15 lb", method="refrigerator", on="2026-11-25")


@pytest.mark.parametrize(
    ("moment", "text"),
    [
        (
            datetime(2026, 12, 19, 18, 30, tzinfo=ZoneInfo("Europe/Lisbon")),
            "2026-12-19T18:30:00[Europe/Lisbon]",
        ),
        # Clocks in Lisbon go back at 02:00 on 25 October 2026, so 01:30 comes twice (EU Directive 2000/84/EC).
        (
            datetime(2026, 10, 25, 1, 30, tzinfo=ZoneInfo("Europe/Lisbon")),
            "2026-10-25T01:30:00+01:00[Europe/Lisbon]",
        ),
        (
            datetime(2026, 10, 25, 1, 30, fold=1, tzinfo=ZoneInfo("Europe/Lisbon")),
            "2026-10-25T01:30:00+00:00[Europe/Lisbon]",
        ),
        (datetime(2026, 12, 19, 18, 30, tzinfo=UTC), "2026-12-19T18:30:00+00:00[+00:00]"),
        (
            datetime(2026, 12, 19, 18, 30, tzinfo=timezone(timedelta(hours=-3, minutes=-30))),
            "2026-12-19T18:30:00-03:30[-03:30]",
        ),
    ],
)
def test_a_moment_carries_its_zone(moment, text):
    assert plain(moment, "serve_at") == text


def test_a_moment_without_a_zone_is_refused():
    with pytest.raises(poulter.InputError) as caught:
        poulter.evaluate({"kind": "plan", "serve_at": datetime(2026, 12, 19, 18, 30)})
    error = caught.value
    assert (error.code, error.slug, error.field) == (107, "bad-moment", "serve_at")
    assert error.given == "2026-12-19T18:30:00"


def test_threads_get_the_same_answers():
    masses = [f"{pounds} lb" for pounds in range(4, 25)]
    expected = [poulter.thaw_time(mass, method="refrigerator") for mass in masses]
    answers: dict[int, list[poulter.ThawTime]] = {}
    refusals: dict[int, str] = {}

    def work(worker):
        for _ in range(20):
            answers[worker] = [poulter.thaw_time(mass, method="refrigerator") for mass in masses]
            with pytest.raises(poulter.UnitError) as caught:
                poulter.thaw_time(str(worker), method="refrigerator")
            refusals[worker] = caught.value.given

    workers = [threading.Thread(target=work, args=(worker,)) for worker in range(8)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert answers == dict.fromkeys(range(8), expected)
    assert refusals == {worker: str(worker) for worker in range(8)}
