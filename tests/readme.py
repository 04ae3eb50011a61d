"""Runs the commands and the three examples of the README as they are written.

Run with the Python of the environment in which the package is installed; the C library is built here.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TEXT = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language):
    return re.findall(rf"```{language}\n(.*?)```", TEXT, re.DOTALL)


def run(command, **options):
    result = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=False, **options)
    if result.returncode != 0:
        sys.exit(f"{command}: exit status {result.returncode}\n{result.stdout}\n{result.stderr}")
    return result.stdout


def promised(code, sign):
    """What the comments of an example say it prints."""
    return [line.split(sign, 1)[1].strip() for line in code.splitlines() if sign in line and "print" in line]


def demo():
    (command, tests) = blocks("sh")
    assert tests == "tests/run\n"
    out = run(command, shell=True)
    assert "Start thawing" in out, out
    for name in ("plan.html", "plan.ics"):
        assert (ROOT / "target" / "sheets" / name).stat().st_size > 1000


def rust():
    (code,) = blocks("rust")
    with tempfile.TemporaryDirectory() as folder:
        project = Path(folder)
        (project / "src").mkdir()
        (project / "src" / "main.rs").write_text(code, encoding="utf-8")
        core = ROOT / "crates" / "poulter"
        manifest = f"""[package]
name = "quick-start"
version = "0.0.0"
edition = "2024"
[dependencies]
poulter = {{ path = {str(core)!r} }}
serde_json = "1"
[workspace]
"""
        (project / "Cargo.toml").write_text(manifest, encoding="utf-8")
        (project / "Cargo.lock").write_bytes((ROOT / "Cargo.lock").read_bytes())
        target = ROOT / "target"
        out = run(["cargo", "run", "--quiet", "--manifest-path", project / "Cargo.toml", "--target-dir", target])
    assert out.splitlines() == promised(code, "// "), out


def c():
    (code,) = blocks("c")
    with tempfile.TemporaryDirectory() as folder:
        source, program = Path(folder) / "ask.c", Path(folder) / "ask"
        source.write_text(code, encoding="utf-8")
        prefix = Path(folder) / "prefix"
        run(["bindings/c/install.sh", prefix, "debug"])
        flags = run(["pkg-config", "--cflags", "--libs", prefix / "lib/pkgconfig/poulter-static.pc"]).split()
        run(["gcc", "-std=c11", "-Wall", "-Wextra", "-Werror", "-pedantic", source, *flags, "-o", program])
        out = run([program])
    assert out.startswith('{"kind":"check_cooking","answer":{"verdict":"fails",'), out


def python():
    (code,) = blocks("python")
    out = run([sys.executable, "-c", code])
    assert out.splitlines() == promised(code, "# "), out


def commands():
    """The table names every command, and no command, option or word that its help does not know."""

    def told(words):
        return run([sys.executable, "-m", "poulter", *words, "--help"])

    named = set()
    for line in re.findall(r"^\| (`poulter .*) \|$", TEXT, re.MULTILINE):
        row = line.replace("\\|", "/")
        command, choices = re.match(r"`poulter ([a-z]+)(?: ([a-z/]+) )?", row).groups()
        named.add(command)
        for words in [[command, choice] for choice in choices.split("/")] if choices else [[command]]:
            known = told(words)
            assert all(option in known for option in re.findall(r"--[a-z-]+", row)), row
            for listed in re.findall(r"--[a-z]+ ([a-z/]+)", row):
                assert all(re.search(rf"\b{word}\b", known) for word in listed.split("/")), row
    known = re.findall(r"^  ([a-z]+) ", told([]), re.MULTILINE)
    assert named == set(known) - {"help"}, (named, known)


if __name__ == "__main__":
    examples = [demo, rust, c, python, commands]
    for example in examples:
        example()
        print(f"{example.__name__}: as written")
    print(f"{len(examples)} passed, 0 failed")
