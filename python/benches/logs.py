"""Logs beside NumPy in the same run: one long log on one core, and ten thousand logs on all cores.

Usage: python python/benches/logs.py [ROUNDS], with a release build, NumPy and pyarrow installed. It prints the table of
DEVELOPERS.md: wall time, and processor time of all threads, which says more on a machine that does other work.
"""

import sys
import time
from collections.abc import Callable

import numpy as np
import pyarrow as pa

import poulter

LONG = 10_000_000
LOGS, ROWS = 10_000, 1_000
# Temporaries of this many readings stay in the cache and off the page tables: the faster of two sizes tried.
BLOCK = 4_000
LN_10 = float(np.log(10.0))
# A D/z line of the bench's own: 3 min at 60 °C, z = 10 °F.
OWN = {
    "scheme": "own",
    "reference": "60 degC",
    "d_value": "3 min",
    "z_value": "10 delta_degF",
    "target": {"value": 7.0, "unit": "log10"},
}
D_S, Z_K, T_REF = 180.0, 10 / 1.8, 60.0


def roast(rows: int, rise: int) -> np.ndarray:
    """From 4 °C to 85 °C and back along parabolas, `rise` readings each way, with a ripple of hundredths."""
    at = np.arange(rows)
    way = at % (2 * rise)
    left = 1.0 - np.minimum(way, 2 * rise - way) / rise
    return 85.0 - 81.0 * left * left + (at % 7) * 0.01


def read(t: np.ndarray, x: np.ndarray) -> float:
    """Both columns read once and nothing more: what no integral over them can go below."""
    return float(t.sum() + x.sum())


def exact(t: np.ndarray, x: np.ndarray) -> float:
    """Kill by D and z, exact for straight lines: NumPy in blocks that stay in the cache, one power a reading."""
    total = 0.0
    for start in range(0, len(t) - 1, BLOCK):
        ts, xs = t[start : start + BLOCK + 1], x[start : start + BLOCK + 1]
        rate = np.exp((xs - T_REF) * (LN_10 / Z_K))
        dx = np.diff(xs)
        with np.errstate(divide="ignore", invalid="ignore"):
            mean = np.diff(rate) / (dx * (LN_10 / Z_K))
        level = np.abs(dx) < 1e-6
        mean[level] = 0.5 * (rate[:-1] + rate[1:])[level]
        total += float(mean @ np.diff(ts))
    return total / D_S


def table(t: np.ndarray, x: np.ndarray, rows: np.ndarray, held_s: np.ndarray, block: int = BLOCK) -> float:
    """Kill by a table, ln time linear between its rows and exact for straight lines: NumPy in blocks.

    The antiderivative at each reading over the change of temperature; level steps take their rate.
    """
    ln_rate = np.log(7.0 / held_s)
    slope = np.diff(ln_rate) / np.diff(rows)
    rates = np.exp(ln_rate)
    base = np.concatenate([[0.0], np.cumsum(np.diff(rates) / slope)])
    total = 0.0
    for start in range(0, len(t) - 1, block):
        ts, xs = t[start : start + block + 1], x[start : start + block + 1]
        k = np.clip(np.searchsorted(rows, xs, side="right") - 1, 0, len(slope) - 1)
        over = np.maximum(xs - rows[-1], 0.0)
        rate = rates[k] * np.exp(slope[k] * (np.minimum(xs, rows[-1]) - rows[k]))
        whole = base[k] + (rate - rates[k]) / slope[k] + over * rates[-1]
        cold = xs < rows[0]
        rate[cold] = 0.0
        whole[cold] = 0.0
        dx = np.diff(xs)
        with np.errstate(divide="ignore", invalid="ignore"):
            mean = np.diff(whole) / dx
        level = np.abs(dx) < 1e-6
        mean[level] = 0.5 * (rate[:-1] + rate[1:])[level]
        total += float(mean @ np.diff(ts))
    return total


