//! A [`Plan`] as sheets to print, follow and sign: for a host, for a class with its answer key, and as shopping list,
//! labels, and gravy and stock cards.
//!
//! Each kind comes as plain text, Markdown, HTML, CSV and spreadsheet, and as a calendar where it holds dates. A plan
//! that is not possible becomes a sheet that says so, with the reasons and the changes that would do.
//!
//! Nothing here reads a clock, a file or a setting: the same plan gives the same bytes.
//!
//! ```
//! use poulter::plan::{Order, plan};
//! use poulter::rules::Rulebook;
//! use poulter_worksheet::{Format, Kind, render};
//!
//! let order = Order::from_toml(r#"
//!     serve_at = "2026-12-19T18:30[Europe/Lisbon]"
//!     guests = { adults = 8 }
//!     bird = { species = "turkey", mass = "12 lb", state = "thawed" }
//! "#)?;
//! let book = Rulebook::builtin();
//! let sheet = render(book, &order, &plan(book, &order)?, Kind::Labels, Format::Text)?;
//! assert!(String::from_utf8_lossy(&sheet).contains("LABELS FOR LEFTOVERS"));
//! # Ok::<(), poulter::Error>(())
//! ```

#![forbid(unsafe_code)]

use poulter::plan::{Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::{Answer, Error, ErrorKind, Request};

mod calendar;
mod cards;
mod chart;
mod class;
mod csv;
mod degrees;
mod document;
mod entry;
mod kinds;
mod labels;
mod markdown;
mod markup;
mod measures;
mod page;
mod questions;
mod reckoning;
mod sheet;
mod sources;
mod text;
mod ways;
mod wording;
mod words;
mod workbook;

use sheet::{Job, Sheet};

/// Whom a sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The whole plan, for a host.
    Host,
    /// For a class: what to learn, to lay out, to do and to measure, station by station.
    Class,
    /// The answers to the class sheet.
    Key,
    /// What to buy.
    Shopping,
    /// Labels for leftovers with the dates until which they keep.
    Labels,
    /// Gravy and stock.
    Cards,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 6] = [
        Self::Host,
        Self::Class,
        Self::Key,
        Self::Shopping,
        Self::Labels,
        Self::Cards,
    ];

    /// The word for it in commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Host => "host",
            Self::Class => "class",
            Self::Key => "key",
            Self::Shopping => "shopping",
            Self::Labels => "labels",
            Self::Cards => "cards",
        }
    }

    /// The kind of this name; any other is refused with the names there are.
    pub fn from_name(name: &str) -> Result<Self, Error> {
        let found = Self::ALL.into_iter().find(|kind| kind.name() == name);
        found.ok_or_else(|| unknown("kind", name, &Self::ALL.map(Self::name)))
    }

    /// The formats it can be written in: a calendar only where there are dates to follow.
    #[must_use]
    pub fn formats(self) -> Vec<Format> {
        let dated = matches!(self, Self::Host | Self::Class | Self::Labels);
        let formats = Format::ALL.into_iter();
        formats
            .filter(|format| dated || *format != Format::Icalendar)
            .collect()
    }

    fn heading(self) -> &'static str {
        words::say(match self {
            Self::Host => "kind-host",
            Self::Class => "kind-class",
            Self::Key => "kind-key",
            Self::Shopping => "kind-shopping",
            Self::Labels => "kind-labels",
            Self::Cards => "kind-cards",
        })
    }
}

/// What a sheet is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Format {
    /// Plain text for a terminal of 80 columns.
    Text,
    /// `CommonMark` with tables and task boxes.
    Markdown,
    /// One self-contained page for screen and print (A4 and Letter): no script, nothing fetched.
    Html,
    /// A calendar with alarms (RFC 5545), all times in UTC.
    Icalendar,
    /// One table as comma-separated values (RFC 4180).
    Csv,
    /// A spreadsheet with formulas (Office Open XML).
    Xlsx,
}

impl Format {
    /// Every format.
    pub const ALL: [Self; 6] = [
        Self::Text,
        Self::Markdown,
        Self::Html,
        Self::Icalendar,
        Self::Csv,
        Self::Xlsx,
    ];

