//! `poulter simulate`.

mod chart;
mod csv;
mod request;
mod words;

use clap::{Args, Subcommand, ValueEnum};
use poulter::{Request, evaluate};
use serde_json::Value;

use crate::Outcome;
use crate::stream::{self, Refusal};

#[derive(Subcommand)]
pub(crate) enum Arguments {
    /// How long a roast takes, place by place
    #[command(after_help = ROAST)]
    Roast {
        #[command(flatten)]
        roast: Roast,
        #[command(flatten)]
        output: Output,
    },
    /// How long a whole frozen bird takes to thaw
    #[command(after_help = THAW)]
    Thaw {
        #[command(flatten)]
        thaw: Thaw,
        #[command(flatten)]
        output: Output,
    },
    /// How far a roast goes on rising out of the oven
    #[command(after_help = REST)]
    Rest {
        #[command(flatten)]
        roast: Roast,
        /// Temperature of the room, such as 72degF
        #[arg(long, value_name = "TEMPERATURE")]
        room: String,
        /// Length of the rest, such as "30 min"
        #[arg(long, value_name = "TIME")]
        rest: String,
        #[command(flatten)]
        output: Output,
    },
    /// How long cooked food takes to cool
    #[command(after_help = COOLING)]
    Cooling {
        #[command(flatten)]
        cooling: Cooling,
        #[command(flatten)]
        output: Output,
    },
}

const ROAST: &str = "\
Example:
  poulter simulate roast --mass 14lb --start 40degF --oven 475degF:30min --oven 325degF --target 165degF";
const THAW: &str = "\
Example:
  poulter simulate thaw --mass 14lb --start 0degF --refrigerator 38degF --wrapped";
const REST: &str = "\
Example:
  poulter simulate rest --mass 14lb --start 40degF --oven 325degF --target 165degF --room 72degF --rest 30min";
const COOLING: &str = "\
Stages are KIND=TEMPERATURE:TIME with room, refrigerator, wrapped-refrigerator, water or running-water, or
ice-bath:TIME.

Example:
  poulter simulate cooling --liquid 2in --cooled-from both-faces --stirred --start 180degF \\
    --stage ice-bath:30min --stage refrigerator=38degF:6h --threshold 70degF --threshold 41degF";

/// A roast; its answer is never a reason to leave out the thermometer.
#[derive(Args)]
#[group(skip)]
pub(crate) struct Roast {
    /// Mass of the bird as it goes into the oven, without stuffing, such as 14lb
    #[arg(long)]
    mass: String,
    /// Temperature of the bird throughout at the start, such as 40degF
    #[arg(long, value_name = "TEMPERATURE")]
    start: String,
    /// True temperature of the oven, and for how long unless until done; once for each setting
    #[arg(long = "oven", value_name = "TEMPERATURE[:TIME]", required = true)]
    ovens: Vec<String>,
    /// A fan moves the air
    #[arg(long)]
    fan: bool,
    /// The oven follows its settings with this time constant, such as 6min
    #[arg(long, value_name = "TIME")]
    oven_lag: Option<String>,
    /// Temperature of the oven as the food goes in, such as 70degF; that of its first setting when left out
    #[arg(long, value_name = "TEMPERATURE", requires = "oven_lag")]
    oven_start: Option<String>,
    /// The door stands open from then on for as long, such as 90min:2min; once for each opening
    #[arg(long = "door", value_name = "TIME:TIME")]
    doors: Vec<String>,
    /// Foil over the bird from then on, until the second time if there is one, such as 0min or 0min:2h
    #[arg(long, value_name = "TIME[:TIME]")]
    tent: Option<String>,
    /// Temperature to reach in every place, such as 165degF
    #[arg(long, value_name = "TEMPERATURE")]
    target: String,
    /// Stuffing is in the bird
    #[arg(long)]
    stuffed: bool,
    /// The cut, whole or bone-in-breast; whole when left out
    #[arg(long)]
    cut: Option<String>,
    #[command(flatten)]
    bird: Bird,
}

#[derive(Args)]
#[group(skip)]
pub(crate) struct Bird {
    /// The species, turkey or chicken; turkey when left out
    #[arg(long)]
    species: Option<String>,
    /// The standard whose rules stand beside the model; us-consumer when left out
    #[arg(long)]
    standard: Option<String>,
}

