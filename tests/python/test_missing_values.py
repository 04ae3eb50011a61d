"""What each library has for "no value here" becomes a finding or an error, never the number that lies beneath.

A masked array keeps a number under its mask (NumPy, "Masked arrays": "missing or invalid entries"); the nullable
columns of pandas, Arrow and Polars keep one under a bit of validity (Arrow columnar format, "Validity bitmaps": the
contents of a null slot are undefined).
"""

import array
from datetime import timedelta

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import poulter

TIMES = [0.0, 60.0, 120.0]
HOT = [80.0, 80.0, 80.0]
GAP = [False, True, False]
# The readings are whole numbers, so that they are good times as well where only the kind of column counts.
MASKED = {
    "float64": np.ma.masked_array([0.0, 60.0, 120.0], GAP),
    "int64": np.ma.masked_array([0, 60, 120], GAP),
    "object": np.ma.masked_array(np.array([0.0, 60.0, 120.0], object), GAP),
    "steps": np.ma.masked_array([0.0, 1.0, 60.0, 1.0, 120.0, 1.0], np.repeat(GAP, 2))[::2],
    "nothing masked": np.ma.masked_array([0.0, 60.0, 120.0]),
    "empty": np.ma.masked_array([]),
}
WITH_A_GAP = {
    "list": [0.0, None, 120.0],
    "NaN": np.array([0.0, np.nan, 120.0]),
    "objects": np.array([0.0, None, 120.0], object),
    "list of NA": [0.0, pd.NA, 120.0],
    "list of NaT": [0.0, pd.NaT, 120.0],
    "pandas": pd.Series([0.0, None, 120.0]),
    "pandas Float64": pd.Series([0.0, pd.NA, 120.0], dtype="Float64"),
    "pandas Int64": pd.Series([0, pd.NA, 120], dtype="Int64"),
    "pandas Arrow": pd.Series([0.0, None, 120.0], dtype="double[pyarrow]"),
    "pandas objects": pd.Series([0.0, pd.NA, 120.0], dtype=object),
    "pandas array": pd.array([0.0, pd.NA, 120.0], dtype="Float64"),
    "pyarrow": pa.array([0.0, None, 120.0]),
    "pyarrow over a number": pa.array(np.array([0.0, 60.0, 120.0]), mask=np.array(GAP)),
    "pyarrow in pieces": pa.chunked_array([[0.0, None], [120.0]]),
    "pyarrow int64": pa.array([0, None, 120]),
    "Polars": pl.Series([0.0, None, 120.0]),
    "Polars int64": pl.Series([0, None, 120]),
}
FOUND = ("verdict", "fault", "fault_row")
ROAST = {"cut": "boneless-breast", "standard": "us-consumer"}


def check_one(times, readings):
    return poulter.check_cooking_log(times, {"breast": readings}, unit="degC", **ROAST)


ALONE = (poulter.lethality, poulter.growth, check_one)


def table(**changed):
    return {"log_id": ["a"] * 3, "elapsed_s": TIMES, "temp_degC": HOT} | changed


@pytest.mark.parametrize("ask", ALONE)
@pytest.mark.parametrize("masked", MASKED.values(), ids=MASKED)
def test_a_masked_column_of_a_log_is_refused_by_name(ask, masked):
    for times, readings, field in ((masked, HOT, "elapsed_s"), (TIMES, masked, ("core", "breast"))):
        with pytest.raises(poulter.InputError, match=r"filled\(nan\)") as refused:
            ask(times, readings)
        assert (refused.value.slug, refused.value.given) == ("wrong-type", "an array with a mask")
        assert refused.value.field in field


@pytest.mark.parametrize("field", ["elapsed_s", "temp_degC"])
@pytest.mark.parametrize("kind", ["float64", "int64", "steps", "nothing masked", "empty"])
def test_a_masked_column_of_a_table_is_refused_by_name(field, kind):
    with pytest.raises(poulter.InputError, match=r"filled\(nan\)") as refused:
        poulter.check_logs(table(**{field: MASKED[kind]}), **ROAST)
    assert (refused.value.field, refused.value.given) == (field, "an array with a mask")


