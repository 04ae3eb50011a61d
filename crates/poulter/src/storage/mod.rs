//! Storage: how long raw and cooked food keeps, by place, with every source that disagrees.

mod date_mark;
mod label;
mod power;
mod space;

use jiff::ToSpan;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Keeping, Requirement, Rule, Rulebook, TemperatureLimit, Topic};
use crate::units::Duration;

pub use date_mark::{DateMark, DateMarkQuery, Frozen, date_mark};
pub use label::{LabelQuery, LabelState, LabelWord, label_state};
pub use power::{Appliance, PowerFailure, PowerFailureQuery, PowerOutcome, power_failure};
pub use space::{Containers, Space, SpaceQuery, space};

/// What is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StoredFood {
    /// A raw whole bird.
    RawWhole,
    /// Raw parts.
    RawParts,
    /// Raw ground meat.
    Ground,
    /// Raw giblets.
    Giblets,
    /// Cooked meat.
    Cooked,
    /// Cooked stuffing.
    Stuffing,
    /// Gravy.
    Gravy,
    /// Stock or broth.
    Stock,
    /// Soup with meat.
    Soup,
}

impl StoredFood {
    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::RawWhole => "raw whole bird",
            Self::RawParts => "raw parts",
            Self::Ground => "raw ground meat",
            Self::Giblets => "raw giblets",
            Self::Cooked => "cooked meat",
            Self::Stuffing => "cooked stuffing",
            Self::Gravy => "gravy",
            Self::Stock => "stock",
            Self::Soup => "soup",
        }
    }

    const fn topic(self) -> Topic {
        match self {
            Self::RawWhole => Topic::StorageRaw,
            Self::RawParts => Topic::StorageRawParts,
            Self::Ground => Topic::StorageGround,
            Self::Giblets => Topic::StorageGiblets,
            Self::Cooked => Topic::KeepCooked,
            Self::Stuffing => Topic::KeepStuffing,
            Self::Gravy | Self::Stock => Topic::KeepGravy,
            Self::Soup => Topic::KeepSoup,
        }
    }

    const fn is_raw(self) -> bool {
        matches!(
            self,
            Self::RawWhole | Self::RawParts | Self::Ground | Self::Giblets
        )
    }
}

/// "How long does this keep?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StorageQuery {
    /// What is kept.
    pub food: StoredFood,
    /// Where.
    pub place: Keeping,
    /// The day it went in: bought, thawed or cooked.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub since: Option<Date>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// The answer about keeping.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Storage {
    /// What is kept.
    pub food: StoredFood,
    /// Where.
    pub place: Keeping,
    /// How long it keeps.
    pub keeps: TimeEstimate,
    /// True where the time is about quality, and the food stays safe beyond it.
    pub quality_only: bool,
    /// The day by which it is best used: the shorter time from `since`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub use_by: Option<Date>,
    /// The last day of the rule: the longer time from `since`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub last_day: Option<Date>,
    /// How cold the place must be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature: Option<TemperatureLimit>,
    /// Other sources, and date marking where the standard has it.
    pub findings: Vec<Finding>,
    /// What to do; the check by the senses comes first and overrides every date.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules; the first one decides.
    pub rules: Vec<String>,
}

/// How long food keeps in the refrigerator or freezer, with dates.
///
/// The first rule of the standard for the food and place decides. Every other rule for them, of this standard or of those
/// it falls back to, is shown beside it. The dates count whole days from `since`.
///
/// Limits: a date says nothing for food that smells off, feels slimy or stood out too long.
///
/// Errors: an unknown standard, no published row, or a date that no calendar holds.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::storage::{StorageQuery, storage};
/// let query: StorageQuery = serde_json::from_str(
///     r#"{"food": "cooked", "place": "refrigerator", "since": "2026-12-19"}"#,
/// )?;
/// let answer = storage(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.keeps.shown(), "3 d to 4 d");
/// assert_eq!(answer.last_day.map(|day| day.to_string()).as_deref(), Some("2026-12-23"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn storage(book: &Rulebook, query: &StorageQuery) -> Result<Answer<Storage>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

