"""The pages of the site: their examples run, and every question stands on a page."""

import doctest
import re
from pathlib import Path

import pytest

import poulter

DOCS = Path(__file__).parents[2] / "python" / "docs"
PAGES = {page.relative_to(DOCS).as_posix(): page.read_text(encoding="utf-8") for page in DOCS.rglob("*.md")}


@pytest.mark.parametrize("name", PAGES)
def test_the_examples_of_a_page_hold(name):
    blocks = re.findall(r"```pycon\n(.*?)```", PAGES[name], re.DOTALL)
    # Blocks of one page share their names, as a reader types them one after the other.
    test = doctest.DocTestParser().get_doctest("\n".join(blocks), {}, name, name, 0)
    told = []
    doctest.DocTestRunner().run(test, out=told.append)
    assert not told, "".join(told)


def test_every_question_has_its_page():
    shown = set(re.findall(r"automodule:: (poulter\.\w+)", "\n".join(PAGES.values())))
    missing = {kind for kind in poulter.kinds() if getattr(poulter, kind).__module__ not in shown}
    assert missing == set()


def test_the_functions_of_c_are_exported():
    exported = (DOCS.parents[1] / "bindings" / "c" / "symbols.txt").read_text(encoding="utf-8").split()
    named = set(re.findall(r"`(poulter_\w+)`", PAGES["c.md"]))
    assert named
    assert named <= set(exported)


def test_every_standard_has_its_table():
    shown = set(re.findall(r"```{rule-table} (\S+)", PAGES["rules.md"]))
    assert shown == {rule.standard for rule in poulter.rules().rows}
