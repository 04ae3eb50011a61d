"""Logs over the partitions of a Dask DataFrame, on a real cluster of two workers."""

import dask.dataframe as dd
import pandas as pd
import poulter
import poulter.dask
import pytest
from distributed import Client, LocalCluster
from test_batch import QUESTION, columns, plain

# Dask's own start-up and shut-down warn of things that are no concern of this package.
pytestmark = pytest.mark.filterwarnings("default")


@pytest.fixture(scope="module")
def client():
    cluster = LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, processes=True)
    with cluster, Client(cluster) as client:
        yield client


def table() -> pd.DataFrame:
    given = columns()
    return pd.DataFrame({**given, "log_id": given["log_id"].astype(object)})


def whole_logs(parts: int) -> dd.DataFrame:
    frame = table()
    step = len(frame) // parts
    pieces = [frame.iloc[start : start + step] for start in range(0, len(frame), step)]
    return dd.concat([dd.from_pandas(piece, npartitions=1) for piece in pieces])


def test_two_workers_give_the_rows_of_one_call(client, capsys):
    assert len(client.scheduler_info()["workers"]) == 2
    expected = plain(poulter.check_logs(table(), **QUESTION))
    found = poulter.dask.check_logs(whole_logs(4), **QUESTION)
    assert plain(found) == expected
    assert "Completed" in capsys.readouterr().out


def test_a_log_in_two_partitions_is_refused(client):
    with pytest.raises(poulter.InputError) as refused:
        poulter.dask.check_logs(dd.from_pandas(table(), npartitions=3), progress=False, **QUESTION)
    assert refused.value.field == "log_id"


def test_a_refusal_comes_back_from_a_worker_as_itself(client):
    frame = whole_logs(2).rename(columns={"temp_degC": "temp"})
    with pytest.raises(poulter.UnitError):
        poulter.dask.check_logs(frame, progress=False, **QUESTION)
