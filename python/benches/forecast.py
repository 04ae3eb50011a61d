"""How good the forecast of a probe is: synthetic roasts, their true curves by SciPy and not by the model's own solver.

``python python/benches/forecast.py [ROASTS]``, 400 unless given. Every truth is a 12 lb turkey drawn from the spreads that the
forecast takes as its prior, solved by LSODA with the equations of ``tests/python/test_heat_oracle.py``, and read each
minute with a normal error of 0.5 K. Roasts that are never done in twelve hours are left out.
"""

import sys
import time
from pathlib import Path

import numpy as np

import poulter

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "python"))
from test_heat_oracle import POUND_KG, Turkey, oven, solve  # noqa: E402

ROAST = {
    "mass": "12 lb",
    "start": "40 degF",
    "oven": [{"temperature": "325 degF"}],
    "target": "73.9 degC",
}
START = 40 / 9
OVEN = (325 - 32) / 1.8
TARGET = 73.9
BREAST = 0.0355 * (12 * POUND_KG) ** (1 / 3)
LONGEST_H = 12
SEED = 20261126

# The reference study: 80 roasts of the same spreads and an ensemble that is not resampled. Share seen to median error and
# P90 error in minutes.
REFERENCE = {
    0.25: (20.3, 43.5),
    0.40: (11.2, 28.4),
    0.55: (6.0, 19.9),
    0.70: (4.5, 13.1),
    0.85: (3.0, 9.6),
}
REFERENCE_ROASTS = 80


def drawn(rng):
    """One roast: radius and its spread in one place, convection, skin, oven, shape and depth of the probe."""
    return {
        "radius": BREAST * np.exp(0.12 * rng.standard_normal()),
        "h": 6.0 * np.exp(0.25 * rng.standard_normal()),
        "h_skin": np.exp(0.4 * rng.standard_normal()),
        "air": OVEN + 8.0 * rng.standard_normal(),
        "dimension": rng.uniform(1.5, 3.0),
        "depth": min(abs(0.15 * rng.standard_normal()), 0.9),
    }


def truth(food, rng):
    """When it is done, s, and what the probe shows every minute; None when it is not done in time."""
    roast = drawn(rng)

    def flow(skin):
        return oven(skin, air=roast["air"], h=roast["h"], h_skin=roast["h_skin"])

    probe, done_s = solve(
        food, roast["radius"], START, flow, LONGEST_H, TARGET, roast["dimension"], roast["depth"]
    )
    seconds = np.arange(60.0, done_s, 60.0)
    noise = 0.5 * rng.standard_normal(len(seconds))
    return None if done_s == LONGEST_H * 3600 else (done_s, seconds, probe(seconds) + noise)


def forecasts(done_s, seconds, celsius):
    """The band at each share of the roast, min, and the troubles that were found in it."""
    probe = poulter.Probe(ROAST, places=["breast"])
    bands, next_reading = [], 0
    for share in REFERENCE:
        while next_reading < len(seconds) and seconds[next_reading] <= share * done_s:
            elapsed, reading = seconds[next_reading], round(float(celsius[next_reading]), 3)
            probe.push("breast", (elapsed, "s"), (reading, "degC"))
            next_reading += 1
        band = probe.state().time_to_target
        bands.append(
            [np.inf] * 3
            if band is None
            else [end.to("min").value for end in (band.low, band.likely, band.high)]
        )
    troubles = {finding.trouble for finding in probe.state().findings} - {"unlike-any"}
    return bands, troubles


def spread_of_studies(errors, rng):
    """Median and P90 of studies as large as the reference, drawn from these errors: what 95 in 100 lie between."""
    drawn = rng.choice(errors, (4000, REFERENCE_ROASTS))
    return np.quantile(np.quantile(drawn, [0.5, 0.9], axis=1), [0.025, 0.975], axis=1).T


def print_table(bands, done_min, rng):
    """Median and P90 errors, with where a study as large as the reference would have its own, beside the reference."""
    print("| seen | median error, min | reference | P90 error, min | reference | held by the band | width, min |")
    print("|---|---|---|---|---|---|---|")
    for (share, reference), (low, likely, high) in zip(
        REFERENCE.items(), bands.transpose(1, 2, 0), strict=True
    ):
        errors = np.abs(likely - done_min)
        (least, most), (least_ninth, most_ninth) = spread_of_studies(errors, rng)
        held = np.mean((low <= done_min) & (done_min <= high))
        unsure = 196 * (held * (1 - held) / len(done_min)) ** 0.5
        print(
            f"| {share:.0%} | {np.median(errors):.1f} ({least:.1f} to {most:.1f}) | {reference[0]} "
            f"| {np.quantile(errors, 0.9):.1f} ({least_ninth:.1f} to {most_ninth:.1f}) | {reference[1]} "
            f"| {100 * held:.1f} ± {unsure:.1f} % | {np.median(high - low):.0f} |"
        )


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    rng = np.random.default_rng(SEED)
    food = Turkey()
    begun = time.perf_counter()
    truths = [found for _ in range(count) if (found := truth(food, rng)) is not None]
    solved = time.perf_counter()
    bands, troubles = zip(*(forecasts(*found) for found in truths), strict=True)
    print_table(np.array(bands), np.array([found[0] / 60 for found in truths]), rng)
    print(
        f"{len(truths)} of {count} roasts done in {LONGEST_H} h; {sum(map(bool, troubles))} with a finding that is not there; "
        f"{solved - begun:.0f} s for SciPy, {time.perf_counter() - solved:.0f} s for the forecasts"
    )


if __name__ == "__main__":
    main()