@pytest.mark.filterwarnings("ignore:Warning. converting a masked element to nan")
def test_a_mask_that_is_kept_on_the_way_is_a_missing_reading():
    hidden = np.ma.masked_array(HOT, GAP)
    as_objects = hidden.astype(object)
    nested = {"log_id": ["a"], "elapsed_s": [TIMES], "temp_degC": [hidden]}
    frame = pd.DataFrame(table(temp_degC=hidden))
    for given in (table(temp_degC=as_objects), table(temp_degC=list(hidden)), nested, frame):
        found = poulter.check_logs(given, **ROAST)
        assert [list(found[name]) for name in FOUND] == [["cannot-tell"], ["no-reading"], [2]]
    kill = poulter.lethality(TIMES, list(hidden))
    assert (kill.log_reduction, kill.faults[0].fault, kill.faults[0].first_row) == (None, "no-reading", 2)


def test_what_the_error_advises_gives_a_finding_and_a_plain_array_an_answer():
    hidden = np.ma.masked_array(HOT, GAP)
    filled = poulter.lethality(TIMES, hidden.filled(np.nan))
    assert (filled.log_reduction, filled.faults[0].fault) == (None, "no-reading")
    assert poulter.check_logs(table(temp_degC=hidden.filled(np.nan)), **ROAST)["verdict"] == ["cannot-tell"]
    plain = poulter.lethality(np.array(TIMES), np.array(HOT))
    assert plain.log_reduction > 0 and plain == poulter.lethality(TIMES, HOT)
    for readings in (np.array(HOT), np.asarray([HOT, HOT]).T[:, 0]):
        assert check_one(np.array(TIMES), readings).verdict == "meets"
        assert poulter.check_logs(table(elapsed_s=np.array(TIMES), temp_degC=readings), **ROAST)["verdict"] == ["meets"]


@pytest.mark.parametrize("column", WITH_A_GAP.values(), ids=WITH_A_GAP)
@pytest.mark.parametrize("as_time", [False, True], ids=["readings", "times"])
def test_a_gap_in_a_column_of_a_log_is_a_finding_or_an_error(column, as_time):
    try:
        kill = poulter.lethality(column, HOT) if as_time else poulter.lethality(TIMES, column)
    except poulter.InputError as refused:
        assert (refused.slug, refused.field) == ("wrong-type", "elapsed_s" if as_time else "core")
    else:
        assert (kill.lethality, kill.log_reduction) == (None, None)
        assert (kill.faults[0].fault, kill.faults[0].first_row) == ("no-time" if as_time else "no-reading", 2)


def tables_with(name, column):
    """Every table that can hold the column."""
    yield table(**{name: column})
    if isinstance(column, (pd.Series, list, np.ndarray, pd.api.extensions.ExtensionArray)):
        yield pd.DataFrame(table(**{name: column}))
    if isinstance(column, pl.Series):
        yield pl.DataFrame(table(**{name: column}))
    if isinstance(column, (pa.Array, pa.ChunkedArray)):
        yield pa.table(table(**{name: column}))


@pytest.mark.parametrize("column", WITH_A_GAP.values(), ids=WITH_A_GAP)
@pytest.mark.parametrize(("name", "fault"), [("temp_degC", "no-reading"), ("elapsed_s", "no-time")])
def test_a_gap_in_a_column_of_a_table_is_a_finding_or_an_error(column, name, fault):
    for given in tables_with(name, column):
        try:
            found = poulter.check_logs(given, **ROAST)
        except poulter.InputError as refused:
            assert (refused.slug, refused.field) == ("wrong-type", name)
        else:
            rows = [list(found[key]) for key in FOUND]
            rows = [[getattr(cell, "as_py", lambda cell=cell: cell)() for cell in row] for row in rows]
            assert rows == [["cannot-tell"], [fault], [2]]


