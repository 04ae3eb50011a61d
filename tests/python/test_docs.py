"""The examples of the README and of the docstrings run and print what they say."""

import contextlib
import doctest
import importlib
import io
import pkgutil
import re
from pathlib import Path

import pytest

import poulter

README = Path(__file__).parents[2] / "python" / "README.md"
BLOCKS = re.findall(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
MODULES = [module.name for module in pkgutil.iter_modules(poulter.__path__, "poulter.")]


@pytest.mark.parametrize("block", BLOCKS, ids=range(len(BLOCKS)))
def test_the_readme_prints_what_it_says(block):
    said = re.findall(r"^print\(.*\)\s+# (.*)$", block, re.MULTILINE)
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(block, {})
    assert said and printed.getvalue().splitlines() == said


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_the_docstrings_hold(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_the_readme_names_every_question():
    text = README.read_text(encoding="utf-8")
    assert all(kind in text for kind in poulter.kinds())
