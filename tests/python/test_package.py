"""What is shipped: the source archive is whole and the metadata agrees."""

import importlib.metadata
import json
import subprocess
import sys
import tarfile
import zlib
from pathlib import Path

import pytest

import poulter

ROOT = Path(__file__).parents[2]
# What a wheel is built from: the package, the compiled half, the core with its rules, the sheets and the command line.
SHIPPED = {
    "python/poulter": "poulter",
    "bindings/python/src": "bindings/python/src",
    "crates/poulter/src": "crates/poulter/src",
    "crates/poulter/rules": "crates/poulter/rules",
    "crates/poulter/schema": "crates/poulter/schema",
    "crates/poulter-cli/src": "crates/poulter-cli/src",
    "crates/poulter-worksheet/src": "crates/poulter-worksheet/src",
}
MADE = {".so", ".pyc"}


def test_the_source_archive_is_whole(tmp_path):
    subprocess.run(
        [sys.executable, "-m", "maturin", "sdist", "--out", tmp_path],
        cwd=ROOT / "python",
        check=True,
        capture_output=True,
    )
    (archive,) = tmp_path.iterdir()
    with tarfile.open(archive) as tar:
        names = {name.split("/", 1)[1] for name in tar.getnames()}
    expected = {"LICENSE", "README.md", "pyproject.toml", "Cargo.lock", "poulter/py.typed", ".cargo/config.toml"}
    for folder, inside in SHIPPED.items():
        files = [path for path in (ROOT / folder).rglob("*") if path.is_file()]
        assert files, folder
        expected |= {
            f"{inside}/{path.relative_to(ROOT / folder).as_posix()}"
            for path in files
            if path.suffix not in MADE
        }
    assert expected - names == set()


def test_the_metadata_agrees():
    metadata = importlib.metadata.metadata("poulter")
    assert metadata["Version"] == poulter.__version__
    assert metadata["License-Expression"] == "MIT"
    assert metadata["License-File"] == "LICENSE"
    assert (ROOT / "python/LICENSE").read_text() == (ROOT / "LICENSE").read_text()


def test_the_wheel_grows_no_further():
    # The goal is 4 MB for the wheel. As the tests build it, without link-time optimisation, the library alone packs into
    # 4.0 MB.
    library = Path(poulter._core.__file__).read_bytes()
    assert len(zlib.compress(library)) <= 4_300_000


def test_the_wheel_holds_the_package_and_nothing_else():
    distribution = importlib.metadata.distribution("poulter")
    origin = json.loads(distribution.read_text("direct_url.json") or "{}")
    if origin.get("dir_info", {}).get("editable"):
        pytest.skip("an editable install holds a path in the place of the package")
    files = {file.as_posix() for file in distribution.files or ()}
    sources = {
        f"poulter/{path.name}" for path in (ROOT / "python/poulter").iterdir() if path.suffix in {".py", ".pyi", ".typed"}
    }
    assert (ROOT / "python/poulter/py.typed").exists()
    sources.add("poulter/py.typed")
    inside = {name for name in files if name.startswith("poulter/") and "__pycache__" not in name}
    compiled = {name for name in inside if name.startswith("poulter/_core.abi3")}
    assert len(compiled) == 1 and inside - compiled == sources
    others = {name.partition("/")[0] for name in files - inside if "__pycache__" not in name}
    assert {name for name in others if name != ".."} == {f"poulter-{poulter.__version__}.dist-info"}
    tag = distribution.read_text("WHEEL") or ""
    assert "Tag: cp311-abi3-" in tag
