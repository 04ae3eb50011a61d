"""Vectors just under, at and just over the limits of the rules, in both units, made from the rule files themselves.

The files are read as TOML and every comparison is made here with exact fractions, apart from the core's integers: a new
rule of these topics gets its vectors by running `generate.py`, and the check of that file fails until it is run.
"""

import tomllib
from fractions import Fraction
from pathlib import Path

RULES = Path(__file__).parents[2] / "crates" / "poulter" / "rules"
MILLI = Fraction(1, 1000)
SECONDS = {"s": 1, "min": 60, "h": 3600, "d": 86400}
SOURCE = "the limit and the operator in the rule file, compared with exact fractions"
CUTS = {"doneness.parts": "parts", "doneness.ground": "ground"}


def rules():
    """Every rule in the order of the files, which is the order in which the book looks them up."""
    for path in sorted(RULES.glob("*/*.toml")):
        yield from tomllib.loads(path.read_text(encoding="utf-8"))["rule"]


def number(text):
    value, unit = text.split(" ", 1)
    return Fraction(value), unit


def celsius(value, unit):
    return (value - 32) * Fraction(5, 9) if unit == "°F" else value


def seconds(text):
    value, unit = number(text)
    return value * SECONDS[unit]


def holds(operator, value, limit):
    return {
        "<": value < limit,
        "<=": value <= limit,
        ">": value > limit,
        ">=": value >= limit,
    }[operator]