struct Keeps<'b> {
    rule: &'b Rule,
    low: Duration,
    high: Duration,
    quality_only: bool,
}

/// The rules for a food and place, the deciding one first.
fn keeps<'b>(basis: &Basis<'b>, topic: Topic, place: Keeping) -> Vec<Keeps<'b>> {
    let rules = basis.every(topic).into_iter();
    rules
        .filter_map(|rule| match rule.requirement {
            Requirement::Keep {
                keeping,
                low,
                high,
                quality_only,
            } if keeping == place => Some(Keeps {
                rule,
                low,
                high,
                quality_only,
            }),
            _ => None,
        })
        .collect()
}

/// Keeping inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &StorageQuery) -> Result<Storage, Error> {
    let found = keeps(basis, query.food.topic(), query.place);
    let Some(first) = found.first() else {
        return Err(Error::new(
            ErrorKind::NoPublishedRow,
            format!("{}, {}", query.species.name(), query.food.words()),
            format!(
                "no published row answers \"{}\" for this place",
                query.food.topic().question()
            ),
        )
        .at("food"));
    };
    basis.note(first.rule);
    let mut value = Storage {
        food: query.food,
        place: query.place,
        keeps: TimeEstimate {
            low: first.low,
            likely: first.low,
            high: first.high,
        },
        quality_only: first.quality_only,
        use_by: date_after(query.since, first.low, 0)?,
        last_day: date_after(query.since, first.high, 0)?,
        temperature: None,
        findings: Vec::new(),
        to_do: Vec::new(),
        rules: vec![first.rule.id.clone()],
    };
    for rule in basis.every(Topic::StorageSenses) {
        basis.note(rule);
        value.rules.push(rule.id.clone());
        value.to_do.extend(rule.said());
    }
    for other in &found[1..] {
        basis.note(other.rule);
        value.rules.push(other.rule.id.clone());
        let time = TimeEstimate {
            low: other.low,
            likely: other.low,
            high: other.high,
        };
        let text = format!(
            "Another source: {}, {}. {}",
            other.rule.title,
            time.shown(),
            other.rule.note
        );
        value
            .findings
            .push(Finding::advice(text.trim_end(), Some(other.rule)));
    }
    if !query.food.is_raw() && query.place == Keeping::Refrigerator {
        mention_date_mark(basis, query, &mut value)?;
    }
    let topic = match query.place {
        Keeping::Refrigerator => Topic::StorageRefrigerator,
        Keeping::Freezer => Topic::StorageFreezer,
    };
    if let Some(rule) = basis.find(topic) {
        value.rules.push(rule.id.clone());
        value.to_do.extend(rule.said());
        if let Requirement::Temperature { limit } = rule.requirement {
            value.temperature = Some(limit);
        }
    }
    if value.quality_only {
        value
            .to_do
            .push("Kept frozen it stays safe beyond this time; it only loses quality.".to_owned());
    }
    Ok(value)
}

/// Date marking counts the day of preparation as day 1.
fn mention_date_mark(
    basis: &mut Basis<'_>,
    query: &StorageQuery,
    value: &mut Storage,
) -> Result<(), Error> {
    let Some(rule) = basis.find(Topic::KeepDateMark) else {
        return Ok(());
    };
    value.rules.push(rule.id.clone());
    let Requirement::Keep { high, .. } = rule.requirement else {
        return Ok(());
    };
    let mut text = format!("{}: {}; {}", rule.title, high.shown(), rule.note);
    if let Some(day) = date_after(query.since, high, 1)? {
        text = format!("{text} Discard after {day}.");
    }
    value.findings.push(Finding::advice(text, Some(rule)));
    Ok(())
}

/// The day a number of whole days after another, `less` of them already counted.
pub(crate) fn date_after(
    since: Option<Date>,
    time: Duration,
    less: i64,
) -> Result<Option<Date>, Error> {
    let days = time.steps().div_euclid(86_400_000) - less;
    since
        .map(|since| {
            since.checked_add(days.days()).map_err(|error| {
                Error::new(
                    ErrorKind::BadMoment,
                    since,
                    format!("a date of the calendar is needed: {error}"),
                )
                .at("since")
            })
        })
        .transpose()
}
