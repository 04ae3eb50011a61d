"""Every public name has a whole docstring in the style of numpydoc, and its examples hold."""

import doctest
import inspect
import json
import re

import matplotlib
import pytest

import poulter
import poulter.dask

matplotlib.use("agg")

SCHEMA = json.loads(poulter.request_schema())
QUESTIONS = {each["properties"]["kind"]["const"]: each["properties"] for each in SCHEMA["oneOf"]}
SOURCES = {source for row in poulter.rules(superseded=True).rows for source in row.sources}
# Asked for as numbers of a model, which has sources of its own; the list of rules rests on all of them.
WITHOUT_RULES = {"lethality", "growth", "oven_energy", "simulate_roast", "simulate_thaw", "rules"}


def public():
    """All public functions and classes, and the public methods and properties of the classes."""
    yield "dask.check_logs", poulter.dask.check_logs
    for name in poulter.__all__:
        thing = getattr(poulter, name)
        if inspect.isclass(thing):
            yield name, thing
            for member, value in vars(thing).items():
                inner = value.__func__ if isinstance(value, classmethod | staticmethod) else value
                documented = callable(inner) or isinstance(inner, property) or inspect.isgetsetdescriptor(inner)
                if not member.startswith("_") and documented:
                    yield f"{name}.{member}", inner
        elif inspect.isroutine(thing):
            yield name, thing



PUBLIC = {name: thing for name, thing in public()}


def sections(thing):
    """The sections of a docstring by their headings; what stands before the first is under ``""``."""
    parts = re.split(r"^(\w+)\n-{3,}\n", inspect.getdoc(thing) or "", flags=re.MULTILINE)
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def arguments(thing):
    if isinstance(thing, property) or inspect.isgetsetdescriptor(thing):
        return []
    own = thing.__init__ if inspect.isclass(thing) and "__init__" in vars(thing) else thing
    taken = inspect.signature(own).parameters.values()
    return [each.name for each in taken if each.name not in {"self", "cls", "args", "kwargs"}]


@pytest.mark.parametrize("name", PUBLIC)
def test_the_docstring_is_whole(name):
    thing = PUBLIC[name]
    found = sections(thing)
    assert found[""].strip(), "no summary"
    assert ">>>" in found.get("Examples", ""), "no example"
    record = inspect.isclass(thing) and issubclass(thing, poulter.answers.Record) and thing is not poulter.Order
    if record or (inspect.isclass(thing) and issubclass(thing, poulter.PoulterError)):
        # Made by the package, never by its user.
        return
    taken = arguments(thing)
    described = re.findall(r"^(\w[\w, ]*)(?= :|$)", found.get("Parameters", ""), re.MULTILINE)
    named = [each for line in described for each in line.split(", ")]
    assert set(taken) <= set(named), f"undescribed: {set(taken) - set(named)}"
    if not inspect.isclass(thing) and name != "Probe.push":
        assert found.get("Returns", "").strip(), "nothing about what comes back"
    if taken and name != "Order":
        assert found.get("Raises", "").strip(), "nothing about what is raised"


@pytest.mark.parametrize("kind", QUESTIONS)
def test_the_units_and_words_are_those_of_the_schema(kind):
    parameters = sections(getattr(poulter, kind))["Parameters"]
    for argument in arguments(getattr(poulter, kind)):
        text = re.search(rf"^{argument} : .*\n(?: .*\n?)+", parameters, re.MULTILINE).group()
        field = QUESTIONS[kind].get(argument.rstrip("_"), {})
        for option in field.get("anyOf", [field]):
            definition = SCHEMA["$defs"].get(option.get("$ref", "").rpartition("/")[2], {})
            words = definition.get("enum") or [each.get("const") for each in definition.get("oneOf", [])]
            if argument not in {"species", "cut", "topic", "kind"} and all(isinstance(word, str) for word in words):
                assert set(words) <= set(re.findall(r'"([\w-]+)"', text)), argument
            for form in definition.get("anyOf", []):
                for unit in form.get("properties", {}).get("unit", {}).get("enum", []):
                    assert re.search(rf"[(, ]{re.escape(unit)}[,)\n]", text), (argument, unit)


@pytest.mark.parametrize("kind", sorted(QUESTIONS.keys() - WITHOUT_RULES))
def test_the_references_are_sources_of_the_rules(kind):
    entries = re.split(r"^\* ", sections(getattr(poulter, kind)).get("References", ""), flags=re.MULTILINE)
    named = {" ".join(entry.split()) for entry in entries if entry.strip()}
    assert named and named <= SOURCES, named - SOURCES


@pytest.mark.parametrize("name", ["Quantity", *(n for n in PUBLIC if n.startswith("Quantity.")), "convert",
                                  "evaluate_json", "kinds", "units", "request_schema", "response_schema"])
def test_the_examples_of_the_compiled_half_hold(name):
    test = doctest.DocTestParser().get_doctest(inspect.getdoc(PUBLIC[name]), {}, name, name, 0)
    told = []
    doctest.DocTestRunner().run(test, out=told.append)
    assert test.examples and not told, "".join(told)
