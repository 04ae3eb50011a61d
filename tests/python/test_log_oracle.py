"""Verdicts over logs against the words of the standards, worked out a second time in exact fractions.

Each reckoning below takes a log as straight lines between its readings and asks nothing of the library. The limits are
typed from the standards named beside them. Readings are drawn from few values, so that many lie on a limit.
"""

import random
from fractions import Fraction

import poulter

# Every gap and jump of these logs is meant: the faults of a log are not what is asked here.
PATIENT = {
    "longest_gap": "48 h",
    "flat_line": "96 h",
    "steepest_per_second": "100 delta_degF",
    "coarse_step": "1000 delta_degF",
}
HOUR = 3600


def drawn(seed, values):
    """A log of two to eight readings a quarter of an hour to two hours apart."""
    dice = random.Random(seed)
    elapsed = [0]
    for _ in range(dice.randint(1, 7)):
        elapsed.append(elapsed[-1] + dice.choice([900, 1800, 3600, 5400, 7200]))
    return elapsed, [dice.choice(values) for _ in elapsed]


def lines(elapsed, readings):
    return zip(elapsed, elapsed[1:], readings, readings[1:], strict=False)


def inside(elapsed, readings, above, below):
    """The stretches with a reading from `above` to `below`, as pairs of times; neighbours are joined."""
    stretches = []
    for start, end, first, last in lines(elapsed, readings):
        low, high = Fraction(0), Fraction(1)
        for limit, sign in ((above, 1), (below, -1)):
            if limit is None:
                continue
            # sign * (first + share * (last - first) - limit) >= 0
            rise, ahead = sign * (last - first), sign * (first - limit)
            if rise == 0:
                high = high if ahead >= 0 else Fraction(-1)
            elif rise > 0:
                low = max(low, Fraction(-ahead, rise))
            else:
                high = min(high, Fraction(ahead, -rise))
        if low <= high:
            began, ended = start + low * (end - start), start + high * (end - start)
            if stretches and stretches[-1][1] == began:
                began = stretches.pop()[0]
            stretches.append((began, ended))
    return stretches


def cooled(elapsed, readings, stages):
    """Cooling by stages of (limit, hours), each counted from 135 °F."""
    hot = [ended for _, ended in inside(elapsed, readings, 135, None)]
    left = hot[0] if hot else None
    told = []
    for limit, hours in stages:
        over = [i for i, reading in enumerate(readings) if reading > limit]
        if hot and left == elapsed[-1]:
            told.append("cannot-tell")
        elif over and over[-1] == len(readings) - 1:
            seen_cold = any(reading <= limit for reading in readings)
            late = elapsed[-1] - (left or 0) > hours * HOUR
            told.append("fails" if late and not seen_cold else "cannot-tell")
        else:
            cold = inside(elapsed, readings, None, limit)[-1][0] if over else elapsed[0]
            late = cold - (left or 0) > hours * HOUR
            told.append("fails" if late else "meets" if hot else "cannot-tell")
    return next(word for word in ("fails", "cannot-tell", "meets") if word in told)


def test_cooling_is_that_of_the_food_code():
    # FDA Food Code 2022, 3-501.14(A): from 135 °F to 70 °F within 2 h, and to 41 °F within 6 h in all.
    seen = set()
    for seed in range(400):
        elapsed, core = drawn(seed, [165, 140, 135, 134, 100, 71, 70, 69, 45, 42, 41, 40])
        if seed % 3:
            core.sort(reverse=True)
        log = poulter.check_cooling_log(elapsed, core, unit="degF", standard="us-food-code-2022", checks=PATIENT)
        assert log.verdict == cooled(elapsed, core, [(70, 2), (41, 6)])
        seen.add(log.verdict)
    assert seen == {"meets", "fails", "cannot-tell"}


def test_a_hold_is_that_of_the_food_standards_agency():
    # Food Standards Agency, core temperatures: without a break, any of the five.
    seen = set()
    for seed in range(400):
        elapsed, core = drawn(seed, [50, 58, 59, 60, 61, 65, 69, 70, 75, 79, 80])
        elapsed = [Fraction(second, 60) for second in elapsed]
        held = any(
            ended - began >= least
            for limit, least in ((60, 2700), (65, 600), (70, 120), (75, 30), (80, 6))
            for began, ended in inside(elapsed, core, limit, None)
        )
        given = {"unit": "degC", "standard": "uk", "cut": "boneless-breast", "checks": PATIENT}
        log = poulter.check_cooking_log([float(second) for second in elapsed], core, **given)
        assert log.verdict == ("meets" if held else "fails")
        seen.add(log.verdict)
    assert seen == {"meets", "fails"}


def test_time_out_is_that_of_the_department_of_agriculture():
    # USDA FSIS, Danger Zone (40 °F to 140 °F): 2 h in all, 1 h where it is above 90 °F.
    # Food kept at 40 °F or at 140 °F is cold or hot.
    seen = set()
    for seed in range(400):
        elapsed, core = drawn(seed, [33, 38, 39, 40, 41, 70, 139, 140, 141, 150])
        flat = sum(end - start for start, end, *ends in lines(elapsed, core) if ends in ([40, 40], [140, 140]))
        out = sum(ended - began for began, ended in inside(elapsed, core, 40, 140)) - flat
        for air, hours in (("90 °F", 2), ("90.001 °F", 1)):
            given = {"unit": "degF", "holding": "out", "surroundings": air, "checks": PATIENT}
            log = poulter.check_holding_log(elapsed, core, **given)
            assert log.verdict == ("meets" if out <= hours * HOUR else "fails")
            seen.add(log.verdict)
    assert seen == {"meets", "fails"}
