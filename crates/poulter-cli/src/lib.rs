//! `poulter`: plan a dinner, judge readings and look up rules from a terminal.
//!
//! Only arguments, files and exit codes are dealt with here; every answer comes from the library.
//!
//! Exit codes: 0 answered; 1 answered, but the food is not safe, nobody can tell, or the dinner is not possible as
//! asked; 2 the input was refused.

#![forbid(unsafe_code)]

mod check;
mod compare;
mod evaluate;
mod forecast;
mod house;
mod plan;
mod record;
mod rules;
mod simulate;
mod stream;
mod verdict;
mod worksheet;

use std::ffi::OsString;

use clap::{Parser, Subcommand};

/// Safe poultry from the shop to the last leftover: rules, times and one dated plan
#[derive(Parser)]
#[command(name = "poulter", version, after_help = EXIT_CODES)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

const REFUSED: u8 = 2;
const EXIT_CODES: &str = "Exit codes: 0 answered; 1 answered, but unsafe, not known to be safe, or not possible as \
    asked; 2 the input was refused.";

#[derive(Subcommand)]
enum Command {
    /// Plan a dinner back from the hour it is served
    Plan(plan::Arguments),
    /// Write sheets for a host or a class, an answer key, labels, cards and a shopping list
    Worksheet(worksheet::Arguments),
    /// Answer one request, JSON from standard input to standard output
    Evaluate(evaluate::Arguments),
    /// Judge what was measured
    Check {
        #[command(subcommand)]
        what: Check,
    },
    /// Ask the heat model how long a thaw, a roast, a rest or cooling takes; it explains and never decides
    Simulate {
        #[command(subcommand)]
        what: simulate::Arguments,
    },
    /// When a roast will be done, by what its probes have shown so far
    #[command(after_help = forecast::EXAMPLE)]
    Forecast(forecast::Arguments),
    /// List, filter and explain the rules, or set the standards side by side
    Rules(rules::Arguments),
}

#[derive(Subcommand)]
enum Check {
    /// Is the bird done? Every place that the standard names needs a reading, or a column in a log
    Cooking(check::Arguments),
    /// Did the food cool fast enough, by its log?
    Cooling(record::Cooling),
    /// Was the food held hot or cold, or out for too long, by its log?
    Holding(record::Holding),
    /// Was the food reheated far and fast enough, by its log?
    Reheating(record::Reheating),
    /// Was the bird thawed safely, by its log?
    Thawing(record::Thawing),
}

/// How an answer came out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Fine,
    /// Not safe, not known to be safe, or not possible as asked.
    Unsafe,
}

impl Outcome {
    fn of(fine: bool) -> Self {
        if fine { Self::Fine } else { Self::Unsafe }
    }
}

/// Runs the command line and returns its exit code; the first argument is the name to go by in its help.
///
/// Reads files and standard input, and writes to standard output and standard error.
///
/// ```
/// assert_eq!(poulter_cli::run(["poulter", "rules", "--standard", "atlantis"]), 2);
/// ```
pub fn run(arguments: impl IntoIterator<Item = impl Into<OsString> + Clone>) -> u8 {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(message) => {
            // Nowhere is left to report that the stream is closed.
            let _ = message.print();
            return if message.use_stderr() { REFUSED } else { 0 };
        }
    };
    let outcome = match arguments.command {
        Command::Plan(arguments) => arguments.run(),
        Command::Evaluate(arguments) => arguments.run(),
        Command::Worksheet(arguments) => arguments.run(),
        Command::Check { what } => match what {
            Check::Cooking(arguments) => arguments.run(),
            Check::Cooling(arguments) => arguments.run(),
            Check::Holding(arguments) => arguments.run(),
            Check::Reheating(arguments) => arguments.run(),
            Check::Thawing(arguments) => arguments.run(),
        },
        Command::Forecast(arguments) => arguments.run(),
        Command::Simulate { what } => what.run(),
        Command::Rules(arguments) => arguments.run(),
    };
    match outcome {
        Ok(Outcome::Fine) => 0,
        Ok(Outcome::Unsafe) => 1,
        Err(refusal) => {
            stream::complain(&refusal);
            REFUSED
        }
    }
}
