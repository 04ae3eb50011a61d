"""The stubs agree with the compiled module, and a typed program passes the strict checkers."""

import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

import poulter

HERE = Path(__file__).parent
NOTEBOOKS = sorted((HERE.parents[1] / "python" / "notebooks").glob("*.ipynb"))
# Without `site`, so that only what the package itself imports is seen.
PATHS = [str(Path(poulter.__file__).parents[1])]
TEXT = {"capture_output": True, "text": True}


def run(*arguments, cwd=HERE):
    environment = os.environ | {"PYRIGHT_PYTHON_IGNORE_WARNINGS": "1"}
    done = subprocess.run(
        [sys.executable, "-m", *arguments], capture_output=True, text=True, cwd=cwd, env=environment
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_stubs_agree_with_the_module(tmp_path):
    assert "Success" in run("mypy.stubtest", "poulter", cwd=tmp_path)


def test_the_example_passes_mypy_strict():
    assert "Success" in run("mypy", "--strict", "--no-incremental", "typed_example.py")


def test_the_package_passes_mypy_strict(tmp_path):
    assert "Success" in run("mypy", "--strict", "--no-incremental", "-p", "poulter", cwd=tmp_path)


def test_the_example_passes_pyright_strict(tmp_path):
    text = "# pyright: strict\n" + (HERE / "typed_example.py").read_text()
    (tmp_path / "example.py").write_text(text)
    out = run("pyright", "--pythonpath", sys.executable, "example.py", cwd=tmp_path)
    assert "0 errors, 0 warnings" in out


def test_the_notebooks_pass_pyright_strict(tmp_path):
    for path in NOTEBOOKS:
        cells = nbformat.read(path, as_version=4).cells
        code = "\n\n".join(cell.source for cell in cells if cell.cell_type == "code")
        # The last expression of a cell is what it shows.
        (tmp_path / f"{path.stem}.py").write_text(f"# pyright: strict, reportUnusedExpression=false\n{code}\n")
    out = run("pyright", "--pythonpath", sys.executable, "--stats", *os.listdir(tmp_path), cwd=tmp_path)
    assert "0 errors, 0 warnings" in out and f"Total files checked: {len(NOTEBOOKS)}" in out


def test_the_example_runs():
    subprocess.run([sys.executable, "-W", "error", HERE / "typed_example.py"], check=True)


def test_everything_public_is_there_and_documented():
    assert sorted(poulter.__all__) == poulter.__all__
    for name in poulter.__all__:
        thing = getattr(poulter, name)
        if isinstance(thing, type) or callable(thing):
            assert thing.__doc__, name


def test_the_import_leaves_slow_modules_alone():
    code = f"""import sys
sys.path[:0] = {PATHS!r}
import poulter
print("imported", *sorted({{"dataclasses", "inspect", "re", "typing"}} & set(sys.modules)))"""
    done = subprocess.run([sys.executable, "-I", "-S", "-c", code], **TEXT)
    assert done.stdout == "imported\n", done.stdout + done.stderr


def test_the_package_is_marked_as_typed():
    assert (Path(poulter.__file__).parent / "py.typed").exists()


@pytest.mark.parametrize("kind", poulter.kinds())
def test_every_kind_of_question_has_a_function_and_a_class(kind):
    assert callable(getattr(poulter, kind))
    assert kind in poulter.Answer._classes
