"""Logs from Python: columns of every sort, verdicts, and estimates held against SciPy and mpmath.

The tables are the oracle's own copy, typed from the published time and temperature tables and not read from the
library: FSIS cooking guideline, turkey, 7-log10, 12 % fat, 136 °F to 164 °F; FSA, 70 °C for 2 min with z 7.5 °C.
"""

import array
import math
import pickle
import threading

import mpmath
import numpy as np
import pytest
import scipy.integrate

import poulter

TURKEY_MIN = [
    70.8, 58.5, 48.5, 40.4, 33.7, 28.2, 23.7, 19.8, 16.6, 13.8, 11.5, 9.4, 7.7, 6.2, 4.9, 3.8, 2.8, 2.1, 1.6, 1.3, 1.0,
    50.4 / 60, 40.9 / 60, 33.2 / 60, 26.9 / 60, 21.9 / 60, 17.7 / 60, 14.4 / 60, 11.7 / 60,
]  # fmt: skip
FIRST_F = 136
SEEDS = range(8)
ANY_GAP = {"longest_gap": "12 h", "flat_line": "24 h", "steepest_per_second": "500 delta_degC"}


def walk(seed, low, high, count=40):
    """A log that wanders, with readings and times in whole thousandths, as the library keeps them."""
    numbers = np.random.default_rng(seed)
    seconds = np.cumsum(numbers.uniform(5, 60, count)).round(3)
    middle = (low + high) / 2
    readings = (middle + np.cumsum(numbers.normal(0, (high - low) / 12, count))).clip(low, high)
    return seconds, readings.round(3)


def table_rate(fahrenheit):
    """Powers of ten a second: the logarithm of time linear between rows, none below, capped above."""
    if fahrenheit < FIRST_F:
        return 0.0
    at = min(fahrenheit - FIRST_F, len(TURKEY_MIN) - 1)
    row = min(int(at), len(TURKEY_MIN) - 2)
    low, high = math.log(TURKEY_MIN[row]), math.log(TURKEY_MIN[row + 1])
    return 7 / (60 * math.exp(low + (high - low) * (at - row)))


def by_quad(rate, seconds, readings, knots):
    """SciPy's adaptive quadrature along straight lines, split where the rate bends."""
    total = 0.0
    for t0, t1, x0, x1 in zip(seconds, seconds[1:], readings, readings[1:], strict=False):
        crossed = [(k - x0) / (x1 - x0) for k in knots if min(x0, x1) < k < max(x0, x1)]
        ends = [0.0, *sorted(crossed), 1.0]
        for a, b in zip(ends, ends[1:], strict=False):
            value, _ = scipy.integrate.quad(
                lambda s, x0=x0, x1=x1: rate(x0 + (x1 - x0) * s), a, b, epsabs=1e-13, epsrel=1e-11
            )
            total += value * (t1 - t0)
    return total


