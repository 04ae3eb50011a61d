//! A simulation in plain lines: chart, times with their bands, cautions, what is left out, sources.

use serde::de::DeserializeOwned;
use serde_json::Value;

use poulter::TimeEstimate;
use poulter::units::{Duration, Temperature, TemperatureUnit};

use crate::verdict::{list, section, sources, text};

use super::chart;

/// The answer for people.
pub(super) fn words(request: &Value, response: &Value) -> String {
    let answer = &response["answer"];
    let marks = marks(request);
    let unit = marks
        .first()
        .or(read(&request["start"]).as_ref())
        .map_or(TemperatureUnit::Celsius, |first: &Temperature| first.unit());
    let mut lines = vec!["MODEL, no verdict".to_owned(), String::new()];
    lines.extend(chart::draw(answer, &marks, unit));
    lines.push(String::new());
    lines.extend(times(request, answer));
    lines.extend(estimated(answer));
    section(&mut lines, "Assumed", list(&response["assumed"]).map(text));
    section(
        &mut lines,
        "Cautions",
        list(&response["cautions"]).map(text),
    );
    section(
        &mut lines,
        "Left out",
        list(&answer["leaves_out"]).map(text),
    );
    section(
        &mut lines,
        "Rules",
        list(&response["citations"]).map(sources),
    );
    section(
        &mut lines,
        "Sources of the model",
        list(&answer["sources"]).map(text),
    );
    lines.push(String::new());
    lines.join("\n")
}

/// The temperatures that the request asks about.
fn marks(request: &Value) -> Vec<Temperature> {
    let target = request.get("target").or(request["roast"].get("target"));
    let thresholds = list(&request["thresholds"]);
    target
        .into_iter()
        .chain(thresholds)
        .filter_map(read)
        .collect()
}

fn times(request: &Value, answer: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(time) = answer.get("time_to_target") {
        let target = text(&request["target"]);
        lines.push(format!("{target} in every place: {}", band(time)));
        for zone in list(&answer["zones"]) {
            let reached = read::<Duration>(&zone["reached"]).map_or_else(
                || "never".to_owned(),
                |time| format!("after {}", time.shown()),
            );
            lines.push(format!("- {}: {reached}", text(&zone["zone"])));
        }
        let evaporated = answer["evaporated"]["value"].as_f64().unwrap_or(f64::NAN);
        lines.push(format!("Evaporated by then: {evaporated:.1} % of the mass"));
        return lines;
    }
    if let Some(thawed) = answer.get("thawed") {
        lines.push(format!("No place below 0 °C: {}", band(thawed)));
    }
    for passing in list(&answer["passings"]) {
        let threshold = shown::<Temperature>(&passing["threshold"]);
        lines.push(format!(
            "Centre at {threshold}: {}",
            band(&passing["after"])
        ));
    }
    for zone in list(&answer["zones"]) {
        let rise = |end: &str| degrees(&zone["rise"][end]);
        let hottest = read(&zone["hottest_after"]).map_or_else(String::new, Duration::shown);
        lines.push(format!(
            "{} rises by {} ({} to {}), hottest after {hottest}",
            text(&zone["zone"]),
            rise("likely"),
            rise("low"),
            rise("high"),
        ));
    }
    lines
}

/// Kill or growth along the curves, and that it is no verdict.
fn estimated(answer: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    let kill = &answer["kill"];
    let target = &kill["target"]["value"];
    for zone in list(&answer["zones"]) {
        let name = text(&zone["zone"]);
        let mut credited = list(&zone["kill_log10"]);
        let Some(first) = credited.next() else {
            continue;
        };
        let last = credited.last().unwrap_or(first);
        lines.push(match (zone.get("kill_reached"), read::<Duration>(&zone["kill_reached"])) {
            (Some(_), Some(time)) => {
                format!("Kill in the {name}: {target} log10 of {target} after {}", time.shown())
            }
            (Some(_), None) => format!("Kill in the {name}: {last} log10 of {target} at the end"),
            (None, _) => format!(
                "Kill in the {name}: {first} log10 of {target} out of the oven; {last} after the rest, which never counts"
            ),
        });
    }
    let growth = &answer["growth"];
    if growth.is_object() {
        lines.push(format!(
            "Growth bound, experimental: {} log10 where it is most, {} % of the way from centre to surface; {} log10 if \
             every time is the slow one",
            growth["without_lag"]["value"],
            growth["most_at"]["value"],
            growth["without_lag_slow"]["value"],
        ));
    }
    for note in [&kill["note"], &growth["note"]] {
        lines.extend(note.as_str().map(str::to_owned));
    }
    lines
}

/// "3 h 18 min (10 % to 90 %: 2 h 38 min to 3 h 58 min)".
fn band(value: &Value) -> String {
    let Some(TimeEstimate { low, likely, high }) = read(value) else {
        return "never, as asked".to_owned();
    };
    format!(
        "{} (10 % to 90 %: {} to {})",
        likely.shown(),
        low.shown(),
        high.shown()
    )
}

/// A difference to a tenth, "10.8 °F".
fn degrees(difference: &Value) -> String {
    let sign = text(&difference["unit"]).replace("delta_deg", "°");
    let value = difference["value"].as_f64().unwrap_or(f64::NAN);
    format!("{value:.1} {sign}")
}

fn read<T: DeserializeOwned>(value: &Value) -> Option<T> {
    serde_json::from_value(value.clone()).ok()
}

fn shown<T: DeserializeOwned + ToString>(value: &Value) -> String {
    read::<T>(value).map_or_else(String::new, |value| value.to_string())
}