#[derive(Args)]
#[group(skip)]
pub(crate) struct Thaw {
    /// Mass of the bird, such as 14lb
    #[arg(long)]
    mass: String,
    /// Temperature of the bird throughout at the start, such as 0degF
    #[arg(long, value_name = "TEMPERATURE")]
    start: String,
    /// It thaws in a refrigerator at this temperature
    #[arg(
        long,
        value_name = "TEMPERATURE",
        required_unless_present = "water",
        conflicts_with = "water"
    )]
    refrigerator: Option<String>,
    /// It lies in its wrap in the refrigerator
    #[arg(long, requires = "refrigerator")]
    wrapped: bool,
    /// It thaws in water of this temperature
    #[arg(long, value_name = "TEMPERATURE")]
    water: Option<String>,
    /// The water flows
    #[arg(long, requires = "water")]
    running: bool,
    #[command(flatten)]
    bird: Bird,
}

#[derive(Args)]
#[group(skip)]
pub(crate) struct Cooling {
    #[command(flatten)]
    food: Food,
    /// From where heat leaves a layer: one-face or both-faces
    #[arg(long, value_name = "FACES", conflicts_with = "whole")]
    cooled_from: Option<String>,
    /// The liquid is stirred often enough to have one temperature
    #[arg(long, requires = "liquid")]
    stirred: bool,
    /// Temperature of the food throughout at the start, such as 180degF
    #[arg(long, value_name = "TEMPERATURE")]
    start: String,
    /// Where the food stands and for how long; once for each stage
    #[arg(long = "stage", value_name = "KIND=TEMPERATURE:TIME", required = true)]
    stages: Vec<String>,
    /// A temperature whose passing is asked for; may be given again
    #[arg(long = "threshold", value_name = "TEMPERATURE", required = true)]
    thresholds: Vec<String>,
    #[command(flatten)]
    bird: Bird,
}

#[derive(Args)]
#[group(required = true, multiple = false)]
pub(crate) struct Food {
    /// A whole cooked bird of this mass
    #[arg(long, value_name = "MASS")]
    whole: Option<String>,
    /// Meat off the bone in a layer this deep
    #[arg(long, value_name = "DEPTH")]
    carved: Option<String>,
    /// Stock or gravy this deep
    #[arg(long, value_name = "DEPTH")]
    liquid: Option<String>,
}

#[derive(Args)]
#[group(skip)]
pub(crate) struct Output {
    /// How to show the answer
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// A chart and words for people
    Text,
    /// The curves, one row for each zone and time
    Csv,
    /// The whole answer for programs
    Json,
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let (request, output) = match self {
            Self::Roast { roast, output } => (roast.request("simulate_roast")?, output),
            Self::Thaw { thaw, output } => (thaw.request(), output),
            Self::Rest {
                roast,
                room,
                rest,
                output,
            } => (roast.rest_request(&room, &rest)?, output),
            Self::Cooling { cooling, output } => (cooling.request()?, output),
        };
        let response = evaluate(&Request::from_value(request.clone())?)?;
        let response =
            serde_json::to_value(&response).map_err(|error| Refusal::File(error.to_string()))?;
        stream::print(&match output.format {
            Format::Text => words::words(&request, &response),
            Format::Csv => csv::rows_of(&response),
            Format::Json => stream::json(&response),
        })?;
        Ok(Outcome::of(gets_there(&response["answer"])))
    }
}

/// False for a roast that never reaches its target and for food that never passes a threshold.
fn gets_there(answer: &Value) -> bool {
    let passes = answer["passings"]
        .as_array()
        .is_none_or(|passings| passings.iter().all(|passing| !passing["after"].is_null()));
    passes
        && answer
            .get("time_to_target")
            .is_none_or(|time| !time.is_null())
}

/// The curves of an answer, wherever they stand in it.
fn curves(answer: &Value) -> Vec<&Value> {
    let list = |name: &str| answer[name].as_array().into_iter().flatten();
    list("zones")
        .map(|zone| &zone["curve"])
        .chain(list("curves"))
        .collect()
}

/// What was reckoned along each of the curves, with the name of its column; none where nothing was.
fn estimates(answer: &Value) -> Vec<(&'static str, &Value)> {
    [
        (&answer["zones"], "kill_log10"),
        (&answer["growth"]["zones"], "growth_log10"),
    ]
    .into_iter()
    .flat_map(|(zones, name)| {
        let zones = zones.as_array().into_iter().flatten();
        zones.filter_map(move |zone| Some((name, zone.get(name)?)))
    })
    .collect()
}

/// The rows of a curve: seconds and degrees Celsius.
fn rows(curve: &Value) -> impl Iterator<Item = (f64, f64)> {
    let column = |name: &str| {
        curve[name]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_f64)
    };
    column("elapsed_s").zip(column("temp_degC"))
}
