"""Writes the vectors of temperature logs: kill, growth, and verdicts over logs.

The tables are typed here from the publications, apart from the library. A row held for its printed time is its whole
target, growth at one temperature is the published rate times the time, and verdicts are worked out by hand on
straight lines. `python tests/vectors/generate_logs.py` rewrites the file; `--check` compares.
"""

import json
import math
import sys
from fractions import Fraction
from pathlib import Path

FILE = Path(__file__).parent / "logs.json"
FSIS = "FSIS Cooking Guideline, Revised Appendix A (December 2021), {}, 12 % fat column (read in copies that agree)"
MEAT = "FDA Food Code 2009, 3-401.11(B)(2), whole meat roasts (read in a copy)"
FSA = "Food Standards Agency, core temperatures: 70 °C for 2 min"

# First row in degF, then holds: minutes, and seconds from where the table changes over.
TABLES = [
    ("poultry-7log-chicken", 7, 136, FSIS.format("chicken"),
     "81.4 65.5 52.9 43.0 35.0 28.7 23.5 19.3 15.9 13.0 10.6 8.6 6.8 5.4 4.2 3.1 2.3 1.6 1.1",
     "54.4 43.0 34.0 26.9 21.3 16.9 13.3 10.5"),
    ("poultry-7log-turkey", 7, 136, FSIS.format("turkey"),
     "70.8 58.5 48.5 40.4 33.7 28.2 23.7 19.8 16.6 13.8 11.5 9.4 7.7 6.2 4.9 3.8 2.8 2.1 1.6 1.3 1.0",
     "50.4 40.9 33.2 26.9 21.9 17.7 14.4 11.7"),
    ("meat-6.5log", 6.5, 130, MEAT,
     "112 89 71 56 45 36 28 23 18 15 12 9 8 6 5 4", "169 134 107 85 67 54 43 34 27 22 17 14"),
]  # fmt: skip

PATIENT = {"longest_gap": "24 h", "flat_line": "48 h"}


def log(elapsed_s, readings, unit, place="core"):
    columns = readings if isinstance(readings, dict) else {place: readings}
    places = [{"place": name, "unit": unit, "temperatures": values} for name, values in columns.items()]
    return {"elapsed_s": elapsed_s, "places": places}


def kills():
    for scheme, target, first, source, minutes, seconds in TABLES:
        holds = [Fraction(hold) * 60 for hold in minutes.split()] + [Fraction(hold) for hold in seconds.split()]
        for row, hold in enumerate(holds):
            yield {
                "id": f"logs.{scheme}.{first + row}-f",
                "why": "a row of the table held for its printed time is its whole target",
                "source": source,
                "request": {
                    "kind": "lethality",
                    "scheme": {"scheme": scheme},
                    "checks": PATIENT,
                    "log": log([0, float(hold)], [first + row, first + row], "degF"),
                },
                "expect": {
                    "/answer/lethality/places/0/estimate/value": target,
                    "/answer/lethality/places/0/strict/value": target,
                    "/answer/lethality/places/0/target_reached/value": float(hold),
                },
                "tolerance": 1e-11,
            }
    yield {
        "id": "logs.uk-70-2.ramp",
        "why": "60 to 70 °C in 10 min: F = t z / (ln 10 dT) (1 - 10^(-dT/z)) minutes at 70 °C, over 2 min, times 6 log10",
        "source": FSA + "; z 7.5 °C (recalled); the integral of an exponential by hand",
        "request": {
            "kind": "lethality",
            "scheme": {"scheme": "uk-70-2"},
            "log": log([0, 600], [60, 70], "degC"),
        },
        "expect": {
            "/answer/lethality/places/0/estimate/value": 3 * 10 * 7.5 / (math.log(10) * 10) * (1 - 10 ** (-10 / 7.5))
        },
        "tolerance": 1e-9,
    }
    for name, readings in (("missing", [60, None, 61]), ("jump", [60, 100, 61])):
        yield {
            "id": f"logs.lethality.{name}",
            "why": "a log at fault has no kill, and the row is named",
            "source": "this library's rule: missing or impossible data conclude nothing",
            "request": {
                "kind": "lethality",
                "scheme": {"scheme": "poultry-7log"},
                "log": log([0, 1, 2], readings, "degC"),
            },
            "expect": {"/answer/lethality": None, "/answer/faults/0/first_row": 2},
        }


