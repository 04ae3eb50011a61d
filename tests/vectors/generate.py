"""Writes the vectors that follow from the printed FSIS turkey tables.

The tables are typed here from the publications, apart from the rule files, and the straight line between the ends of
a row is worked out with exact fractions. `python tests/vectors/generate.py` rewrites the files; `--check` compares.
"""

import json
import sys
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent

THAW = "USDA FSIS, Turkey Basics: Safe Thawing (read in copies that agree)"
COOK = "USDA FSIS, Turkey Basics: Safe Cooking, 325 degF table (read in copies that agree)"

# pounds from, pounds to, shorter time, longer time
REFRIGERATOR_DAYS = [(4, 12, 1, 3), (12, 16, 3, 4), (16, 20, 4, 5), (20, 24, 5, 6)]
COLD_WATER_HOURS = [(4, 12, 2, 6), (12, 16, 6, 8), (16, 20, 8, 10), (20, 24, 10, 12)]
H = Fraction
UNSTUFFED_HOURS = [
    (8, 12, H(11, 4), H(3)),
    (12, 14, H(3), H(15, 4)),
    (14, 18, H(15, 4), H(17, 4)),
    (18, 20, H(17, 4), H(9, 2)),
    (20, 24, H(9, 2), H(5)),
]
STUFFED_HOURS = [
    (8, 12, H(3), H(7, 2)),
    (12, 14, H(7, 2), H(4)),
    (14, 18, H(4), H(17, 4)),
    (18, 20, H(17, 4), H(19, 4)),
    (20, 24, H(19, 4), H(21, 4)),
]


def row_for(table, pounds):
    """The upper row on an edge, as it is the longer one."""
    rows = [row for row in table if row[0] <= pounds <= row[1]]
    return rows[-1] if rows else None


def masses(table):
    """Every edge, a thousandth of a pound on both sides of it, and a point inside every row."""
    step = Fraction(1, 1000)
    edges = sorted({row[0] for row in table} | {row[1] for row in table})
    points = {edge + side for edge in edges for side in (-step, 0, step)}
    points |= {Fraction(row[0] + row[1], 2) + Fraction(1, 4) for row in table}
    return sorted(points)


def quantity(value, unit):
    return {"value": float(value), "unit": unit}


def vectors(name, table, unit, minutes_in_unit, request, source):
    found = []
    for pounds in masses(table):
        mass = f"{float(pounds):g} lb"
        entry = {
            "id": f"{name}.{float(pounds):g}-lb",
            "why": "the printed row, and the straight line between its ends rounded up to the minute",
            "source": source,
            "request": {**request, "mass": mass},
        }
        row = row_for(table, pounds)
        if row is None:
            entry["why"] = "outside the table there is no published row"
            entry["error"] = {"code": 301, "field": "mass"}
        else:
            low_mass, high_mass, low, high = row
            exact = low + Fraction(high - low) * (pounds - low_mass) / (high_mass - low_mass)
            minutes = exact * minutes_in_unit
            minutes = -(-minutes.numerator // minutes.denominator)
            entry["expect"] = {
                "/answer/time/low": quantity(low, unit),
                "/answer/time/likely": quantity(Fraction(minutes, minutes_in_unit), unit),
                "/answer/time/high": quantity(high, unit),
            }
        found.append(entry)
    return found


def files():
    def thaw(method):
        return {"kind": "thaw_time", "method": method}

    def roast(stuffed):
        return {"kind": "roast_time", "stuffed": stuffed}

    yield "thaw-tables.json", (
        vectors("thaw.refrigerator", REFRIGERATOR_DAYS, "d", 1440, thaw("refrigerator"), THAW)
        + vectors("thaw.cold-water", COLD_WATER_HOURS, "h", 60, thaw("cold-water"), THAW)
    )
    yield "roast-tables.json", (
        vectors("roast.unstuffed", UNSTUFFED_HOURS, "h", 60, roast(False), COOK)
        + vectors("roast.stuffed", STUFFED_HOURS, "h", 60, roast(True), COOK)
    )


def main():
    stale = []
    for name, content in files():
        text = json.dumps(content, indent=1, ensure_ascii=False) + "\n"
        path = HERE / name
        if "--check" in sys.argv:
            if not path.exists() or path.read_text(encoding="utf-8") != text:
                stale.append(name)
        else:
            path.write_text(text, encoding="utf-8")
    if stale:
        sys.exit(f"stale, run tests/vectors/generate.py: {', '.join(stale)}")


if __name__ == "__main__":
    main()
