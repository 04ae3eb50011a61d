//! `poulter plan`.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use poulter::plan::{Moment, Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::{Answer, Response};
use poulter_worksheet::{Format, Kind, render};

use crate::Outcome;
use crate::house::House;
use crate::stream::{self, Refusal};

const EXAMPLE: &str = "\
Example: a first order, the plan on screen, then a sheet to print and a calendar.

  cat > supper.toml <<'END'
  serve_at = \"2026-12-19T18:30[Europe/Lisbon]\"
  now = \"2026-12-13T09:00[Europe/Lisbon]\"
  guests = { adults = 11, children = 3 }
  bird = { species = \"turkey\", mass = \"6.8 kg\", state = \"frozen\" }
  END
  poulter plan supper.toml
  poulter plan supper.toml --out sheets";

#[derive(Args)]
#[command(after_help = EXAMPLE)]
pub(crate) struct Arguments {
    /// The order, TOML or JSON; `-` for standard input
    order: String,
    /// What to write; several, with commas, where --out is given
    #[arg(long, value_enum, value_delimiter = ',')]
    format: Vec<Sheet>,
    /// Print the plan, and write plan.html, plan.ics and the formats asked for into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Plan from this moment, such as 2026-12-13T09:00[Europe/Lisbon], whatever the order says
    #[arg(long, value_name = "MOMENT")]
    now: Option<Moment>,
    #[command(flatten)]
    house: House,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
enum Sheet {
    /// Plain text
    Text,
    /// Markdown
    Markdown,
    /// A page to print
    Html,
    /// A calendar
    Ics,
    /// The whole answer as JSON
    Json,
}

impl Sheet {
    fn write(
        self,
        book: &Rulebook,
        order: &Order,
        answer: &Answer<Plan>,
    ) -> Result<String, Refusal> {
        let format = match self {
            Self::Text => Format::Text,
            Self::Markdown => Format::Markdown,
            Self::Html => Format::Html,
            Self::Ics => Format::Icalendar,
            // The same bytes as every other door gives for this order.
            Self::Json => {
                return serde_json::to_string(&Response::Plan(answer.clone()))
                    .map(|text| text + "\n")
                    .map_err(|error| Refusal::File(error.to_string()));
            }
        };
        let sheet = render(book, order, answer, Kind::Host, format)?;
        String::from_utf8(sheet).map_err(|error| Refusal::File(error.to_string()))
    }

    const fn file(self) -> &'static str {
        match self {
            Self::Text => "plan.txt",
            Self::Markdown => "plan.md",
            Self::Html => "plan.html",
            Self::Ics => "plan.ics",
            Self::Json => "plan.json",
        }
    }
}

impl Arguments {
    pub(crate) fn run(self) -> Result<Outcome, Refusal> {
        if self.out.is_none() && self.format.len() > 1 {
            return Err(Refusal::File(
                "--format: one format goes to the screen; add --out DIR to write several"
                    .to_owned(),
            ));
        }
        let mut order = Order::from_text(&stream::read(&self.order)?)?;
        if let Some(now) = self.now {
            order.now = Some(now);
        }
        let book = self.house.book()?;
        let answer = plan(&book, &order)?;
        match &self.out {
            None => {
                let format = self.format.first().copied().unwrap_or(Sheet::Text);
                stream::print(&format.write(&book, &order, &answer)?)?;
            }
            Some(folder) => {
                let failed =
                    |name: &PathBuf, error| Refusal::File(format!("{}: {error}", name.display()));
                fs::create_dir_all(folder).map_err(|error| failed(folder, error))?;
                stream::print(&Sheet::Text.write(&book, &order, &answer)?)?;
                let mut formats = BTreeSet::from([Sheet::Html, Sheet::Ics]);
                formats.extend(self.format);
                for format in formats {
                    let path = folder.join(format.file());
                    fs::write(&path, format.write(&book, &order, &answer)?)
                        .map_err(|error| failed(&path, error))?;
                    stream::print(&format!("Written: {}\n", path.display()))?;
                }
            }
        }
        Ok(Outcome::of(answer.answer.feasible))
    }
}