def temperatures(text):
    """Thousandths under, at and over in the rule's own unit, and the nearest of them on the other scale."""
    value, unit = number(text)
    found = [(value + side * MILLI, unit) for side in (-1, 0, 1)]
    other = "°C" if unit == "°F" else "°F"
    there = celsius(value, unit) if unit == "°F" else value * Fraction(9, 5) + 32
    floor = Fraction(there // MILLI) * MILLI
    exact = floor == there
    found += [(floor - MILLI * exact, other), (floor + MILLI, other)]
    if exact:
        found.append((there, other))
    return found


def shown(value, unit):
    return f"{float(value):.3f}".rstrip("0").rstrip(".") + f" {unit}"


def word(meets):
    return "meets" if meets else "fails"


def minimum(requirement, temperature, held):
    """Whether a core temperature in °C held for a time meets a minimum or one of its equivalents."""
    for point in requirement.get("equivalents", []):
        enough = celsius(*number(point["temperature"]))
        if temperature >= enough and (held or 0) >= seconds(point["hold"]):
            return True
    limit, hold = requirement["limit"], requirement.get("hold")
    if not holds(limit["is"], temperature, celsius(*number(limit["temperature"]))):
        return False
    return hold is None or holds(hold["is"], held or 0, seconds(hold["duration"]))


def points(requirement):
    """Pairs of a temperature and a hold round every limit of a minimum."""
    limit = requirement["limit"]["temperature"]
    hold = requirement.get("hold")
    held = seconds(hold["duration"]) if hold else None
    yield from (((value, unit), held) for value, unit in temperatures(limit))
    if hold:
        yield from ((number(limit), held + side * MILLI) for side in (-1, 1))
    pairs = requirement.get("equivalents", [])
    if len(pairs) > 6:
        # A table of thirty rows: its own tests take every row; here its ends and its middle.
        pairs = [pairs[0], pairs[len(pairs) // 2], pairs[-1]]
    for pair in pairs:
        value, unit = number(pair["temperature"])
        time = seconds(pair["hold"])
        yield (value, unit), time
        yield (value - MILLI, unit), time
        if time:
            yield (value, unit), time - MILLI


def case(rule):
    """The question's own fields for a rule: standard, and what it is looked up by."""
    applies = rule.get("applies_to", {})
    fields = {"standard": rule["id"].split(".")[0]}
    if applies.get("species", ["turkey"])[0] != "turkey":
        fields["species"] = applies["species"][0]
    if rule["topic"] in CUTS:
        fields["cut"] = CUTS[rule["topic"]]
    if "effective_to" in rule:
        fields["on"] = str(rule["effective_to"])
    return fields


def cooking(rule):
    requirement = rule["requirement"]
    places = requirement.get("places") or (["breast", "thigh"] if rule["topic"] == "doneness.bird" else ["thickest"])
    stuffing = rule["topic"] == "doneness.stuffing"
    for (value, unit), held in dict.fromkeys(points(requirement)):
        reading = shown(value, unit)
        readings = {place: reading for place in places}
        if stuffing:
            # The bird itself is far above every minimum.
            readings |= {"breast": "99 °C", "thigh": "99 °C", "wing": "99 °C"}
        request = {"kind": "check_cooking", "readings": readings, **case(rule)}
        if held is not None:
            request["held"] = shown(held, "s")
        expect = {"/answer/verdict": word(minimum(requirement, celsius(value, unit), held))}
        if not stuffing:
            expect["/answer/findings/0/rule"] = rule["id"]
        yield reading + (f"-{request['held']}" if "held" in request else ""), request, expect


def reheating(rule):
    requirement = rule["requirement"]
    for (value, unit), held in dict.fromkeys(points(requirement)):
        request = {"kind": "check_reheating", "temperatures": [shown(value, unit)], "taken": "1 min", **case(rule)}
        if held is not None:
            request["held"] = shown(held, "s")
        if "process" in rule.get("applies_to", {}):
            request["process"] = rule["applies_to"]["process"][0]
        expect = {
            "/answer/verdict": word(minimum(requirement, celsius(value, unit), held)),
            "/answer/findings/0/rule": rule["id"],
        }
        yield shown(value, unit) + (f"-{request['held']}" if "held" in request else ""), request, expect


def holding(rule):
    limit = rule["requirement"]["limit"]
    side = rule["topic"].split(".")[1]
    for value, unit in temperatures(limit["temperature"]):
        meets = holds(limit["is"], celsius(value, unit), celsius(*number(limit["temperature"])))
        request = {"kind": "check_holding", "side": side, "temperatures": [shown(value, unit)], **case(rule)}
        yield shown(value, unit), request, {"/answer/verdict": word(meets), "/answer/findings/0/rule": rule["id"]}


def cooling(rule):
    """Each stage exactly in time, a millisecond early and late, and the end a thousandth of a degree short."""
    stages = rule["requirement"]["stages"]
    for late in range(len(stages)):
        for side in (-1, 0, 1):
            verdict, total, readings = "meets", Fraction(0), [(Fraction(0), stages[0]["from"])]
            for place, stage in enumerate(stages):
                limit = seconds(stage["within"]["duration"])
                shift = side * MILLI if place == late else 0
                taken = limit + shift
                total = taken if stage["counted_from"] == "first-stage" else total + taken
                readings.append((total, stage["to"]["temperature"]))
                if not holds(stage["within"]["is"], taken, limit):
                    verdict = "fails"
            yield f"stage-{late + 1}-{'early' if side < 0 else 'late' if side > 0 else 'in-time'}", readings, verdict
    value, unit = number(readings[-1][1])
    short = [*readings[:-1], (readings[-1][0] - MILLI, shown(value + MILLI, unit))]
    yield "not-there-yet", short, "cannot-tell"


def cooled(rule):
    for name, readings, verdict in cooling(rule):
        request = {
            "kind": "check_cooling",
            "readings": [{"elapsed": shown(time, "s"), "temperature": at} for time, at in readings],
            **case(rule),
        }
        if "process" in rule.get("applies_to", {}):
            request["process"] = rule["applies_to"]["process"][0]
        yield name, request, {"/answer/verdict": verdict, "/answer/findings/0/rule": rule["id"]}


def brining(rule):
    limit = rule["requirement"]["limit"]
    method = rule["topic"].split(".")[1].removesuffix("-limit")
    for side in (-1, 0, 1):
        time = seconds(limit["duration"]) + side * MILLI
        request = {"kind": "brine", "method": method, "mass": "12 lb", "time": shown(time, "s"), **case(rule)}
        expect = {
            "/answer/findings/0/verdict": word(holds(limit["is"], time, seconds(limit["duration"]))),
            "/answer/findings/0/rule": rule["id"],
        }
        yield shown(time, "s"), request, expect


def thawing(rule):
    """Water, or the time of the food above the cold limit; what is not judged is far inside its own limit."""
    fields = {"kind": "check_thawing", **case(rule)}
    limit = rule["requirement"]["limit"]
    if rule["topic"] == "thaw.water-temperature":
        fields |= {"method": "running-water", "above_cold": "1 min"}
        bound = celsius(*number(limit["temperature"]))
        given = [
            ({"temperatures": [shown(value, unit)]}, holds(limit["is"], celsius(value, unit), bound))
            for value, unit in temperatures(limit["temperature"])
        ]
    else:
        running = rule["topic"] == "thaw.running-water"
        fields |= {"method": "running-water" if running else "cold-water", "temperatures": ["1 °C"]}
        fields |= {} if running else {"above_cold": "1 min"}
        field = "above_cold" if running else "water_unchanged"
        times = [seconds(limit["duration"]) + side * MILLI for side in (-1, 0, 1)]
        given = [({field: shown(time, "s")}, holds(limit["is"], time, seconds(limit["duration"]))) for time in times]
    for part, meets in given:
        value = next(iter(part.values()))
        yield value if isinstance(value, str) else value[0], {**fields, **part}, {"/answer/verdict": word(meets)}


# topic, shape of the rule, its vectors, and whether a process word is taken by the question
JUDGED = {
    ("doneness.bird", "minimum-temperature"): (cooking, False),
    ("doneness.parts", "minimum-temperature"): (cooking, False),
    ("doneness.ground", "minimum-temperature"): (cooking, False),
    ("doneness.stuffing", "minimum-temperature"): (cooking, False),
    ("reheat.temperature", "minimum-temperature"): (reheating, True),
    ("hold.hot", "temperature"): (holding, False),
    ("hold.cold", "temperature"): (holding, False),
    ("cool.stages", "staged-cooling"): (cooled, True),
    ("brine.wet-limit", "time"): (brining, False),
    ("brine.dry-limit", "time"): (brining, False),
    ("thaw.water-temperature", "temperature"): (thawing, False),
    ("thaw.running-water", "time"): (thawing, False),
    ("thaw.water-change", "time"): (thawing, False),
}


def limits():
    decided = set()
    for rule in rules():
        shape = (rule["topic"], rule["requirement"]["type"])
        make, takes_process = JUDGED.get(shape, (None, False))
        process = tuple(rule.get("applies_to", {}).get("process", ()))
        if make is None or (process and not takes_process) or rule["id"].startswith("kitchen-practice"):
            continue
        # Of several rules for one case the first decides; the others are shown beside it.
        who = tuple(rule.get("applies_to", {}).get("species", ("turkey",)))[0]
        key = (rule["id"].split(".")[0], rule["topic"], who, process, str(rule.get("effective_to")))
        if key in decided:
            continue
        decided.add(key)
        for name, request, expect in make(rule):
            yield {
                "id": f"limit.{rule['id']}.{name.replace(' ', '-')}",
                "why": "just under, at and just over the limit of the rule",
                "source": SOURCE,
                "request": request,
                "expect": expect,
            }
