//! `poulter check`.

use clap::{Args, ValueEnum};
use poulter::{Request, evaluate};
use serde_json::{Map, Value, json};

use crate::Outcome;
use crate::stream::{self, Refusal};
use crate::verdict;

const EXAMPLE: &str = "\
Example:
  poulter check cooking --reading breast=168degF --reading thigh=171degF --reading wing=165degF";

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Arguments {
    /// A place and what the thermometer shows there, such as breast=165degF; once for each place
    #[arg(long = "reading", value_name = "PLACE=TEMPERATURE", required = true, value_parser = place_and_reading)]
    readings: Vec<(String, String)>,
    /// Stuffing is in the bird
    #[arg(long)]
    stuffed: bool,
    /// How long every reading has held, such as "15 s"
    #[arg(long, value_name = "TIME")]
    held: Option<String>,
    /// How far the thermometer may be wrong, such as "2 delta_degF"
    #[arg(long, value_name = "DIFFERENCE")]
    accuracy: Option<String>,
    /// The species; turkey when left out
    #[arg(long)]
    species: Option<String>,
    /// The cut; whole when left out
    #[arg(long)]
    cut: Option<String>,
    /// The standard; us-consumer when left out
    #[arg(long)]
    standard: Option<String>,
    /// How to show the answer
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people
    Text,
    /// For programs
    Json,
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
        let format = self.format;
        let response = evaluate(&Request::from_value(self.request()?)?)?;
        let value =
            serde_json::to_value(&response).map_err(|error| Refusal::File(error.to_string()))?;
        stream::print(&match format {
            Format::Text => verdict::words(&value),
            Format::Json => stream::json(&value),
        })?;
        Ok(Outcome::of(value["answer"]["verdict"] == "meets"))
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
        for (name, value) in [
            ("held", self.held),
            ("accuracy", self.accuracy),
            ("species", self.species),
            ("cut", self.cut),
            ("standard", self.standard),
        ] {
            if let Some(value) = value {
                request.insert(name.to_owned(), Value::String(value));
            }
        }
        Ok(Value::Object(request))
    }
}
