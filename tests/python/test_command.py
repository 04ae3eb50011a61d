"""``python -m poulter`` is the command line: same answers, same exit codes as the library says."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

import poulter

SUPPER = Path(__file__).parents[1] / "orders" / "lakeside-supper.toml"
MODULE = [sys.executable, "-W", "error", "-m", "poulter"]
SCRIPT = [str(Path(sys.executable).with_name("poulter"))]


def run(*arguments, command=MODULE, given=None):
    return subprocess.run([*command, *arguments], input=given, capture_output=True, text=True)


@pytest.mark.parametrize("command", [MODULE, SCRIPT], ids=["module", "script"])
def test_it_says_its_version_and_its_name(command):
    assert run("--version", command=command).stdout == f"poulter {poulter.__version__}\n"
    usage = run("--help", command=command).stdout.splitlines()[2]
    assert usage == f"Usage: {'poulter' if command is SCRIPT else 'python -m poulter'} <COMMAND>"


def test_a_request_is_answered_byte_for_byte_as_by_the_library():
    request = json.dumps({"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"})
    done = run("evaluate", given=request)
    assert done.stdout == poulter.evaluate_json(request) + "\n"
    assert (done.returncode, done.stderr) == (0, "")


def test_a_plan_reads_as_the_sheet():
    assert run("plan", str(SUPPER)).stdout == poulter.plan(SUPPER.read_text()).to_text()


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["check", "cooking", *(f"--reading={place}=165degF" for place in ("breast", "thigh", "wing"))], 0),
        (["check", "cooking", "--reading=thigh=164.9degF"], 1),
        (["check", "cooking", "--reading=thigh=165F"], 2),
        (["plan", "no such file"], 2),
        (["no-such-command"], 2),
        ([], 2),
    ],
)
def test_the_exit_code_says_how_it_came_out(arguments, code):
    done = run(*arguments)
    assert done.returncode == code, done.stdout + done.stderr
    assert bool(done.stderr) == (code == 2)