# A duration is kept as a count of ticks, which is no temperature and no number of seconds.
@pytest.mark.parametrize("unit", ["s", "ms", "us", "ns"])
@pytest.mark.parametrize("kind", ["timedelta64", "datetime64"])
def test_ticks_of_a_clock_are_no_numbers(kind, unit):
    ticks = np.array([70, 71, 72], f"{kind}[{unit}]")
    arrow = pa.array([70, 71, 72], pa.duration(unit) if kind == "timedelta64" else pa.timestamp(unit))
    asked = [lambda: ask(TIMES, ticks) for ask in ALONE] + [lambda: ask(ticks, HOT) for ask in ALONE]
    asked += [lambda: poulter.convert(ticks, "s", "h"), lambda: poulter.convert(ticks[0], "s", "h")]
    asked += [lambda: poulter.check_logs(table(elapsed_s=ticks), **ROAST)]
    for column in (ticks, arrow, pd.Series(ticks)):
        asked.append(lambda column=column: poulter.check_logs(table(temp_degC=column), **ROAST))
    for question in asked:
        with pytest.raises(poulter.InputError) as refused:
            question()
        assert refused.value.slug == "wrong-type"


@pytest.mark.parametrize("kind", ["timedelta64", "datetime64", "timedelta"])
def test_items_that_count_ticks_are_no_numbers(kind):
    # NumPy, "Datetimes and timedeltas": both are 64-bit counts of their unit, and float() gives the count.
    ticks = [timedelta(seconds=s) for s in (0, 60, 120)] if kind == "timedelta" else list(np.array([0, 60, 120], f"{kind}[s]"))
    for mixed in (ticks, [0.0, *ticks[1:]], tuple(ticks)):
        for ask in (*ALONE, lambda t, x: poulter.check_logs(table(elapsed_s=t, temp_degC=x), **ROAST)):
            for times, readings, fields in ((mixed, HOT, ("elapsed_s",)), (TIMES, mixed, ("core", "breast", "temp_degC"))):
                with pytest.raises(poulter.InputError, match="total_seconds") as refused:
                    ask(times, readings)
                assert refused.value.slug == "wrong-type" and refused.value.field in fields
                assert kind in refused.value.given or kind == "timedelta"
    nested = {"log_id": ["a"], "elapsed_s": [ticks], "temp_degC": [HOT]}
    with pytest.raises(poulter.InputError, match="total_seconds"):
        poulter.check_logs(nested, **ROAST)
    seconds = [tick / np.timedelta64(1, "s") if kind == "timedelta64" else 60.0 * row for row, tick in enumerate(ticks)]
    assert poulter.check_logs(table(elapsed_s=seconds), **ROAST)["verdict"] == ["meets"]


@pytest.mark.parametrize("raw", [b"\x00<x", bytearray(b"\x00<x"), memoryview(b"\x00<x")], ids=["bytes", "bytearray", "memoryview"])
def test_bytes_are_no_column(raw):
    for name in ("log_id", "elapsed_s", "temp_degC"):
        with pytest.raises(poulter.InputError, match="bytes") as refused:
            poulter.check_logs(table(**{name: raw}), **ROAST)
        assert (refused.value.slug, refused.value.field, refused.value.given) == ("wrong-type", name, type(raw).__name__)
    for times, readings in ((raw, HOT), (TIMES, raw)):
        with pytest.raises(poulter.InputError) as refused:
            poulter.lethality(times, readings)
        assert refused.value.slug == "wrong-type"
    with pytest.raises(poulter.InputError, match="bytes") as refused:
        poulter.check_logs(table(log_id=[bytes(raw)] * 3), **ROAST)
    read = memoryview(array.array("d", HOT).tobytes()).cast("d")
    assert poulter.check_logs(table(temp_degC=read), **ROAST)["verdict"] == ["meets"]


@pytest.mark.parametrize("ids", [[1.0, float("nan"), 1.0], np.array([1.0, np.nan, 1.0]), pa.array([1.0, np.nan, 1.0])])
def test_a_row_of_no_log_is_refused(ids):
    # IEEE 754: NaN equals nothing, so it names no log.
    given = [table(log_id=ids), pd.DataFrame(table(log_id=ids))]
    given += [pa.table(table(log_id=ids)), pl.DataFrame(table(log_id=list(map(float, np.asarray(ids)))))]
    for rows in given:
        with pytest.raises(poulter.InputError, match="row 2") as refused:
            poulter.check_logs(rows, **ROAST)
        assert (refused.value.slug, refused.value.field) == ("missing-field", "log_id")
    assert list(poulter.check_logs(table(log_id=[1.0, 1.0, 1.0]), **ROAST)["verdict"]) == ["meets"]


