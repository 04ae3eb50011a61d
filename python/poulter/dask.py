"""Many logs on many machines: :func:`poulter.check_logs` over the partitions of a Dask DataFrame.

Needs ``dask[distributed]`` (the extra ``dask``).
"""

from __future__ import annotations

from . import _core
from .batch import check_logs as check_partition

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__all__ = ["check_logs"]


def check_logs(ddf: Any, *, log: str = "log_id", progress: bool = True, **question: Any) -> Any:
    """Judge every log of a Dask DataFrame, a partition at a time on the workers of the cluster.

    Each partition must hold whole logs, as it does when each file or day is a partition, or after
    ``ddf.set_index(log)``. A log that is found in two partitions is refused: half a log can look like a sound one.

    Parameters
    ----------
    ddf
        A Dask DataFrame in a layout of :func:`poulter.check_logs`.
    log
        The column that names the log of a row.
    progress
        Show a bar until the last partition is done.
    question
        The other keywords of :func:`poulter.check_logs`.

    Returns
    -------
    A pandas DataFrame with one row a log, in the order of the partitions.

    Raises
    ------
    poulter.InputError
        A log lies in two partitions, or a partition is refused by :func:`poulter.check_logs`.

    Examples
    --------
    >>> import dask.dataframe as dd
    >>> import pandas as pd
    >>> from poulter.dask import check_logs
    >>> rows = pd.DataFrame({"log_id": ["a", "a"], "elapsed_s": [0.0, 60.0], "temp_degF": [160.0, 165.0]})
    >>> found = check_logs(dd.from_pandas(rows, npartitions=1), progress=False, cut="boneless-breast")
    >>> list(found["verdict"])
    ['meets']
    """
    import pandas as pd
    from dask.delayed import delayed

    judge = delayed(check_partition)
    parts = [judge(part, log=log, **question) for part in ddf.to_delayed()]
    found = _compute(parts, progress)
    frame = pd.concat(found, ignore_index=True)
    twice = frame[log][frame[log].duplicated()]
    if len(twice):
        expected = "partitions that hold whole logs are needed, as after set_index"
        raise _core.refuse("conflict", field=log, given=str(twice.iloc[0]), expected=expected)
    return frame


def _compute(parts: list[Any], progress: bool) -> list[Any]:
    """Work out all parts on the current cluster, or on the threads of this machine where there is none."""
    from importlib import import_module

    # Neither of the two carries types.
    dask: Any = import_module("dask")
    distributed: Any = import_module("distributed")
    try:
        client = distributed.get_client()
    except ValueError:
        from contextlib import nullcontext

        bar: Any = import_module("dask.diagnostics").ProgressBar
        with bar() if progress else nullcontext():
            return list(dask.compute(*parts, scheduler="threads"))
    futures = client.compute(parts)
    if progress:
        distributed.progress(futures, notebook=False)
    return list(client.gather(futures))
