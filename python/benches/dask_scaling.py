"""Many logs on one and on two workers of a cluster beside plain check_logs, in the same run.

Usage: python python/benches/dask_scaling.py [LOGS] [ROUNDS], with a release build and the extra `dask` installed.
"""

import sys
import time
from collections.abc import Callable

import dask.dataframe as dd
import numpy as np
import pandas as pd
from dask.distributed import Client, LocalCluster

import poulter
import poulter.dask

ROWS, PARTITIONS = 1_000, 8
QUESTION = {"cut": "boneless-breast", "scheme": "poultry-7log-turkey"}


def invented(logs: range) -> pd.DataFrame:
    """Roasts that rise along a parabola to 80 to 85 °C, one reading in ten seconds."""
    number = np.repeat(np.asarray(logs), ROWS)
    row = np.tile(np.arange(ROWS), len(logs))
    left = 1.0 - row / ROWS
    temp = 85.0 - (number % 50) * 0.1 - 81.0 * left * left + (row % 7) * 0.01
    return pd.DataFrame({"log_id": number, "elapsed_s": row * 10.0, "temp_degC": temp})


def best(act: Callable[[], pd.DataFrame], rounds: int) -> tuple[float, pd.DataFrame]:
    """Seconds of the fastest of some runs, and what the last one found."""
    times = []
    for _ in range(rounds):
        before = time.perf_counter()
        found = act()
        times.append(time.perf_counter() - before)
    return min(times), found


def clustered(logs: int, workers: int, rounds: int) -> tuple[float, pd.DataFrame]:
    """Judge the logs on a cluster of workers with a core each; the partitions are made on them and lie there ready."""
    one_core = {"RAYON_NUM_THREADS": "1"}
    with (
        LocalCluster(n_workers=workers, threads_per_worker=1, env=one_core, dashboard_address=None) as cluster,
        Client(cluster),
    ):
        each = -(-logs // PARTITIONS)
        parts = [range(start, min(start + each, logs)) for start in range(0, logs, each)]
        ddf = dd.from_map(invented, parts).persist()
        poulter.dask.check_logs(ddf, progress=False, **QUESTION)  # warms the workers up
        return best(lambda: poulter.dask.check_logs(ddf, **QUESTION), rounds)


def main() -> None:
    """Measure and print the table."""
    logs = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    rounds = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    frame = invented(range(logs))
    plain, expected = best(lambda: poulter.check_logs(frame, **QUESTION), rounds)
    rows = [("plain `check_logs`, all cores", plain)]
    for workers in (1, 2):
        seconds, found = clustered(logs, workers, rounds)
        pd.testing.assert_frame_equal(found, expected)
        rows.append((f"{workers} worker{'s' if workers > 1 else ''}", seconds))
    one = rows[1][1]
    print(f"\n{logs} logs of {ROWS} rows in {PARTITIONS} partitions\n")
    print("| judged by | seconds | million rows a second | beside one worker |\n|---|---|---|---|")
    for name, seconds in rows:
        print(f"| {name} | {seconds:.2f} | {logs * ROWS / seconds / 1e6:.1f} | {one / seconds:.2f} |")


if __name__ == "__main__":
    main()