def series():
    yield pd.Series(HOT)
    yield pd.Series([80, 80, 80])
    yield pd.Series(HOT, dtype="double[pyarrow]")
    yield pl.Series(HOT)
    yield pl.Series([80, 80, 80])
    yield pa.array(HOT)
    yield pa.chunked_array([[80.0], [80.0, 80.0]])


@pytest.mark.parametrize("readings", list(series()), ids=lambda series: f"{type(series).__module__} {getattr(series, 'dtype', '')}")
def test_a_series_of_each_library_is_a_column_of_one_log(readings):
    expected = poulter.lethality(TIMES, HOT)
    assert expected.log_reduction > 0 and poulter.lethality(TIMES, readings) == expected
    assert poulter.lethality(type(readings)(TIMES) if isinstance(readings, (pd.Series, pl.Series)) else pa.array(TIMES), HOT) == expected
    assert check_one(TIMES, readings).verdict == "meets"


@pytest.mark.parametrize("words", [pd.Series(["80", "81", "82"]), pl.Series(["80", "81", "82"]), pa.array(["80", "81", "82"]), "808"])
def test_words_are_no_readings_of_one_log(words):
    with pytest.raises(poulter.InputError) as refused:
        poulter.lethality(TIMES, words)
    assert (refused.value.slug, refused.value.field) == ("wrong-type", "core")


def test_text_that_is_no_number_is_a_missing_reading():
    found = poulter.check_logs(table(temp_degC=["80", "hot", "80"]), **ROAST)
    assert [list(found[name]) for name in FOUND] == [["cannot-tell"], ["no-reading"], [2]]


def empties():
    return [array.array("d"), memoryview(array.array("d")), np.array([]), np.empty((4, 2))[:0, 1]]


@pytest.mark.parametrize("empty", empties(), ids=["array", "memoryview", "NumPy", "steps"])
def test_empty_buffers_are_a_log_without_rows(empty):
    kill = poulter.lethality(empty, empty)
    assert kill == poulter.lethality([], []) and kill.log_reduction is None
    assert (kill.faults[0].fault, check_one(empty, empty).verdict) == ("too-short", "cannot-tell")
    for times, readings in ((empty, HOT), (TIMES, empty)):
        with pytest.raises(poulter.InputError) as refused:
            poulter.lethality(times, readings)
        assert (refused.value.slug, refused.value.field) == ("conflict", "log.core")


# The float64 of the other byte order is eight bytes like its own, so that reading it as it lies gives other numbers.
SWAPPED = np.dtype("float64").newbyteorder("S")


@pytest.mark.parametrize("column", [np.array(HOT, SWAPPED), np.array([], SWAPPED)], ids=["full", "empty"])
def test_numbers_in_the_byte_order_of_another_machine_are_refused(column):
    asked = [lambda: ask(TIMES, column) for ask in ALONE] + [lambda: ask(column, HOT) for ask in ALONE]
    asked += [lambda: poulter.convert(column, "degF", "degC")]
    asked += [lambda: poulter.check_logs(table(temp_degC=column), **ROAST)]
    asked += [lambda: poulter.check_logs(table(elapsed_s=column.astype(SWAPPED.str.replace("f", "i"))), **ROAST)]
    for question in asked:
        with pytest.raises(poulter.InputError, match="astype") as refused:
            question()
        assert refused.value.given.startswith("a buffer of format ")


def test_numbers_put_in_the_byte_order_of_this_machine_are_read():
    swapped = np.array(HOT, SWAPPED)
    assert poulter.lethality(TIMES, swapped.astype("float64")) == poulter.lethality(TIMES, HOT)
    assert list(poulter.check_logs(pd.DataFrame(table(temp_degC=swapped)), **ROAST)["verdict"]) == ["meets"]


@pytest.mark.parametrize("empty", [array.array("l"), np.array([], "float32"), b""])
def test_an_empty_buffer_of_another_type_is_refused_as_a_full_one(empty):
    for ask in (lambda: poulter.lethality(empty, empty), lambda: poulter.convert(empty, "lb", "kg")):
        with pytest.raises(poulter.InputError) as refused:
            ask()
        assert refused.value.given.startswith("a buffer of format ")