def best(act: Callable[[], object], rounds: int) -> tuple[float, float]:
    """Seconds of wall and of processor time, each the least of some runs."""
    times = []
    for _ in range(rounds):
        before = time.perf_counter(), time.process_time()
        act()
        times.append((time.perf_counter() - before[0], time.process_time() - before[1]))
    return min(wall for wall, _ in times), min(busy for _, busy in times)


def row(work: str, here: tuple[float, float], there: tuple[float, float], samples: int, reach: str) -> None:
    """Print a line of the table."""
    cells = [
        f"{mine * 1e9 / samples:.2f} | {numpy * 1e9 / samples:.2f} | {numpy / mine:.1f}"
        for mine, numpy in zip(here, there)
    ]
    print(f"| {work} | {' | '.join(cells)} | {reach} |", flush=True)


# Turkey, 12 % fat, of the FSIS Cooking Guideline (Revised Appendix A), December 2021, read in a copy: 136 °F on.
TURKEY_MIN = [70.8, 58.5, 48.5, 40.4, 33.7, 28.2, 23.7, 19.8, 16.6, 13.8, 11.5, 9.4, 7.7, 6.2, 4.9, 3.8, 2.8, 2.1, 1.6]
TURKEY_MIN += [1.3, 1.0]
TURKEY_S = [50.4, 40.9, 33.2, 26.9, 21.9, 17.7, 14.4, 11.7]


def main() -> None:
    """Measure and print the table."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    print("| work, ns a sample | here | NumPy | times as fast | here, processor | NumPy, processor | times | to reach |")
    print("|---|---|---|---|---|---|---|---|")
    t, x = np.arange(LONG, dtype=float), roast(LONG, 6000)
    rows = (np.arange(136, 136 + len(TURKEY_MIN) + len(TURKEY_S)) - 32) / 1.8
    held_s = np.array([minutes * 60 for minutes in TURKEY_MIN] + TURKEY_S)
    jobs = [
        ("exact D/z", OWN, lambda: exact(t, x), 10),
        ("turkey table", "poultry-7log-turkey", lambda: table(t, x, rows, held_s), 20),
        ("turkey table; NumPy whole", "poultry-7log-turkey", lambda: table(t, x, rows, held_s, LONG), 20),
    ]
    for name, scheme, numpy, reach in jobs:

        def ours(scheme: object = scheme) -> float:
            return poulter.lethality(t, x, scheme=scheme).log_reduction

        # Readings are snapped to a thousandth of a degree here and not there.
        assert abs(ours() / numpy() - 1) < 1e-4, (ours(), numpy())
        row(f"`lethality`, {name}, one core", best(ours, rounds), best(numpy, rounds), LONG, f"{reach}")
    once = best(lambda: read(t, x), rounds)
    print(f"| both columns read once | | {once[0] * 1e9 / LONG:.2f} | | | {once[1] * 1e9 / LONG:.2f} | | |", flush=True)
    xs = np.concatenate([roast(ROWS, 1000) - (log % 50) * 0.1 for log in range(LOGS)])
    ts = np.arange(LOGS * ROWS, dtype=float) % ROWS
    logs = pa.table({"log_id": np.repeat(np.arange(LOGS), ROWS), "elapsed_s": ts, "temp_degC": xs})
    spans = [slice(start, start + ROWS) for start in range(0, LOGS * ROWS, ROWS)]
    judged = best(lambda: poulter.check_logs(logs, cut="boneless-breast", scheme="poultry-7log-turkey"), rounds)
    loops = {
        "exact D/z": best(lambda: [exact(ts[span], xs[span]) for span in spans], rounds),
        "table": best(lambda: [table(ts[span], xs[span], rows, held_s) for span in spans], rounds),
    }
    for name, there in loops.items():
        row(f"`check_logs`, all cores; loop over logs, {name}", judged, there, LOGS * ROWS, "20")


if __name__ == "__main__":
    main()
