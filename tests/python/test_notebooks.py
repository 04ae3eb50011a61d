"""The notebooks run from top to bottom and print what they show."""

import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

NOTEBOOKS = Path(__file__).parents[2] / "python" / "notebooks"


def printed(notebook):
    """What each cell prints, and the Markdown or plain form of what it shows but for pictures."""
    for cell in notebook.cells:
        # What is printed may come in several pieces, as the kernel finds the time.
        outputs = [(output.get("text"), output.get("data", {})) for output in cell.get("outputs", [])]
        shown = [text or data.get("text/markdown") or data["text/plain"] for text, data in outputs if "image/png" not in data]
        yield "".join(shown).rstrip()


def test_there_are_three():
    names = {path.stem for path in NOTEBOOKS.glob("*.ipynb")}
    assert names == {"kitchen_class", "log_audit", "menu_season"}


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("*.ipynb")), ids=lambda path: path.stem)
def test_a_notebook_prints_what_it_shows(path, tmp_path):
    # In a process of its own: the kernel's client leaves sockets and loops behind.
    command = ["nbconvert", "--to=notebook", "--execute", "--log-level=ERROR", f"--output-dir={tmp_path}", path]
    done = subprocess.run([sys.executable, "-m", *command], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    run, stored = (nbformat.read(each, as_version=4) for each in (tmp_path / path.name, path))
    assert list(printed(run)) == list(printed(stored))


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("*.ipynb")), ids=lambda path: path.stem)
def test_a_notebook_is_small_and_names_no_machine(path):
    text = path.read_text(encoding="utf-8")
    assert len(text) < 100_000
    assert os.fspath(Path.home()) not in text and os.fspath(NOTEBOOKS.parents[1]) not in text
    notebook = nbformat.reads(text, as_version=4)
    assert all(cell.outputs or "import" in cell.source for cell in notebook.cells if cell.cell_type == "code")