@pytest.mark.parametrize("seed", SEEDS)
def test_a_table_is_integrated_as_scipy_does(seed):
    seconds, readings = walk(seed, 132, 168)
    kill = poulter.lethality(
        seconds, readings, unit="degF", scheme="poultry-7log-turkey", checks=ANY_GAP
    )
    knots = range(FIRST_F, FIRST_F + len(TURKEY_MIN))
    assert kill.log_reduction == pytest.approx(by_quad(table_rate, seconds, readings, knots), 1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_d_value_is_integrated_as_mpmath_does(seed):
    seconds, readings = walk(seed, 50, 80)
    own = {"scheme": "own", "reference": "60 degC", "d_value": "5.26 min", "z_value": "5.87 delta_degC"}
    own["target"] = {"value": 7, "unit": "log10"}
    kill = poulter.lethality(seconds, readings, scheme=own, checks=ANY_GAP)
    total = mpmath.mpf(0)
    with mpmath.workdps(40):
        z, d = mpmath.mpf("5.87"), mpmath.mpf("5.26") * 60
        for t0, t1, x0, x1 in zip(seconds, seconds[1:], readings, readings[1:], strict=False):
            t0, t1, x0, x1 = (mpmath.mpf(str(value)) for value in (t0, t1, x0, x1))
            rate = [mpmath.power(10, (x - 60) / z) / d for x in (x0, x1)]
            mean = rate[0] if x0 == x1 else (rate[1] - rate[0]) / mpmath.log(rate[1] / rate[0])
            total += mean * (t1 - t0)
    assert kill.log_reduction == pytest.approx(float(total), 1e-11)


def cardinal(celsius, low=8.8, best=46.4, high=51.5, fastest=6.06):
    """Rosso's cardinal temperature model, in natural logarithms an hour."""
    if not low < celsius < high:
        return 0.0
    above = (celsius - high) * (celsius - low) ** 2
    below = (best - low) * ((best - low) * (celsius - best) - (best - high) * (best + low - 2 * celsius))
    return fastest * above / below


@pytest.mark.parametrize("seed", SEEDS)
def test_growth_is_what_solve_ivp_finds(seed):
    seconds, readings = walk(seed, 4, 50, 30)
    seconds = seconds * 10
    lag = {"h0": 2.0, "start_log10": 2.0, "ceiling_log10": 8.0}
    grown = poulter.growth(seconds, readings, lag=lag, checks=ANY_GAP)
    hours = seconds / 3600
    ceiling = 8 * math.log(10)

    def slopes(t, state):
        rate = cardinal(float(np.interp(t, hours, readings)))
        q = math.exp(state[0])
        return [rate, rate * q / (1 + q) * (1 - math.exp(state[1] - ceiling))]

    state = [-math.log(math.expm1(lag["h0"])), 2 * math.log(10)]
    for span in zip(hours, hours[1:], strict=False):
        solved = scipy.integrate.solve_ivp(slopes, span, state, method="DOP853", rtol=1e-11, atol=1e-12)
        state = solved.y[:, -1]
    found = grown.growth.places[0].with_lag
    assert found == pytest.approx(state[1] / math.log(10) - 2, abs=1e-9)
    bound = by_quad(cardinal, hours, readings, (8.8, 51.5)) / math.log(10)
    assert grown.log_growth == pytest.approx(bound, 1e-11)
    assert found <= grown.log_growth


def test_columns_of_every_sort_give_the_same_answer():
    seconds, readings = walk(3, 55, 75)
    listed = poulter.lethality(seconds.tolist(), readings.tolist(), checks=ANY_GAP)
    wide = np.zeros((len(readings), 2))
    wide[:, 1] = readings
    read_only = readings.copy()
    read_only.flags.writeable = False
    for column in (readings, array.array("d", readings), wide[:, 1], read_only, memoryview(readings)):
        assert poulter.lethality(seconds, column, checks=ANY_GAP) == listed
    assert poulter.lethality(seconds, {"core": readings}, checks=ANY_GAP) == listed
    assert pickle.loads(pickle.dumps(listed)) == listed


@pytest.mark.parametrize(
    ("column", "given"),
    [
        (np.array([60, 61], "float32"), "format f"),
        (np.array([60, 61]), "buffer of format"),
        (np.array([[60.0], [61.0]]), "2 dimensions"),
        (array.array("f", [60, 61]), "format f"),
        ("60", "str"),
        ([60, "hot"], "list"),
    ],
)
def test_another_type_is_refused_by_name(column, given):
    with pytest.raises(poulter.InputError, match="float64") as caught:
        poulter.lethality([0.0, 60.0], column)
    assert (caught.value.field, given in caught.value.given) == ("core", True)


def test_columns_that_do_not_fit_are_refused():
    with pytest.raises(poulter.InputError) as caught:
        poulter.check_cooking_log([0, 60], [70], unit="degC")
    assert "core" in caught.value.field
    with pytest.raises(poulter.InputError, match="degF") as caught:
        poulter.lethality([0, 60], [70, 70], unit="F")
    assert caught.value.field == "log.places[0].unit"
    with pytest.raises(poulter.InputError) as caught:
        poulter.check_cooking_log([0, 60], [70, 70])
    assert caught.value.field == "unit"
    with pytest.raises(poulter.InputError):
        poulter.check_cooking_log([0, 60], [70, 70], unit="degC", csv="")


def test_the_longer_hold_is_exactly_the_target():
    # 150 °F for 4.9 min: FSIS table, turkey.
    kill = poulter.lethality([0, 294], [150, 150], unit="degF", scheme="poultry-7log-turkey")
    assert kill.log_reduction == pytest.approx(7, 1e-12)
    assert kill.lethality.governing == "core"
    assert repr(kill) == "<Lethality 'core': at least 7 log10>"


def test_a_missing_reading_hides_the_kill():
    kill = poulter.lethality([0, 60, 120], [70, math.nan, 70])
    assert (kill.lethality, kill.log_reduction) == (None, None)
    assert (kill.faults[0].fault, kill.faults[0].first_row) == ("no-reading", 2)
    assert poulter.lethality([0, 60, 120], [70, None, 70]) == kill
    assert repr(kill) == "<Lethality at fault: no-reading>"
    assert repr(poulter.growth([0, 60, 60], [4, 4, 4])) == "<Growth at fault: duplicate-time>"
    assert repr(poulter.growth([0, 60], [4, 4])) == "<Growth without lag: 0.00 log10>"


@pytest.mark.parametrize(
    ("wing", "verdict"), [(164.999, "fails"), (165.0, "meets"), (165.001, "meets"), (math.nan, "cannot-tell")]
)
def test_a_log_of_a_roast_is_judged(wing, verdict):
    columns = {"breast": [160.0, 170.0], "thigh": [160.0, 170.0], "wing": [160.0, wing]}
    found = poulter.check_cooking_log([0, 300], columns, unit="degF")
    assert found.verdict == verdict
    worst = [finding for finding in found.findings if finding.place == "wing"][0]
    assert worst.rule == "us-consumer.doneness.bird"
    with pytest.raises(TypeError):
        bool(found)


def test_every_check_reads_columns_and_text():
    code = "us-food-code-2022"
    checks = {"longest_gap": "5 h"}
    for found in (
        poulter.check_cooling_log([0, 7200, 21600], [135, 70, 41], unit="degF", standard=code, checks=checks),
        poulter.check_cooling_log(csv="elapsed_h,core_temp_degF\n0,135\n2,70\n6,41\n", standard=code, checks=checks),
        poulter.check_holding_log([0, 300], [58, 57.5], unit="degC", holding="hot", standard=code),
        poulter.check_reheating_log([0, 600, 660], [41, 166, 165], unit="degF", cut="parts", standard=code),
        poulter.check_thawing_log([0, 600], [-2, 1], unit="degC", method="refrigerator", standard=code),
    ):
        assert found.verdict == "meets", found
        assert poulter.Answer.of(found._wire, {}) == found
    slow = poulter.check_cooling_log([0, 7201, 21600], [135, 70, 41], unit="degF", standard=code, checks=checks)
    assert slow.verdict == "fails"
    assert slow.findings[0].margin == poulter.Quantity(-1, "s")


def test_other_threads_run_meanwhile():
    # A thread that counts makes headway while the integral of a long log is worked out.
    count = 8_000_000
    seconds = np.arange(count, dtype="float64")
    readings = 55 + 5 * np.sin(seconds / 1000)
    stop, steps = threading.Event(), []

    def tick():
        while not stop.wait(0.001):
            steps.append(None)

    ticking = threading.Thread(target=tick)
    ticking.start()
    kill = poulter.lethality(seconds, readings, checks={"flat_line": "24 h"})
    stop.set()
    ticking.join()
    assert kill.log_reduction > 0
    assert steps
