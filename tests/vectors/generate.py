"""Writes the vectors that follow from printed tables and from the limits of the rules.

The tables are typed here from the publications, apart from the rule files, and the straight line between the ends of
a row is worked out with exact fractions. `python tests/vectors/generate.py` rewrites the files; `--check` compares.
"""

import json
import sys
from fractions import Fraction
from pathlib import Path

from limits import limits
from rule_sheet import sheet

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

CHICKEN = "USDA FSIS, Chicken from Farm to Table, approximate cooking times (read in copies that agree)"
ALTERNATE = "USDA FSIS, Turkey: Alternate Routes to the Table (read in copies)"
CHARTS = "FoodSafety.gov, Meat and Poultry Roasting Charts (read in a copy)"

OUNCE = H(1, 16)
HEN = (18 * OUNCE, 24 * OUNCE)
# species, cut, method, source, unit, rows: pounds from, pounds to, shorter time, longer time. A whole bird's weight is
# that of the bird, a part's that of one piece; two sides of a piece on the grill are added up.
BY_MASS = [
    ("turkey", "whole", "roast", COOK, "h", UNSTUFFED_HOURS),
    ("turkey", "whole", "roaster-oven", ALTERNATE, "h", UNSTUFFED_HOURS),
    ("turkey", "breast", "roast", COOK, "h", [(4, 6, H(3, 2), H(9, 4)), (6, 8, H(9, 4), H(13, 4))]),
    ("chicken", "whole", "roast", CHICKEN, "h", [(3, 4, H(5, 4), H(3, 2)), (5, 7, H(2), H(9, 4))]),
    ("chicken", "whole", "simmer", CHICKEN, None, [(3, 4, 60, 75), (5, 7, 105, 120)]),
    ("capon", "whole", "roast", CHICKEN, "h", [(4, 8, H(2), H(3))]),
    ("small-hen", "whole", "roast", CHICKEN, "min", [(*HEN, 50, 60)]),
    ("small-hen", "whole", "simmer", CHICKEN, "min", [(*HEN, 35, 40)]),
    ("small-hen", "whole", "grill", CHICKEN, "min", [(*HEN, 45, 55)]),
    ("chicken", "breast", "roast", CHICKEN, "min", [(6 * OUNCE, 8 * OUNCE, 30, 40)]),
    ("chicken", "breast", "simmer", CHICKEN, "min", [(6 * OUNCE, 8 * OUNCE, 35, 45)]),
    ("chicken", "breast", "grill", CHICKEN, "min", [(6 * OUNCE, 8 * OUNCE, 20, 30)]),
    ("chicken", "boneless-breast", "roast", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 20, 30)]),
    ("chicken", "boneless-breast", "simmer", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 25, 30)]),
    ("chicken", "boneless-breast", "grill", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 12, 16)]),
    ("chicken", "leg", "roast", CHICKEN, "min", [(8 * OUNCE, 8 * OUNCE, 40, 50)]),
    ("chicken", "leg", "simmer", CHICKEN, "min", [(8 * OUNCE, 8 * OUNCE, 40, 50)]),
    ("chicken", "leg", "grill", CHICKEN, "min", [(8 * OUNCE, 8 * OUNCE, 20, 30)]),
    ("chicken", "thigh", "roast", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 40, 50)]),
    ("chicken", "thigh", "simmer", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 40, 50)]),
    ("chicken", "thigh", "grill", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 20, 30)]),
    ("chicken", "drumstick", "roast", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 35, 45)]),
    ("chicken", "drumstick", "simmer", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 40, 50)]),
    ("chicken", "drumstick", "grill", CHICKEN, "min", [(4 * OUNCE, 4 * OUNCE, 16, 24)]),
    ("chicken", "wing", "roast", CHICKEN, "min", [(2 * OUNCE, 3 * OUNCE, 30, 40)]),
    ("chicken", "wing", "simmer", CHICKEN, "min", [(2 * OUNCE, 3 * OUNCE, 35, 45)]),
    ("chicken", "wing", "grill", CHICKEN, "min", [(2 * OUNCE, 3 * OUNCE, 16, 24)]),
    ("goose", "whole", "roast", CHARTS, "h", [(8, 12, H(5, 2), H(3))]),
]
# species, cut, method, source, minutes a pound, shorter and longer; pounds from and to, None where none is printed
BY_THE_POUND = [
    ("turkey", "whole", "grill", ALTERNATE, 15, 18, 8, 16),
    ("turkey", "whole", "smoke", ALTERNATE, 20, 30, 8, 12),
    ("turkey", "whole", "microwave", ALTERNATE, 9, 10, 8, 14),
    ("chicken", "whole", "grill", CHICKEN, 18, 25, 5, 7),
    ("capon", "whole", "grill", CHICKEN, 15, 20, 4, 8),
    ("duck", "whole", "roast", CHARTS, 30, 35, 4, 6),
    ("chicken", "whole", "microwave", CHICKEN, 9, 10, None, None),
    ("small-hen", "whole", "microwave", CHICKEN, 8, 9, None, None),
    ("chicken", "parts", "microwave", CHICKEN, 8, 9, None, None),
    ("chicken", "boneless-breast", "microwave", CHICKEN, 6, 8, None, None),
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
    points |= {Fraction(row[0] + row[1], 2) + Fraction(1, 4) for row in table if row[1] - row[0] >= 1}
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
            # A row for one mass has no line; its longer time comes into view only beyond it.
            width = high_mass - low_mass or 1
            exact = low + Fraction(high - low) * (pounds - low_mass) / width
            minutes = exact * minutes_in_unit
            minutes = -(-minutes.numerator // minutes.denominator)
            entry["expect"] = {
                "/answer/time/low": quantity(low, unit),
                "/answer/time/likely": quantity(Fraction(minutes, minutes_in_unit), unit),
                "/answer/time/high": quantity(high, unit),
            }
        found.append(entry)
    return found


def cooking():
    """Every row of every method at its edges, just outside them and inside it."""
    for species, cut, method, source, unit, table in BY_MASS:
        minutes_in_unit = 60 if unit == "h" else 1
        request = {"kind": "cook_time", "method": method, "species": species, "cut": cut}
        for entry in vectors(f"cook.{method}.{species}.{cut}", table, unit or "min", minutes_in_unit, request, source):
            if unit is None:
                # Printed partly in minutes and partly in hours; compared by the value that the row's own unit gives.
                entry = in_own_unit(entry)
            yield entry
    stuffed = {"kind": "cook_time", "method": "roaster-oven", "species": "turkey", "cut": "whole", "stuffed": True}
    yield from vectors("cook.roaster-oven.turkey.stuffed", STUFFED_HOURS, "h", 60, stuffed, ALTERNATE)
    for species, cut, method, source, low, high, least, most in BY_THE_POUND:
        step = Fraction(1, 1000)
        edges = [Fraction(edge) for edge in (least, most) if edge is not None] or [Fraction(5, 2)]
        for pounds in sorted({edge + side for edge in edges for side in (-step, 0, step)}):
            yield by_the_pound(species, cut, method, source, low, high, least, most, pounds)


def in_own_unit(entry):
    """The chicken's simmering rows: 60 to 75 min, and 1 3/4 to 2 h."""
    if "expect" in entry and Fraction(entry["request"]["mass"].split()[0]) >= 5:
        entry["expect"] = {
            pointer: quantity(Fraction(found["value"]) / 60, "h") for pointer, found in entry["expect"].items()
        }
    return entry


def by_the_pound(species, cut, method, source, low, high, least, most, pounds):
    entry = {
        "id": f"cook.{method}.{species}.{cut}.{float(pounds):g}-lb",
        "why": "so many minutes a pound, rounded up to the minute",
        "source": source,
        "request": {
            "kind": "cook_time",
            "method": method,
            "species": species,
            "cut": cut,
            "mass": f"{float(pounds):g} lb",
        },
    }
    if least is not None and not least <= pounds <= most:
        entry["why"] = "outside the printed weights there is no published row"
        entry["error"] = {"code": 301, "field": "mass"}
    else:
        times = [-(-(rate * pounds).numerator // (rate * pounds).denominator) for rate in (low, high)]
        entry["expect"] = {
            "/answer/time/low": quantity(Fraction(times[0], 60), "h"),
            "/answer/time/likely": quantity(Fraction(sum(times), 120), "h"),
            "/answer/time/high": quantity(Fraction(times[1], 60), "h"),
        }
    return entry


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
    yield "cook-tables.json", list(cooking())
    yield "rule-sheet.json", list(sheet())
    yield "limits.json", list(limits())


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
