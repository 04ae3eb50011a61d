"""The probe handle and the pictures of the heat model."""

import builtins

import pytest

import poulter
from poulter import Probe, Quantity

ROAST = {"mass": "12 lb", "start": "40 degF", "target": "165 degF", "oven": [{"temperature": "325 degF"}]}
ROWS = [("60 min", "66 degF"), ("70 min", "76 degF"), ("80 min", "87 degF")]


def test_pushed_readings_answer_as_those_of_one_question():
    probe = Probe(ROAST, places=["breast", "oven"], members=200)
    for elapsed, temperature in ROWS:
        probe.push("breast", elapsed, temperature)
    state = probe.state()
    assert state == poulter.forecast(ROAST, probes={"breast": ROWS, "oven": []}, members=200)
    # The consumer rule names breast, thigh and wing; nobody measured two of them, and the breast is cold.
    assert state.verdict == "fails"
    assert state.findings == () and state.places[0].place == "breast"
    assert 0 < state.coverage.covered.value <= 100


def test_a_refused_reading_changes_nothing():
    probe = Probe(ROAST, places=["breast"], members=200)
    probe.push("breast", *ROWS[0])
    before = probe.state()
    for place, elapsed, temperature, slug in (
        ("breast", "60 min", "70 degF", "out-of-range"),
        ("wing", "61 min", "70 degF", "unknown-value"),
        ("tail", "61 min", "70 degF", "unknown-value"),
    ):
        with pytest.raises(poulter.PoulterError) as caught:
            probe.push(place, elapsed, temperature)
        assert caught.value.slug == slug
    assert probe.state() == before


def test_a_probe_that_falls_out_is_named_and_never_shortens():
    probe = Probe(ROAST, places=["breast"], members=200)
    for row in ROWS:
        probe.push("breast", *row)
    before = probe.state().time_to_target
    probe.push("breast", "81 min", "50 degF")
    state = probe.state()
    (finding,) = state.findings
    assert (finding.trouble, finding.place, finding.until) == ("pulled-out", "breast", None)
    assert finding.at == Quantity(81, "min") and "50" in finding.evidence
    assert before is not None and state.time_to_target is not None
    assert state.time_to_target.high >= before.high


def test_arrays_are_the_columns():
    np = pytest.importorskip("numpy")
    curve = poulter.simulate_roast("12 lb", start="40 degF", oven=ROAST["oven"], target="165 degF").zones[0].curve
    elapsed, celsius = curve.arrays()
    assert elapsed.dtype == np.float64 and tuple(celsius) == curve.temp_degC and elapsed[1] == 300.0


@pytest.fixture
def agg():
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("Agg")
    from matplotlib import pyplot

    yield pyplot
    pyplot.close("all")


def test_pictures_tell_places_apart_without_colour(agg):
    roast = poulter.simulate_roast("12 lb", start="40 degF", oven=ROAST["oven"], target="165 degF")
    thaw = poulter.simulate_thaw(
        "4 lb", start="0 degF", surroundings={"kind": "water", "temperature": "50 degF"}
    )
    rest = poulter.simulate_rest(ROAST, room="72 degF", duration="20 min")
    log = {"breast": [60.0, 66.0, 70.0], "thigh": [62.0, None, 71.0]}
    pictures = [
        roast.plot(),
        thaw.plot(),
        rest.plot(),
        poulter.plot_log([0, 60, 120], log, unit="degC"),
    ]
    for ax in pictures:
        lines = ax.get_lines()
        assert len(lines) == 2
        assert len({(line.get_linestyle(), line.get_marker()) for line in lines}) == 2
        assert len({text.get_text() for text in ax.get_legend().get_texts()}) == 2
        assert "[h]" in ax.get_xlabel() and "°C" in ax.get_ylabel()
        ax.figure.canvas.draw()
    assert roast.plot(pictures[0]) is pictures[0]
    x, y = pictures[1].get_lines()[0].get_data()
    assert tuple(y) == thaw.curves[0].temp_degC and x[1] == pytest.approx(thaw.curves[0].elapsed_s[1] / 3600)


def test_a_forecast_is_drawn_with_its_band(agg):
    seen = poulter.forecast(ROAST, probes={"breast": ROWS}, members=200)
    ax = seen.plot()
    said = {text.get_text() for text in ax.get_legend().get_texts()}
    assert {"breast, likely", "breast, 10 % to 90 %", "breast, last reading"} <= said
    assert "fails" in ax.get_title()
    ax.figure.canvas.draw()


def test_without_matplotlib_the_extra_is_named(monkeypatch):
    thaw = poulter.simulate_thaw(
        "4 lb", start="0 degF", surroundings={"kind": "water", "temperature": "50 degF"}
    )
    real = builtins.__import__

    def without(name, *rest):
        if name.split(".")[0] == "matplotlib":
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(ImportError, match=r"pip install 'poulter\[plot\]'"):
        thaw.plot()
