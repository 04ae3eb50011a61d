//! A [`Plan`] as a sheet to print, follow and sign: plain text, Markdown, HTML, and a calendar.
//!
//! Every format says the same: what to do and when, what to measure and write down with blanks to fill in, what to
//! buy, what was assumed, and which rules and sources stand behind it. A plan that is not possible becomes a sheet
//! that says so, with the reasons and the changes that would do.
//!
//! Nothing here reads a clock, a file or a setting: the same plan gives the same bytes.
//!
//! ```
//! use poulter_worksheet::Format;
//! assert_eq!(Format::from_name("ics"), Some(Format::Icalendar));
//! assert_eq!(Format::Html.media_type(), "text/html; charset=utf-8");
//! ```

#![forbid(unsafe_code)]

use poulter::Answer;
use poulter::plan::Plan;

mod calendar;
mod chart;
mod markdown;
mod markup;
mod page;
mod sheet;
mod text;
mod words;

use sheet::Sheet;

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
}

impl Format {
    /// Every format.
    pub const ALL: [Self; 4] = [Self::Text, Self::Markdown, Self::Html, Self::Icalendar];

    /// The word for it in commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Markdown => "markdown",
            Self::Html => "html",
            Self::Icalendar => "ics",
        }
    }

    /// The format of this name.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|format| format.name() == name)
    }

    /// The usual ending of a file's name.
    #[must_use]
    pub const fn extension(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Markdown => "md",
            Self::Html => "html",
            Self::Icalendar => "ics",
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
        }
    }
}

/// Writes a plan as a sheet, in the plan's own units and clock.
///
/// Text that came with the order or from a caller's own rules is escaped for the format; control characters become
/// spaces.
#[must_use]
pub fn render(plan: &Answer<Plan>, format: Format) -> String {
    let sheet = Sheet::of(plan);
    match format {
        Format::Text => text::write(&sheet),
        Format::Markdown => markdown::write(&sheet),
        Format::Html => page::write(&sheet),
        Format::Icalendar => calendar::write(&sheet),
    }
}