    /// The word for it in commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Markdown => "markdown",
            Self::Html => "html",
            Self::Icalendar => "ics",
            Self::Csv => "csv",
            Self::Xlsx => "xlsx",
        }
    }

    /// The format of this name; any other is refused with the names there are.
    pub fn from_name(name: &str) -> Result<Self, Error> {
        let found = Self::ALL.into_iter().find(|format| format.name() == name);
        found.ok_or_else(|| unknown("format", name, &Self::ALL.map(Self::name)))
    }

    /// Whether it is UTF-8 text; a spreadsheet is not.
    #[must_use]
    pub const fn is_text(self) -> bool {
        !matches!(self, Self::Xlsx)
    }

    /// The usual ending of a file's name.
    #[must_use]
    pub const fn extension(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Markdown => "md",
            other => other.name(),
        }
    }

    /// The media type for a server that hands the sheet out.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Text => "text/plain; charset=utf-8",
            Self::Markdown => "text/markdown; charset=utf-8",
            Self::Html => "text/html; charset=utf-8",
            Self::Icalendar => "text/calendar; charset=utf-8",
            Self::Csv => "text/csv; charset=utf-8",
            Self::Xlsx => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        }
    }
}

fn unknown(field: &str, given: &str, names: &[&str]) -> Error {
    let expected = format!("one of {} is needed", names.join(", "));
    Error::new(ErrorKind::UnknownValue, given, expected).at(field)
}

/// Writes a sheet of a plan, in the plan's own units and clock.
///
/// `book` and `order` are those that the plan was made from. Text that came with the order or from a caller's own rules
/// is escaped for the format; control characters become spaces.
///
/// Errors: a kind that has nothing for a calendar is refused as one, with the formats it has.
pub fn render(
    book: &Rulebook,
    order: &Order,
    plan: &Answer<Plan>,
    kind: Kind,
    format: Format,
) -> Result<Vec<u8>, Error> {
    if !kind.formats().contains(&format) {
        let names: Vec<_> = kind.formats().into_iter().map(Format::name).collect();
        let expected = format!("{} comes as one of {}", kind.name(), names.join(", "));
        return Err(Error::new(ErrorKind::UnknownValue, format.name(), expected).at("format"));
    }
    let job = Job { book, order, plan };
    let sheet = Sheet::of(&job);
    let composed = || kinds::compose(&job, &sheet, kind);
    Ok(match format {
        Format::Text => text::write(&composed(), &sheet).into_bytes(),
        Format::Markdown => markdown::write(&composed(), &sheet).into_bytes(),
        Format::Html => page::write(&composed(), &sheet).into_bytes(),
        Format::Icalendar => calendar::write(&job, &sheet, kind).into_bytes(),
        Format::Csv => csv::write(&kinds::table(&job, &sheet, kind)).into_bytes(),
        Format::Xlsx => workbook::write(&job, &sheet, kind)?,
    })
}

/// Plans an order given as JSON text, which may carry `house_rules`, and writes a sheet: the one door of the bindings.
///
/// ```
/// let order = r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 8},
///     "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"}}"#;
/// let sheet = poulter_worksheet::worksheet(order, "shopping", "csv")?;
/// assert!(sheet.starts_with(b"Item,Amount,Note\r\n"));
/// let refused = poulter_worksheet::worksheet(order, "poster", "csv").unwrap_err();
/// assert_eq!((refused.code(), refused.field()), (105, "kind"));
/// # Ok::<(), poulter::Error>(())
/// ```
pub fn worksheet(order: &str, kind: &str, format: &str) -> Result<Vec<u8>, Error> {
    let (kind, format) = (Kind::from_name(kind)?, Format::from_name(format)?);
    if order.len() > poulter::LARGEST_REQUEST {
        let (given, most) = (format!("{} bytes", order.len()), poulter::LARGEST_REQUEST);
        let expected = format!("at most {most} bytes are read");
        return Err(Error::new(ErrorKind::TooLarge, given, expected));
    }
    let mut value: serde_json::Value = serde_json::from_str(order).map_err(|error| {
        Error::new(
            ErrorKind::Malformed,
            order,
            format!("JSON is needed: {error}"),
        )
    })?;
    let mut house = None;
    if let Some(fields) = value.as_object_mut() {
        fields.insert("kind".to_owned(), "plan".into());
        house = fields.remove("house_rules");
    }
    let with_house = match house {
        None | Some(serde_json::Value::Null) => None,
        Some(serde_json::Value::String(toml)) => {
            let book = Rulebook::builtin().with_rules(&toml);
            Some(book.map_err(|error| error.at("house_rules"))?)
        }
        Some(other) => {
            let expected = "rules as TOML text are needed";
            return Err(Error::new(ErrorKind::WrongType, other, expected).at("house_rules"));
        }
    };
    let book = with_house.as_ref().unwrap_or_else(|| Rulebook::builtin());
    let Request::Plan(order) = Request::from_value(value)? else {
        return Err(Error::new(ErrorKind::Internal, "", "a plan is needed"));
    };
    render(book, &order, &plan(book, &order)?, kind, format)
}
