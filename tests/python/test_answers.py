"""Answers: frozen, picklable, readable by name, and shown with rule and source."""

import copy
import json
import pickle
from html.parser import HTMLParser

import pytest

import poulter
from poulter import Quantity


@pytest.fixture
def answer():
    return poulter.thaw_time("15 lb", method="refrigerator")


def test_the_printed_row_comes_back_with_its_source(answer):
    # USDA FSIS, Turkey Basics: Safe Thawing, table "In the refrigerator": 12 to 16 pounds, 3 to 4 days.
    assert answer.time is not None
    assert (answer.time.low, answer.time.high) == (Quantity(3, "d"), Quantity(96, "h"))
    assert str(answer.time) == "3 d to 4 d"
    citation = answer.citations[0]
    assert citation.rule == "us-consumer.thaw.refrigerator"
    assert "Safe Thawing" in citation.sources[0]
    assert any("thermometer decides" in caution for caution in answer.cautions)


def test_fields_are_read_by_attribute_and_by_name(answer):
    assert answer.kind == "thaw_time"
    assert answer.method == answer["method"] == answer.answer.method == "refrigerator"
    assert answer.allowed is True
    assert "time" in answer and "refusal" not in answer
    assert set(answer) == set(answer.to_dict()["answer"]) and len(answer) == len(set(answer))
    assert "time" in dir(answer)


def test_a_field_that_says_nothing_is_none_and_an_unknown_one_an_error(answer):
    assert answer.refusal is None
    with pytest.raises(AttributeError, match="colour"):
        _ = answer.colour
    with pytest.raises(KeyError):
        _ = answer["refusal"]


def test_an_answer_is_frozen(answer):
    with pytest.raises(AttributeError, match="frozen"):
        answer.allowed = False
    with pytest.raises(AttributeError, match="frozen"):
        del answer.allowed
    before = answer.to_dict()
    answer.to_dict()["answer"]["allowed"] = False
    assert answer.to_dict() == before
    given = json.loads(json.dumps(before))
    rebuilt = poulter.ThawTime(given)
    given["answer"]["allowed"] = False
    assert rebuilt == answer


def test_an_answer_has_no_truth_value(answer):
    with pytest.raises(TypeError, match="verdict"):
        bool(answer)


def test_an_answer_is_equal_hashed_copied_and_pickled(answer):
    twins = [
        poulter.thaw_time("15 lb", method="refrigerator"),
        poulter.evaluate({"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"}),
        copy.copy(answer),
        copy.deepcopy(answer),
        *(pickle.loads(pickle.dumps(answer, level)) for level in range(2, 6)),
    ]
    for twin in twins:
        assert type(twin) is poulter.ThawTime
        assert twin == answer and hash(twin) == hash(answer)
    other = poulter.thaw_time("5 lb", method="refrigerator")
    assert other != answer and answer != 4
    assert len({answer, other, *twins}) == 2
    inner = answer.time
    assert pickle.loads(pickle.dumps(inner)) == inner and type(inner) is poulter.TimeEstimate


def test_the_short_form_names_the_class_and_the_answer(answer):
    start = "<ThawTime method='refrigerator' allowed=True time='3 d to 4 d'"
    assert repr(answer).startswith(start) and len(repr(answer)) < 200


class Tags(HTMLParser):
    """Checks that every tag is closed in order, and collects tags and text."""

    def __init__(self):
        super().__init__()
        self.open, self.seen, self.text = [], set(), ""

    def handle_starttag(self, tag, attrs):
        self.seen.add(tag)
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text += data + "\n"


def parse(html):
    tags = Tags()
    tags.feed(html)
    tags.close()
    assert tags.open == []
    return tags


def test_a_notebook_shows_value_rule_and_source(answer):
    text = parse(answer._repr_html_()).text
    for words in ("3 d to 4 d", "us-consumer.thaw.refrigerator", "Safe Thawing", "2026-11-25"):
        assert words in text
    assert "a thermometer decides" in text


def test_a_notebook_shows_verdict_margin_and_finding_first_escaped():
    finding = {"kind": "verdict", "verdict": "fails", "text": "<b>raw</b> & cold", "rule": "r<1>"}
    wire = {
        "kind": "check_cooking",
        "answer": {
            "verdict": "fails",
            "findings": [finding | {"margin": {"value": -5.0, "unit": "delta_degF"}}],
            "do": ["<script>alert(1)</script>"],
        },
        "assumed": ["<i>whole</i>"],
        "cautions": ["a < b"],
        "citations": [],
    }
    verdict = poulter.CookingVerdict(wire)
    assert verdict.findings[0].margin == Quantity(-5, "delta_degF")
    tags = parse(verdict._repr_html_())
    assert not tags.seen & {"b", "i", "script"}
    for words in ("fails", "<b>raw</b> & cold", "-5 °F", "r<1>", "<i>whole</i>", "a < b"):
        assert words in tags.text
