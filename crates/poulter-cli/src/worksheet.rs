//! `poulter worksheet`.

use std::fs;
use std::io::{self, IsTerminal, Write};
use std::path::PathBuf;

use clap::Args;
use poulter::plan::{Moment, Order, plan};
use poulter_worksheet::{Format, Kind, render};

use crate::Outcome;
use crate::house::House;
use crate::stream::{self, Refusal};

const EXAMPLE: &str = "\
Kinds: host, class, key (the answers to the class sheet), shopping, labels, cards (gravy and stock).
Formats: text, markdown, html, ics (host, class, labels), csv, xlsx.

Example: a class sheet to print, its answer key, and a record that judges as it is filled in.

  poulter worksheet lesson.toml --kind class,key --format html,xlsx --out sheets";

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Arguments {
    /// The order, TOML or JSON; `-` for standard input
    order: String,
    /// Kinds of sheet; several with commas where --out is given
    #[arg(long, value_delimiter = ',', value_parser = kind, default_value = "host")]
    kind: Vec<Kind>,
    /// Formats; several with commas where --out is given
    #[arg(long, value_delimiter = ',', value_parser = format, default_value = "text")]
    format: Vec<Format>,
    /// Write KIND.EXTENSION into this folder, such as class.html, instead of the sheet to the screen
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Plan from this moment, such as 2026-12-13T09:00[Europe/Lisbon], whatever the order says
    #[arg(long, value_name = "MOMENT")]
    now: Option<Moment>,
    #[command(flatten)]
    house: House,
}

fn kind(name: &str) -> Result<Kind, String> {
    Kind::from_name(name).map_err(|error| error.expected().to_owned())
}

fn format(name: &str) -> Result<Format, String> {
    Format::from_name(name).map_err(|error| error.expected().to_owned())
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        if self.out.is_none() && self.kind.len() * self.format.len() != 1 {
            let text = "one sheet goes to the screen; add --out DIR to write several";
            return Err(Refusal::File(text.to_owned()));
        }
        let mut order = Order::from_text(&stream::read(&self.order)?)?;
        if self.now.is_some() {
            order.now = self.now;
        }
        let book = self.house.book()?;
        let answer = plan(&book, &order)?;
        // Nothing is written unless all of it can be.
        let mut sheets = Vec::new();
        for &kind in &self.kind {
            for &format in &self.format {
                let name = format!("{}.{}", kind.name(), format.extension());
                sheets.push((name, format, render(&book, &order, &answer, kind, format)?));
            }
        }
        match &self.out {
            None => {
                for (_, format, bytes) in &sheets {
                    to_screen(*format, bytes)?;
                }
            }
            Some(folder) => {
                let failed =
                    |name: &PathBuf, error| Refusal::File(format!("{}: {error}", name.display()));
                fs::create_dir_all(folder).map_err(|error| failed(folder, error))?;
                for (name, _, bytes) in &sheets {
                    let path = folder.join(name);
                    fs::write(&path, bytes).map_err(|error| failed(&path, error))?;
                    stream::print(&format!("Written: {}\n", path.display()))?;
                }
            }
        }
        Ok(Outcome::of(answer.answer.feasible))
    }
}

/// A spreadsheet is no text for a terminal; into a file or a pipe it goes.
fn to_screen(format: Format, bytes: &[u8]) -> Result<(), Refusal> {
    let mut out = io::stdout().lock();
    if !format.is_text() && out.is_terminal() {
        let text = "a spreadsheet is no text for the screen; add --out DIR";
        return Err(Refusal::File(text.to_owned()));
    }
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Refusal::File(format!("standard output: {error}")))
        }
        _ => Ok(()),
    }
}