def growths():
    low, best, high, fastest = 8.8, 46.4, 51.5, 6.06
    source = "Food Control, roasted chicken: 8.8, 46.4, 51.5 °C and 6.06 an hour (abstract); cardinal form recalled"
    for celsius in (8.8, 20.0, 30.0, 40.0, 46.4, 51.5):
        above = (celsius - high) * (celsius - low) ** 2
        below = (best - low) * ((best - low) * (celsius - best) - (best - high) * (best + low - 2 * celsius))
        yield {
            "id": f"logs.growth.{celsius:g}-c",
            "why": "two hours at one temperature are two hours of the rate there",
            "source": source,
            "request": {
                "kind": "growth",
                "model": {"model": "perfringens-roasted-chicken"},
                "checks": PATIENT,
                "log": log([0, 7200], [celsius, celsius], "degC"),
            },
            "expect": {
                "/answer/growth/places/0/without_lag/value": 2 * fastest * above / below / math.log(10),
                "/answer/growth/is_experimental": True,
            },
            "tolerance": 1e-9,
        }
    yield {
        "id": "logs.growth.square-root-ramp",
        "why": "b² dt (T - Tmin)³ / (3 dT): 0.035² · 3 · 15³ / 60 natural logarithms",
        "source": "Ratkowsky's square root model; the integral of a parabola by hand",
        "request": {
            "kind": "growth",
            "model": {"model": "square-root", "lowest": "5 °C", "root_rate_per_kelvin": 0.035},
            "checks": PATIENT,
            "log": log([0, 10800], [0, 20], "degC"),
        },
        "expect": {"/answer/growth/places/0/without_lag/value": 0.20671875 / math.log(10)},
        "tolerance": 1e-12,
    }


def verdicts():
    def vector(name, kind, why, source, given, expect, **fields):
        request = {"kind": kind, "checks": PATIENT, "log": given, **fields}
        return {"id": f"logs.{name}", "why": why, "source": source, "request": request,
                "expect": {"/answer/verdict": expect}}  # fmt: skip

    safe = "USDA FSIS, Safe Minimum Internal Temperature Chart: 165 °F"
    code = "FDA Food Code 2022, {}"
    for unit, readings in (("degF", (164.999, 165, 165.001)), ("degC", (73.888, 73.889, 73.890))):
        hot = 170 if unit == "degF" else 77
        for reading, expect in zip(readings, ("fails", "meets", "meets"), strict=True):
            places = {"breast": [hot, hot], "thigh": [hot - 10, reading], "wing": [hot, hot]}
            yield vector(f"cooking.{reading}-{unit}", "check_cooking_log", "the lowest place at the limit", safe,
                         log([0, 300], places, unit), expect)  # fmt: skip
    yield vector("cooking.no-wing", "check_cooking_log", "a place that is missing", safe,
                 log([0, 300], {"breast": [170, 170], "thigh": [170, 170]}, "degF"), "cannot-tell")  # fmt: skip
    yield vector("cooking.lost-reading", "check_cooking_log", "a place that lacks a reading", safe,
                 log([0, 60, 120], {"breast": [170, None, 170], "thigh": [170, 171, 170], "wing": [170, 170, 170]},
                     "degF"), "cannot-tell")  # fmt: skip
    for total, expect in ((21599, "meets"), (21600, "meets"), (21601, "fails")):
        yield vector(f"cooling.{total}-s", "check_cooling_log", "135 to 70 °F in 2 h, to 41 °F in 6 h in all",
                     code.format("3-501.14(A)"), log([0, 7200, total], [135, 70, 41], "degF"), expect,
                     standard="us-food-code-2022")  # fmt: skip
    for first, expect in ((7199, "meets"), (7200, "meets"), (7201, "fails")):
        yield vector(f"cooling.first-{first}-s", "check_cooling_log", "135 to 70 °F in 2 h", code.format("3-501.14(A)"),
                     log([0, first, 20000], [135, 70, 40], "degF"), expect, standard="us-food-code-2022")  # fmt: skip
    for holding, at, worse in (("hot", 135, -0.001), ("cold", 41, 0.001)):
        for offset, expect in ((-worse, "meets"), (0, "meets"), (worse, "fails")):
            yield vector(f"holding.{holding}-{at + offset:g}", "check_holding_log", f"held {holding} at the limit",
                         code.format("3-501.16(A)"), log([0, 60], [at + offset, at + offset], "degF"), expect,
                         standard="us-food-code-2022", holding=holding)  # fmt: skip
    for reading, expect in ((164.999, "fails"), (165, "meets"), (165.001, "meets")):
        yield vector(f"reheating.{reading:g}-f", "check_reheating_log", "reheated to the limit",
                     "USDA FSIS, Leftovers and Food Safety: reheat to 165 °F",
                     log([0, 600], [38, reading], "degF"), expect, cut="parts")  # fmt: skip
    for reading, expect in ((40.999, "meets"), (41, "meets"), (41.001, "fails")):
        yield vector(f"thawing.{reading:g}-f", "check_thawing_log", "thawed under refrigeration at the limit",
                     code.format("3-501.13(A)"), log([0, 3600], [28, reading], "degF"), expect,
                     standard="us-food-code-2022", method="refrigerator")  # fmt: skip


def main():
    found = [*kills(), *growths(), *verdicts()]
    text = json.dumps(found, ensure_ascii=False, indent=1) + "\n"
    if "--check" not in sys.argv:
        FILE.write_text(text, encoding="utf-8")
    elif FILE.read_text(encoding="utf-8") != text:
        sys.exit(f"{FILE.name} is not what its tables give; run {Path(__file__).name}")


main()
