"""A typed program, checked by the strictest settings of two type checkers."""

from datetime import date, timedelta

import numpy as np
import numpy.typing as npt
import pandas as pd
import polars as pl
import poulter


def thaw(mass: poulter.QuantityLike) -> poulter.Quantity | None:
    answer = poulter.thaw_time(mass, method="refrigerator", on=date(2026, 11, 25))
    return answer.time.high.to("h") if answer.time is not None else None


def done(readings: dict[str, poulter.QuantityLike | None]) -> str:
    verdict = poulter.check_cooking(readings, held=timedelta(minutes=1), stuffed=False)
    if verdict.verdict == "meets":
        return "rest it"
    return "; ".join(finding.text for finding in verdict.findings)


def still_good(periods: list[tuple[timedelta, str]]) -> bool:
    return poulter.check_time_out(periods, side="hot").may_be == "used-or-held-again"


def held_hot(readings: list[poulter.QuantityLike | None], standards: list[str]) -> tuple[str, ...]:
    answer = poulter.strictest_holding({"side": "hot", "temperatures": readings}, standards=standards)
    return tuple(member.standard for member in answer.members if member.verdict == "meets")


def shares(masses: list[poulter.Quantity], whole: poulter.QuantityLike) -> list[float]:
    total: poulter.Quantity = sum(masses[1:], masses[0])
    assert total / 2 + total * 0.5 == total == poulter.Quantity.of(whole)
    return [mass / total for mass in masses]


def kill(times: npt.NDArray[np.float64], readings: npt.NDArray[np.float64]) -> float | None:
    celsius: npt.NDArray[np.float64] = poulter.convert(readings, "degF", "degC")
    return poulter.lethality(times, {"breast": celsius}).log_reduction


def kill_of_series(times: "pd.Series[float]", readings: pl.Series) -> float | None:
    return poulter.lethality(times, {"breast": readings}).log_reduction


def refused(text: str) -> tuple[int, str, tuple[str, ...]]:
    try:
        poulter.evaluate_json(text)
    except poulter.PoulterError as error:
        return error.code, error.field, error.citations
    return 0, "", ()


for given in ("15 lb", (15.0, "lb"), poulter.Quantity(15, "lb"), {"value": 15, "unit": "lb"}):
    assert thaw(given) == poulter.Quantity(4, "d")
assert still_good([(timedelta(minutes=30), "70 degF"), (timedelta(minutes=45), "70 degF")])
assert held_hot(["63 degC", (64.0, "degC")], ["uk", "scotland"]) == ("uk",)
assert [row.verdict for row in poulter.compare("hold.hot", reading="63 degC", standards=["uk"]).rows] == ["meets"]
assert shares([poulter.Quantity(1, "lb"), poulter.Quantity(48, "oz")], "4 lb") == [0.25, 0.75]
assert kill(np.array([0.0, 60.0]), np.array([32.0, 32.0])) == 0.0
assert kill_of_series(pd.Series([0.0, 60.0]), pl.Series([32.0, 32.0])) == 0.0
assert refused("{")[0] == 101
