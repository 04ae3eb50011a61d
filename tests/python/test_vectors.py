"""The vectors shared by all languages: the same verdicts, and the same bytes as the core wrote."""

import json
from pathlib import Path

import pytest

import poulter

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "tests" / "vectors").glob("*.json"))
VECTORS = [vector for file in FILES for vector in json.loads(file.read_text(encoding="utf-8"))]
# Written by the core's own run of the vectors: `cargo test -p poulter --test vectors`.
WRITTEN = ROOT / "target" / "vectors"


def at(answer, pointer):
    """The value that a JSON Pointer (RFC 6901) names; None where there is none."""
    for key in pointer.split("/")[1:]:
        key = key.replace("~1", "/").replace("~0", "~")
        if isinstance(answer, list):
            answer = answer[int(key)] if int(key) < len(answer) else None
        else:
            answer = answer.get(key) if isinstance(answer, dict) else None
    return answer


def agrees(found, wanted, tolerance):
    if isinstance(wanted, dict) and isinstance(found, dict):
        return all(key in found and agrees(found[key], wanted[key], tolerance) for key in wanted)
    numbers = (int, float)
    if isinstance(wanted, numbers) and isinstance(found, numbers) and wanted is not True:
        return abs(found - wanted) <= tolerance
    return found == wanted


def by_text(request):
    return json.loads(poulter.evaluate_json(json.dumps(request)))


def by_mapping(request):
    return poulter.evaluate(request).to_dict()


@pytest.mark.parametrize("ask", [by_text, by_mapping])
@pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["id"])
def test_a_vector_is_answered_as_its_source_says(vector, ask):
    if "error" in vector:
        with pytest.raises(poulter.PoulterError) as caught:
            ask(vector["request"])
        assert {"code": caught.value.code, "field": caught.value.field} == vector["error"]
        return
    answer = ask(vector["request"])
    assert vector["expect"]
    for pointer, wanted in vector["expect"].items():
        found = at(answer, pointer)
        assert agrees(found, wanted, vector.get("tolerance", 0)), (pointer, found, wanted)
    for pointer, pieces in vector.get("contains", {}).items():
        assert all(piece in at(answer, pointer) for piece in pieces), pointer


def test_answers_are_the_bytes_of_the_core():
    requests = (WRITTEN / "requests.jsonl").read_text(encoding="utf-8").split("\n")[:-1]
    answers = (WRITTEN / "answers.jsonl").read_text(encoding="utf-8").split("\n")[:-1]
    assert len(requests) == len(answers) == len(VECTORS)
    for request, answer in zip(requests, answers, strict=True):
        try:
            assert poulter.evaluate_json(request) == answer
            assert poulter.evaluate(json.loads(request)).to_dict() == json.loads(answer)
        except poulter.PoulterError as error:
            parts = {**vars(error), "message": str(error), "citations": list(error.citations)}
            assert parts == json.loads(answer)
