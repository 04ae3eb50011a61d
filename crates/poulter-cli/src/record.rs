//! `poulter check` over the log of a recorder.

use clap::Args;
use poulter::log::{LogChecks, TemperatureLog};
use poulter::records::{PlotTable, usual_scheme};
use poulter::{Request, evaluate_with};
use serde_json::{Map, Value, json};

use crate::Outcome;
use crate::check::{Format, Options, show};
use crate::stream::{self, Refusal};
use crate::verdict;

/// More of a log than this is not read: half a million rows and more.
const LARGEST_LOG: usize = 64 << 20;

const EXAMPLE: &str = "\
The first line of the file names its columns: elapsed_s, elapsed_min or elapsed_h, then core_temp_degC or \
breast_temp_degF, one for each place. What is round the food is air, oven, refrigerator or water. Commas, semicolons, \
tabs, vertical bars or blanks stand between the columns.";

/// What makes a log faulty, and the process it belongs to.
#[derive(Args)]
pub(crate) struct Limits {
    /// A process word of the rules, such as option-2
    #[arg(long)]
    process: Option<String>,
    /// The longest time between two rows that is not a gap; 15 min when left out
    #[arg(long, value_name = "TIME")]
    longest_gap: Option<String>,
    /// How long a reading may stay the same to the last digit; 30 min when left out
    #[arg(long, value_name = "TIME")]
    flat_line: Option<String>,
}

#[derive(Args)]
struct Log {
    /// A log in CSV, or - for standard input
    #[arg(value_name = "FILE.csv")]
    file: String,
    #[command(flatten)]
    options: Options,
    #[command(flatten)]
    limits: Limits,
}

impl Log {
    fn run(&self, kind: &str, own: Map<String, Value>) -> Result<Outcome, Refusal> {
        run(kind, &self.file, own, &self.options, &self.limits)
    }
}

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Cooling {
    #[command(flatten)]
    log: Log,
}

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Holding {
    #[command(flatten)]
    log: Log,
    /// How the food is held: hot, cold, out, time-control or time-control-cold
    #[arg(long = "as", value_name = "HOW")]
    how: String,
    /// Air where the food stands, such as 95degF
    #[arg(long, value_name = "TEMPERATURE")]
    surroundings: Option<String>,
    /// How long the log must cover, such as "4 h"
    #[arg(long, value_name = "TIME")]
    period: Option<String>,
}

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Reheating {
    #[command(flatten)]
    log: Log,
}

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Thawing {
    #[command(flatten)]
    log: Log,
    /// How the bird is thawed: refrigerator, cold-water, running-water or in-brine
    #[arg(long)]
    method: String,
}

impl Cooling {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        self.log.run("check_cooling_log", Map::new())
    }
}

impl Holding {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let mut own = Map::from_iter([("holding".to_owned(), json!(self.how))]);
        for (name, value) in [("surroundings", self.surroundings), ("period", self.period)] {
            own.extend(value.map(|value| (name.to_owned(), json!(value))));
        }
        self.log.run("check_holding_log", own)
    }
}

impl Reheating {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        self.log.run("check_reheating_log", Map::new())
    }
}

impl Thawing {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        let own = Map::from_iter([("method".to_owned(), json!(self.method))]);
        self.log.run("check_thawing_log", own)
    }
}

/// Judges a file and shows the verdict, or the log as a table; the exit code follows the verdict either way.
pub(crate) fn run(
    kind: &str,
    file: &str,
    own: Map<String, Value>,
    options: &Options,
    limits: &Limits,
) -> Result<Outcome, Refusal> {
    let text = stream::read_up_to(file, LARGEST_LOG)?;
    let mut checks = Map::new();
    for (name, value) in [
        ("longest_gap", &limits.longest_gap),
        ("flat_line", &limits.flat_line),
    ] {
        checks.extend(value.iter().map(|value| (name.to_owned(), json!(value))));
    }
    let mut request = own;
    request.insert("kind".to_owned(), json!(kind));
    request.insert("log".to_owned(), json!({ "csv": text }));
    request.insert("checks".to_owned(), Value::Object(checks.clone()));
    if let Some(process) = &limits.process {
        request.insert("process".to_owned(), json!(process));
    }
    options.add_to(&mut request);
    let book = options.house.book()?;
    let response = evaluate_with(&book, &Request::from_value(Value::Object(request))?)?;
    if options.format != Format::Csv {
        return show(&response, options.format);
    }
    let failed = |error: serde_json::Error| Refusal::File(error.to_string());
    let checks: LogChecks = serde_json::from_value(Value::Object(checks)).map_err(failed)?;
    let species = options.species.as_deref().unwrap_or("turkey");
    let species = serde_json::from_value(json!(species)).map_err(failed)?;
    let standard = options.standard.as_deref().unwrap_or("us-consumer");
    let log = TemperatureLog::from_csv(&text)?;
    let table = PlotTable::of(&log, &usual_scheme(standard, species), &checks)?;
    stream::print(&table.to_csv())?;
    let value = serde_json::to_value(&response).map_err(failed)?;
    Ok(verdict::outcome(&value))
}
