"""What a call, the import and the wheel cost, beside what they should cost and a baseline of the same run.

Usage: python python/benches/calls.py [WHEEL], with a release build installed. Needs Pint for the baseline.
"""

import os
import subprocess
import sys
import time
import timeit
from collections.abc import Callable
from pathlib import Path

import pint

import poulter
from poulter import Quantity

STARTS = 40


def per_call(act: Callable[[], object], number: int) -> float:
    """Seconds a call, the best of seven rounds; the loop's own cost is taken off."""
    empty = min(timeit.repeat(lambda: None, number=number, repeat=7))
    return (min(timeit.repeat(act, number=number, repeat=7)) - empty) / number


def start(code: str) -> float:
    """Seconds of a bare interpreter that runs this code, the best of many starts."""
    times = []
    # Without `site`, whose editable installs and path files are not the package's.
    folder = os.fspath(Path(poulter.__file__).parents[1])
    command = [sys.executable, "-I", "-S", "-c", f"import sys; sys.path.append({folder!r}); {code}"]
    for _ in range(STARTS):
        before = time.perf_counter()
        subprocess.run(command, check=True)
        times.append(time.perf_counter() - before)
    return min(times)


def row(work: str, found: str, reach: str, beside: str) -> None:
    """Print a line of the table."""
    print(f"| {work} | {found} | {reach} | {beside} |")


def main() -> None:
    """Measure and print the table."""
    registry = pint.UnitRegistry()
    theirs = registry.Quantity(73.5, "degC")
    request = '{"kind":"thaw_time","mass":"15 lb","method":"refrigerator"}'
    warm = Quantity(73.5, "degC")
    pint_ns = per_call(lambda: theirs.to("degF"), 20_000) * 1e9
    row("work", "here", "to reach", "beside it in this run")
    row("---", "---", "---", "---")
    scalar = per_call(lambda: poulter.convert(73.5, "degC", "degF"), 500_000) * 1e9
    row("scalar call, `convert`", f"{scalar:.0f} ns", "150 ns", f"Pint, quantity made before: {pint_ns:.0f} ns")
    many = per_call(lambda: poulter.convert(1 / 3, "lb", "kg"), 500_000) * 1e9
    row("scalar call, a number of 16 digits", f"{many:.0f} ns", "", "")
    to = per_call(lambda: warm.to("degF"), 500_000) * 1e9
    row("`Quantity.to`", f"{to:.0f} ns", "", f"Pint: {pint_ns:.0f} ns")
    one, other = Quantity(4, "lb"), Quantity(8, "oz")
    one_pint, other_pint = registry.Quantity(4, "lb"), registry.Quantity(8, "oz")
    plus = per_call(lambda: one + other, 500_000) * 1e9
    plus_pint = per_call(lambda: one_pint + other_pint, 20_000) * 1e9
    row("4 lb + 8 oz", f"{plus:.0f} ns", "", f"Pint: {plus_pint:.0f} ns")
    door = per_call(lambda: poulter.evaluate_json(request), 20_000) * 1e6
    row("JSON door, small request", f"{door:.1f} µs", "20 µs", "")
    typed = per_call(lambda: poulter.thaw_time("15 lb", method="refrigerator"), 20_000) * 1e6
    row("typed call, `thaw_time`", f"{typed:.1f} µs", "", "")
    bare, loaded = start("pass"), start("import poulter")
    added = f"{(loaded - bare) * 1e3:.1f} ms"
    row("`import poulter` above a bare interpreter", added, "20 ms", f"bare: {bare * 1e3:.1f} ms")
    for wheel in sys.argv[1:]:
        row("wheel", f"{Path(wheel).stat().st_size / 1e6:.2f} MB", "4 MB", "")


if __name__ == "__main__":
    main()
