"""Many logs at once: the same rows from every library, layout and unit, and the same as one log alone."""

import math
import subprocess
import sys
import threading
import time
from datetime import timedelta

import numpy as np
import pandas as pd
import polars as pl
import poulter
import pyarrow as pa
import pytest

ROWS = 120
NUMBERS = ("margin_K", "margin_s", "reached_s", "reduction_log10", "target_reached_s", "growth_log10")


def roast(peak: float, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """One reading a minute up to a peak in degrees Celsius."""
    t = np.arange(ROWS) * 60.0
    ripple = np.random.default_rng(seed).uniform(0.0, 0.02, ROWS)
    return t, peak - (peak - 4.0) * np.exp(-t / 1500.0) + ripple


def columns() -> dict[str, np.ndarray]:
    logs = [roast(70.0 + 0.5 * number, number) for number in range(20)]
    log_id = np.repeat([f"probe-{number:02}" for number in range(20)], ROWS)
    temp = np.concatenate([x for _, x in logs])
    temp[7 * ROWS + 30] = math.nan
    return {"log_id": log_id, "elapsed_s": np.concatenate([t for t, _ in logs]), "temp_degC": temp}


QUESTION = {"check": "cooking", "standard": "us-consumer", "cut": "boneless-breast"}


def plain(table: object) -> list[dict[str, object]]:
    """Rows of any table, with NaN and null as None."""
    if isinstance(table, dict):
        table = pd.DataFrame({name: list(values) for name, values in table.items()})
    if isinstance(table, pd.DataFrame):
        rows = table.astype(object).where(table.notna(), None).to_dict("records")
    elif isinstance(table, pl.DataFrame):
        rows = table.to_dicts()
    else:
        rows = pa.table(table).to_pylist()
    for row in rows:
        for name in ("fault_row",):
            row[name] = None if row[name] is None else int(row[name])
    return rows


@pytest.fixture(scope="module")
def expected() -> list[dict[str, object]]:
    return plain(poulter.check_logs(columns(), **QUESTION))


def test_each_row_is_the_verdict_of_the_log_alone(expected):
    table = columns()
    for number, row in enumerate(expected):
        rows = slice(number * ROWS, (number + 1) * ROWS)
        asked = {"unit": "degC", "standard": "us-consumer", "cut": "boneless-breast"}
        alone = poulter.check_cooking_log(table["elapsed_s"][rows], table["temp_degC"][rows], **asked)
        assert row["log_id"] == f"probe-{number:02}"
        assert row["verdict"] == alone.verdict
        assert row["reason"] in [finding.text for finding in alone.findings]
        if alone.lethality is None:
            assert (row["fault"], row["fault_row"]) == ("no-reading", 31)
        else:
            assert row["reduction_log10"] == alone.lethality.places[0].estimate_less_uncertainty
            growth = poulter.growth(table["elapsed_s"][rows], table["temp_degC"][rows])
            assert row["growth_log10"] == growth.log_growth
    assert {row["verdict"] for row in expected} == {"meets", "fails", "cannot-tell"}


def test_every_library_gives_its_own_table_with_the_same_rows(expected):
    given = columns()
    arrow = pa.table({name: pa.array(values) for name, values in given.items()})
    batch = arrow.to_batches()[0]
    pieces = pa.concat_tables([arrow.slice(0, 1000), arrow.slice(1000)])
    for table in (pd.DataFrame(given), pl.DataFrame(given), arrow, batch, pieces):
        found = poulter.check_logs(table, **QUESTION)
        assert type(found) is type(table)
        assert plain(found) == expected


def test_a_bare_producer_of_a_stream_or_an_array_is_answered_with_a_producer(expected):
    class Stream:
        def __arrow_c_stream__(self, requested_schema: object = None) -> object:
            return pa.table(columns()).__arrow_c_stream__(requested_schema)

    class Array:
        def __arrow_c_array__(self, requested_schema: object = None) -> object:
            return pa.table(columns()).to_batches()[0].__arrow_c_array__(requested_schema)

    for producer in (Stream(), Array()):
        assert plain(pa.record_batch(poulter.check_logs(producer, **QUESTION))) == expected


def test_long_wide_and_list_columns_agree():
    t, x = roast(80.0, 3)
    y = x - 3.0
    ids = ["a"] * ROWS
    wide = {"log_id": ids, "elapsed_s": t, "breast_temp_degC": x, "thigh_temp_degC": y, "wing_temp_degC": x}
    long = {
        "log_id": ids * 3,
        "place": ["breast"] * ROWS + ["thigh"] * ROWS + ["wing"] * ROWS,
        "elapsed_s": np.concatenate([t, t, t]),
        "temp_degC": np.concatenate([x, y, x]),
    }
    lists = {"log_id": ["a"], "elapsed_s": [t.tolist()]}
    lists |= {f"{place}_temp_degC": [v.tolist()] for place, v in (("breast", x), ("thigh", y), ("wing", x))}
    rows = [plain(poulter.check_logs(table))[0] for table in (wide, long, lists)]
    rows += [plain(poulter.check_logs(pl.DataFrame(table)))[0] for table in (wide, long, lists)]
    rows += [plain(poulter.check_logs(pd.DataFrame(table)))[0] for table in (wide, long, lists)]
    assert rows[0]["place"] == "thigh"
    assert all(row == rows[0] for row in rows)


def test_units_come_from_the_name_the_metadata_or_the_argument():
    t, x = roast(80.0, 4)
    base = {"log_id": ["a"] * ROWS, "elapsed_s": t}
    named = plain(poulter.check_logs({**base, "temp_degC": x}, **QUESTION))
    assert plain(poulter.check_logs({**base, "temp": x}, unit="degC", **QUESTION)) == named
    fields = [pa.field("log_id", pa.string()), pa.field("elapsed_s", pa.float64())]
    fields.append(pa.field("temp", pa.float64(), metadata={"unit": "degC"}))
    table = pa.table({**base, "temp": x}, schema=pa.schema(fields))
    assert plain(poulter.check_logs(table, **QUESTION)) == named
    minutes = {**base, "temp_degC": x, "elapsed_min": t / 60.0}
    del minutes["elapsed_s"]
    assert plain(poulter.check_logs(minutes, **QUESTION)) == named
    spans = pd.DataFrame({"log_id": ["a"] * ROWS, "elapsed": pd.to_timedelta(t, unit="s"), "temp_degC": x})
    assert plain(poulter.check_logs(spans, **QUESTION)) == named
    spans = pl.DataFrame({**base, "temp_degC": x}).with_columns(
        elapsed=pl.Series([timedelta(seconds=s) for s in t])
    )
    assert plain(poulter.check_logs(spans.drop("elapsed_s"), **QUESTION))[0]["verdict"] == named[0]["verdict"]


@pytest.mark.parametrize(
    ("change", "slug"),
    [
        ({"temp_degC": None, "temp": [60.0, 61.0]}, "unit-missing"),
        ({"temp_degC": None, "temp_C": [60.0, 61.0]}, "unit-unknown"),
        ({"elapsed_s": None}, "missing-field"),
        ({"log_id": None}, "missing-field"),
        ({"temp_degC": None}, "missing-field"),
        ({"log_id": ["a", None]}, "missing-field"),
        ({"temp_degC": [[60.0], [61.0]]}, "wrong-type"),
    ],
)
def test_columns_that_are_missing_or_without_a_unit_are_refused(change, slug):
    table = {"log_id": ["a", "a"], "elapsed_s": [0.0, 60.0], "temp_degC": [60.0, 61.0], **change}
    table = {name: values for name, values in table.items() if values is not None}
    with pytest.raises(poulter.PoulterError) as refused:
        poulter.check_logs(table, **QUESTION)
    assert refused.value.slug == slug


def test_what_is_no_table_is_refused():
    with pytest.raises(poulter.InputError):
        poulter.check_logs(42)
    with pytest.raises(poulter.InputError):
        poulter.check_logs(columns(), check="frying")


def test_strided_and_narrow_arrays_and_whole_numbers_are_taken(expected):
    given = columns()
    both = np.empty((len(given["elapsed_s"]), 2))
    both[:, 0], both[:, 1] = given["elapsed_s"], given["temp_degC"]
    frame = pd.DataFrame({"log_id": pd.Categorical(given["log_id"]), "elapsed_s": both[:, 0].astype("int32")})
    frame["temp_degC"] = both[:, 1]
    assert plain(poulter.check_logs(frame, **QUESTION)) == expected
    strided = {"log_id": given["log_id"].tolist(), "elapsed_s": both[:, 0], "temp_degC": both[:, 1]}
    assert plain(poulter.check_logs(strided, **QUESTION)) == expected
    numbered = {**given, "log_id": np.repeat(np.arange(20) * 7, ROWS)}
    found = poulter.check_logs(numbered, **QUESTION)
    assert list(found["log_id"]) == [number * 7 for number in range(20)]
    assert list(found["verdict"]) == [row["verdict"] for row in expected]


WHOLE = {
    "log_id": pa.array(["a", "a", "b", "b"]),
    "elapsed_s": pa.array([0, 60, 0, 60], pa.int64()),
    "temp_degC": pa.array([60, 75, 60, 73], pa.float64()),
}


@pytest.mark.parametrize(
    "change",
    [
        *({"temp_degC": kind} for kind in (pa.int8(), pa.int16(), pa.int32(), pa.int64())),
        *({"temp_degC": kind} for kind in (pa.uint8(), pa.uint16(), pa.uint32(), pa.uint64())),
        *({"temp_degC": kind} for kind in (pa.float16(), pa.float32(), pa.decimal128(6, 2), pa.decimal128(9, 0))),
        {"temp_degC": pa.dictionary(pa.int32(), pa.float64())},
        *({"log_id": kind} for kind in (pa.large_string(), pa.string_view(), pa.dictionary(pa.int32(), pa.string()))),
        {"elapsed_s": pa.uint16()},
    ],
    ids=str,
)
def test_columns_of_any_sort_of_number_or_word_give_the_same_rows(change):
    table = dict(WHOLE)
    for name, kind in change.items():
        encoded = pa.types.is_dictionary(kind)
        table[name] = table[name].dictionary_encode() if encoded else table[name].cast(kind)
    found = poulter.check_logs(pa.table(table), **QUESTION)
    plainly = poulter.check_logs(pa.table(WHOLE), **QUESTION)
    assert found["verdict"].to_pylist() == ["meets", "fails"]
    assert found.drop_columns("log_id") == plainly.drop_columns("log_id")
    assert found.schema.field("log_id").type == change.get("log_id", pa.string())


@pytest.mark.parametrize(
    "ids",
    [
        pa.array([1, 1, 2, 2], pa.uint64()),
        pa.array([0.5, 0.5, 1.5, 1.5]),
        pa.array([False, False, True, True]),
        pa.array([1, 1, 2, 2], pa.timestamp("ms", "UTC")),
        pa.array([1, 1, 2, 2], pa.date32()),
        pa.array([1, 1, 2, 2], pa.time32("s")),
    ],
    ids=lambda ids: str(ids.type),
)
def test_a_log_may_be_named_by_anything_that_tells_it_apart(ids):
    found = poulter.check_logs(pa.table({**WHOLE, "log_id": ids}), **QUESTION)
    assert found["log_id"].to_pylist() == [ids[0].as_py(), ids[2].as_py()]
    assert found["verdict"].to_pylist() == ["meets", "fails"]


@pytest.mark.parametrize("kind", [pa.list_(pa.float64()), pa.large_list(pa.float64()), pa.list_(pa.float64(), 2)], ids=str)
def test_lists_of_any_sort_are_read_from_where_their_slice_begins(kind):
    table = pa.table(
        {
            "log_id": ["before", "a", "b"],
            "elapsed_s": pa.array([[0, 60]] * 3, kind),
            "temp_degC": pa.array([[0, 1], [60, 75], [60, 73]], kind),
        }
    )
    found = poulter.check_logs(table.slice(1), **QUESTION)
    assert found["log_id"].to_pylist() == ["a", "b"]
    assert found["verdict"].to_pylist() == ["meets", "fails"]


@pytest.mark.parametrize("kind", [pa.bool_(), pa.binary(), pa.date32()], ids=str)
def test_what_is_no_number_is_no_temperature(kind):
    table = {**WHOLE, "temp_degC": pa.array([None] * 4, kind)}
    with pytest.raises(poulter.InputError) as refused:
        poulter.check_logs(pa.table(table), **QUESTION)
    assert (refused.value.slug, refused.value.field) == ("wrong-type", "temp_degC")


def test_the_interpreter_goes_on_while_logs_are_judged():
    table = {name: np.tile(values, 40) for name, values in columns().items() if name != "log_id"}
    table["log_id"] = np.repeat(np.arange(800), ROWS)
    turns = before = 0
    done = threading.Event()

    def count() -> None:
        nonlocal turns
        while not done.is_set():
            turns += 1
            time.sleep(0)

    # No thread is made to give up the lock, so that the other one counts only while it is let go of.
    interval = sys.getswitchinterval()
    sys.setswitchinterval(60.0)
    thread = threading.Thread(target=count)
    thread.start()
    try:
        # On a busy machine the other thread may not get its turn at once.
        for _ in range(100):
            before = turns
            poulter.check_logs(table, **QUESTION)
            if turns > before:
                break
        assert turns > before
    finally:
        done.set()
        thread.join()
        sys.setswitchinterval(interval)


def test_no_library_of_tables_is_imported():
    code = (
        "import sys, poulter\n"
        "poulter.check_logs({'log_id': ['a', 'a'], 'elapsed_s': [0, 60], 'temp_degC': [60.0, 75.0]}, cut='thigh')\n"
        "assert not {'numpy', 'pandas', 'polars', 'pyarrow', 'dask'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
