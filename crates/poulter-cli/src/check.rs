//! `poulter check`.

use clap::{Args, ValueEnum};
use poulter::{Request, Response, evaluate_with};
use serde_json::{Map, Value, json};

use crate::Outcome;
use crate::house::House;
use crate::record;
use crate::stream::{self, Refusal};
use crate::verdict;

const EXAMPLES: &str = "\
Examples:
  poulter check cooking --reading breast=168degF --reading thigh=171degF --reading wing=165degF
  poulter check cooking roast.csv --species chicken

The first line of the file names its columns: elapsed_s, elapsed_min or elapsed_h, then breast_temp_degF or \
thigh_temp_degC, one for each place. Commas, semicolons, tabs, vertical bars or blanks stand between the columns.";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Arguments {
    /// A log in CSV, or - for standard input
    #[arg(value_name = "FILE.csv")]
    file: Option<String>,
    /// A place and what the thermometer shows there, such as breast=165degF; once for each place
    #[arg(long = "reading", value_name = "PLACE=TEMPERATURE", required_unless_present = "file", conflicts_with = "file", value_parser = place_and_reading)]
    readings: Vec<(String, String)>,
    /// Stuffing is in the bird
    #[arg(long)]
    stuffed: bool,
    /// How long every reading has held, such as "15 s"
    #[arg(long, value_name = "TIME", conflicts_with = "file")]
    held: Option<String>,
    #[command(flatten)]
    options: Options,
    #[command(flatten)]
    limits: record::Limits,
}

/// What every check takes.
#[derive(Args)]
pub(crate) struct Options {
    /// How far the thermometer may be wrong, such as "2 delta_degF"
    #[arg(long, value_name = "DIFFERENCE")]
    accuracy: Option<String>,
    /// The species; turkey when left out
    #[arg(long)]
    pub(crate) species: Option<String>,
    /// The cut; whole when left out
    #[arg(long)]
    cut: Option<String>,
    /// The standard; us-consumer when left out
    #[arg(long)]
    pub(crate) standard: Option<String>,
    /// How to show the answer
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
    #[command(flatten)]
    pub(crate) house: House,
}

impl Options {
    pub(crate) fn add_to(&self, request: &mut Map<String, Value>) {
        for (name, value) in [
            ("accuracy", &self.accuracy),
            ("species", &self.species),
            ("cut", &self.cut),
            ("standard", &self.standard),
        ] {
            if let Some(value) = value {
                request.insert(name.to_owned(), Value::String(value.clone()));
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people
    Text,
    /// For programs
    Json,
    /// The log as a table to plot: time, temperature, rate of change and cumulated kill
    Csv,
}

fn place_and_reading(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((place, reading)) => Ok((place.trim().to_owned(), reading.trim().to_owned())),
        None => Err(
            "a place, an equals sign and a temperature are needed, such as breast=165degF"
                .to_owned(),
        ),
    }
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        if let Some(file) = self.file {
            let own = Map::from_iter([("stuffed".to_owned(), json!(self.stuffed))]);
            return record::run("check_cooking_log", &file, own, &self.options, &self.limits);
        }
        if self.options.format == Format::Csv {
            return Err(Refusal::File(
                "--format csv: a log is needed, such as roast.csv".to_owned(),
            ));
        }
        let format = self.options.format;
        let book = self.options.house.book()?;
        let response = evaluate_with(&book, &Request::from_value(self.request()?)?)?;
        show(&response, format)
    }

    fn request(self) -> Result<Value, Refusal> {
        let mut readings = Map::new();
        for (place, reading) in self.readings {
            if readings.contains_key(&place) {
                return Err(Refusal::File(format!(
                    "--reading: {place} is given twice; give the lowest reading of a place"
                )));
            }
            readings.insert(place, Value::String(reading));
        }
        let mut request = Map::from_iter([
            ("kind".to_owned(), json!("check_cooking")),
            ("readings".to_owned(), Value::Object(readings)),
            ("stuffed".to_owned(), json!(self.stuffed)),
        ]);
        if let Some(held) = self.held {
            request.insert("held".to_owned(), Value::String(held));
        }
        self.options.add_to(&mut request);
        Ok(Value::Object(request))
    }
}

/// Shows an answer with a verdict as text or JSON.
pub(crate) fn show(response: &Response, format: Format) -> Result<Outcome, Refusal> {
    let value = serde_json::to_value(response).map_err(|error| Refusal::File(error.to_string()))?;
    stream::print(&match format {
        Format::Json => stream::json(&value),
        Format::Text | Format::Csv => verdict::words(&value),
    })?;
    Ok(verdict::outcome(&value))
}
