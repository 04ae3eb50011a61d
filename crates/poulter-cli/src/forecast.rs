//! `poulter forecast`: a probe's log so far, and when the roast will be done.

use std::fmt::Write;

use clap::{Args, ValueEnum};
use poulter::log::TemperatureLog;
use poulter::units::{Duration, Temperature};
use poulter::{Request, TimeEstimate, evaluate};
use serde_json::{Value, json};

use crate::Outcome;
use crate::simulate::Roast;
use crate::stream::{self, Refusal};
use crate::verdict::{list, section, sources, text};

pub(crate) const EXAMPLE: &str = "\
The first line of the file names its columns: elapsed_s, elapsed_min or elapsed_h, then breast_temp_degF or \
thigh_temp_degC, one for each place: breast, thigh, wing, stuffing or oven.

Example:
  poulter forecast probe.csv --mass 14lb --start 40degF --oven 325degF --target 165degF";

#[derive(Args)]
pub(crate) struct Arguments {
    /// What the probes have shown so far, in CSV, or - for standard input
    #[arg(value_name = "PROBE.csv")]
    file: String,
    #[command(flatten)]
    roast: Roast,
    /// Size of the ensemble, 200 to 10000; 3000 when left out
    #[arg(long)]
    members: Option<u32>,
    /// How to show the answer
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Words for people
    Text,
    /// What each probe will show, one row for each place and time
    Csv,
    /// The whole answer for programs
    Json,
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let mut request = self.roast.forecast_request(&probes(&self.file)?)?;
        if let Some(members) = self.members {
            request["members"] = json!(members);
        }
        let response = evaluate(&Request::from_value(request)?)?;
        let response =
            serde_json::to_value(&response).map_err(|error| Refusal::File(error.to_string()))?;
        stream::print(&match self.format {
            Format::Text => words(&response),
            Format::Csv => rows(&response["answer"]),
            Format::Json => stream::json(&response),
        })?;
        Ok(Outcome::of(response["answer"]["verdict"] == "meets"))
    }
}

/// The columns of the file as probes; a cell without a reading is left out.
fn probes(file: &str) -> Result<Value, Refusal> {
    let log = TemperatureLog::from_csv(&stream::read(file)?).map_err(|error| error.at("log"))?;
    let probes: Vec<Value> = log
        .places()
        .map(|place| {
            let readings = (0..log.len()).filter_map(|row| {
                let (elapsed, temperature) = (log.elapsed(row)?, log.temperature(place, row)?);
                Some(json!({"elapsed": elapsed, "temperature": temperature}))
            });
            json!({"place": place, "readings": readings.collect::<Vec<_>>()})
        })
        .collect();
    Ok(json!(probes))
}

fn words(response: &Value) -> String {
    let answer = &response["answer"];
    let mut lines = vec![
        format!("By what was measured: {}", text(&answer["verdict"])),
        format!("Seen: {}", time(&answer["seen"])),
        format!(
            "At the target in every place with a probe: {}",
            band(answer)
        ),
    ];
    for place in list(&answer["places"]) {
        lines.push(format!("- {}: {}", text(&place["place"]), band(place)));
    }
    let covered = &answer["coverage"];
    lines.push(format!(
        "Such bands held the truth in {} % of {} synthetic roasts",
        covered["covered"]["value"], covered["roasts"]
    ));
    let found = list(&answer["findings"]).map(|finding| {
        let until = match &finding["until"] {
            Value::Null => "still".to_owned(),
            until => format!("until {}", time(until)),
        };
        format!(
            "{} ({}) from {}, {until}: {}",
            text(&finding["trouble"]),
            text(&finding["place"]),
            time(&finding["at"]),
            text(&finding["evidence"])
        )
    });
    section(&mut lines, "Wrong with the readings", found);
    let judged = list(&answer["judged"]).map(|finding| text(&finding["text"]));
    section(&mut lines, "Judged", judged);
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
    lines.push(String::new());
    lines.join("\n")
}

fn rows(answer: &Value) -> String {
    let mut text_of = "place,elapsed_s,low_degC,likely_degC,high_degC\n".to_owned();
    for place in list(&answer["places"]) {
        for ahead in list(&place["ahead"]) {
            let seconds =
                read::<Duration>(&ahead["elapsed"]).map_or(f64::NAN, Duration::as_seconds);
            let degrees = |end: &str| {
                read::<Temperature>(&ahead[end]).map_or(f64::NAN, Temperature::as_celsius)
            };
            // Writing into text cannot fail.
            let _ = writeln!(
                text_of,
                "{},{seconds},{},{},{}",
                text(&place["place"]),
                degrees("low"),
                degrees("likely"),
                degrees("high")
            );
        }
    }
    text_of
}

/// "3 h 18 min (10 % to 90 %: 2 h 38 min to 3 h 58 min)".
fn band(of: &Value) -> String {
    match read::<TimeEstimate>(&of["time_to_target"]) {
        Some(TimeEstimate { low, likely, high }) => format!(
            "{} (10 % to 90 %: {} to {})",
            likely.shown(),
            low.shown(),
            high.shown()
        ),
        None => "cannot tell".to_owned(),
    }
}

fn time(value: &Value) -> String {
    read::<Duration>(value).map_or_else(String::new, Duration::shown)
}

fn read<T: serde::de::DeserializeOwned>(value: &Value) -> Option<T> {
    serde_json::from_value(value.clone()).ok()
}
