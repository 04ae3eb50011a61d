//! Roasting: the time by the standard's table, and how to set the oven; and every other way to cook a bird.

mod adjust;
mod cook;
mod energy;

use crate::messages::say;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::units::{Duration, Length, Mass, Temperature, TemperatureDifference};

pub(crate) use adjust::is_high;
pub use cook::{CookMethod, CookQuery, CookTime, cook_time};
pub use energy::{OvenEnergy, OvenEnergyQuery, OvenHeat, oven_energy};

/// How the oven is run.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum RoastMethod {
    /// One setting from start to end.
    Steady,
    /// A hot start for the skin, then the steady setting.
    HighStart,
}

impl RoastMethod {
    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Steady => "steady oven",
            Self::HighStart => "high-heat start",
        }
    }
}

/// What is known of the oven.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Oven {
    /// How much hotter the oven runs than its dial says; negative when it runs cold.
    #[serde(default)]
    pub offset: Option<TemperatureDifference>,
    /// Whether a fan moves the air.
    #[serde(default)]
    pub fan: bool,
}

impl Oven {
    /// Where a bird or its pieces stand in the oven (common practice, no source).
    ///
    /// ```
    /// use poulter::bird::Cut;
    /// use poulter::roast::Oven;
    /// assert!(Oven::default().position(Cut::Whole).contains("lowest third"));
    /// assert!(Oven::default().position(Cut::Leg).contains("middle shelf"));
    /// ```
    #[must_use]
    pub fn position(self, cut: Cut) -> &'static str {
        match (self.fan, cut) {
            (true, _) => say("do-place-fan"),
            (false, Cut::Whole) => say("do-place-steady"),
            (false, _) => say("do-place-flat"),
        }
    }
}

/// "How long does this bird roast?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RoastQuery {
    /// Mass of the bird as it goes into the oven.
    pub mass: Mass,
    /// Whether stuffing is in the bird.
    #[serde(default)]
    pub stuffed: bool,
    /// How the oven is run; steady when left out.
    #[serde(default = "steady")]
    pub method: RoastMethod,
    /// Whether the bird goes in hard frozen.
    #[serde(default)]
    pub from_frozen: bool,
    /// What is known of the oven.
    #[serde(default)]
    pub oven: Oven,
    /// Height above the sea; sea level when left out.
    #[serde(default)]
    pub altitude: Option<Length>,
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

const fn steady() -> RoastMethod {
    RoastMethod::Steady
}

/// One setting of the oven for a time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OvenPhase {
    /// The air the bird should meet.
    pub air: Temperature,
    /// What to set on the dial so that the air is that hot.
    pub dial: Temperature,
    /// How long; none for "until done".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<Duration>,
}

/// The answer about roasting.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RoastTime {
    /// False where the standard forbids it; `refusal` says why.
    pub allowed: bool,
    /// Why it is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refusal: Option<String>,
    /// The time in the oven.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeEstimate>,
    /// The settings in order.
    pub oven: Vec<OvenPhase>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// How the time was arrived at.
    pub notes: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

impl RoastTime {
    const fn empty() -> Self {
        Self {
            allowed: true,
            refusal: None,
            time: None,
            oven: Vec::new(),
            to_do: Vec::new(),
            notes: Vec::new(),
            rules: Vec::new(),
        }
    }
}

/// How long a bird roasts by the standard's table, and how to set the oven.
///
/// `low` and `high` are the printed range of the row; `likely` lies on the line between its ends. A fan, a high-heat
/// start, altitude and a frozen start change them as `notes` says. The thermometer decides, never the time.
///
/// Errors: an unknown standard, or no published row for the mass, species or cut.
///
/// ```
/// use poulter::roast::{RoastQuery, roast_time};
/// use poulter::rules::Rulebook;
/// let query: RoastQuery = serde_json::from_str(r#"{"mass": "13 lb"}"#)?;
/// let answer = roast_time(Rulebook::builtin(), &query)?;
/// assert_eq!(answer.answer.time.map(|time| time.shown()).as_deref(), Some("3 h to 3 h 45 min"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn roast_time(book: &Rulebook, query: &RoastQuery) -> Result<Answer<RoastTime>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// The same, inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &RoastQuery) -> Result<RoastTime, Error> {
    if query.from_frozen && query.stuffed {
        let mut value = RoastTime::empty();
        let rule = basis.require(Topic::ThawFromFrozen)?;
        value.rules.push(rule.id.clone());
        value.allowed = false;
        value.refusal = Some("a bird cooked from frozen is never stuffed".to_owned());
        return Ok(value);
    }
    let table = table(basis, table_of(query.stuffed), query.mass)?;
    by_table(basis, query, table)
}

/// The topic of the table.
pub(crate) const fn table_of(stuffed: bool) -> Topic {
    if stuffed {
        Topic::RoastTimeStuffed
    } else {
        Topic::RoastTimeUnstuffed
    }
}

/// The table of the first other standard that has a row for a bird, where the standard asked for prints none at all for
/// its kind. A mass that falls outside the standard's own table stays a gap.
pub(crate) fn table_elsewhere<'b>(
    book: &'b Rulebook,
    case: &Case<'b>,
    stuffed: bool,
    mass: Mass,
) -> Option<&'b Rule> {
    let own = book.find(table_of(stuffed), case);
    if own.is_some_and(|rule| !matches!(rule.requirement, Requirement::Do { .. })) {
        return None;
    }
    book.standards().iter().find_map(|other| {
        let case = Case {
            standard: &other.id,
            ..*case
        };
        let table = book.find(table_of(stuffed), &case)?;
        table.requirement.time_for(mass).map(|_| table)
    })
}

/// The time by a table, the standard's own or another's.
pub(crate) fn by_table<'b>(
    basis: &mut Basis<'b>,
    query: &RoastQuery,
    table: &'b Rule,
) -> Result<RoastTime, Error> {
    let mut value = RoastTime::empty();
    basis.note(table);
    value.rules.push(table.id.clone());
    let row = table
        .requirement
        .time_for(query.mass)
        .ok_or_else(|| no_row(table, query.mass))?;
    let time = adjust::time(basis, query, row, &mut value)?;
    value.time = Some(time);
    set_up(basis, query, Some(table), &mut value);
    Ok(value)
}

/// The rule that gives a time for this mass, noted as a basis: the first that has it, of the standard that answers.
///
/// An older rule by weight stands in three rows for light, middling and heavy birds. Where none has the mass, the first
/// one says so.
fn table<'b>(basis: &mut Basis<'b>, topic: Topic, mass: Mass) -> Result<&'b Rule, Error> {
    let first = basis.book.require(topic, &basis.case)?;
    let table = basis
        .every(topic)
        .into_iter()
        .filter(|rule| rule.standard() == first.standard())
        .find(|rule| rule.requirement.time_for(mass).is_some())
        .unwrap_or(first);
    basis.note(table);
    Ok(table)
}

/// How to set the oven for a bird that no row gives a time for.
pub(crate) fn without_row(basis: &mut Basis<'_>, query: &RoastQuery) -> RoastTime {
    let mut value = RoastTime::empty();
    let table = basis.find(Topic::RoastTimeUnstuffed);
    set_up(basis, query, table, &mut value);
    value
}

/// The oven, the pan and the tent.
fn set_up(basis: &mut Basis<'_>, query: &RoastQuery, table: Option<&Rule>, value: &mut RoastTime) {
    let steady = table.and_then(|table| cook::settings(&table.requirement)[0]);
    adjust::oven(basis, query, steady, value);
    for topic in [Topic::RoastPan, Topic::RoastTent] {
        if let Some(rule) = basis.find(topic) {
            value.rules.push(rule.id.clone());
            if let Requirement::Do { text } = &rule.requirement {
                value.to_do.push(text.clone());
            }
        }
    }
    basis.caution(
        "The time only says when to start measuring; the thermometer says when the bird is done.",
    );
}

pub(crate) fn no_row(table: &Rule, mass: Mass) -> Error {
    let reach = match &table.requirement {
        Requirement::TimeByMass { rows, .. } => {
            let rows: Vec<_> = rows
                .iter()
                .map(|row| format!("{} to {}", row.from, row.to))
                .collect();
            format!("the table has rows for {}", rows.join(", "))
        }
        _ => "the rule gives no time".to_owned(),
    };
    Error::new(ErrorKind::NoPublishedRow, mass, reach)
        .at("mass")
        .citing(&table.id)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn time(json: &str) -> TimeEstimate {
        let query: RoastQuery = serde_json::from_str(json).unwrap();
        roast_time(Rulebook::builtin(), &query)
            .unwrap()
            .answer
            .time
            .unwrap()
    }

    fn hours(text: &str) -> Duration {
        Duration::parse(text).unwrap()
    }

    #[test]
    fn the_line_between_the_edges_is_the_tables_own() {
        // FSIS Turkey Basics: Safe Cooking, 325 °F table; edge values of both columns.
        for (pounds, unstuffed, stuffed) in [
            (8, "2.75 h", "3 h"),
            (12, "3 h", "3.5 h"),
            (14, "3.75 h", "4 h"),
            (18, "4.25 h", "4.25 h"),
            (20, "4.5 h", "4.75 h"),
            (24, "5 h", "5.25 h"),
        ] {
            assert_eq!(
                time(&format!(r#"{{"mass": "{pounds} lb"}}"#)).likely,
                hours(unstuffed),
                "{pounds} lb"
            );
            let stuffed_time = time(&format!(r#"{{"mass": "{pounds} lb", "stuffed": true}}"#));
            assert_eq!(stuffed_time.likely, hours(stuffed), "{pounds} lb stuffed");
        }
        // 16 lb lies half way along the 14 to 18 lb row.
        assert_eq!(time(r#"{"mass": "16 lb"}"#).likely, hours("4 h"));
    }

    #[test]
    fn outside_the_table_there_is_no_row() {
        for (pounds, fine) in [
            ("7.999", false),
            ("8", true),
            ("24", true),
            ("24.001", false),
        ] {
            let query: RoastQuery =
                serde_json::from_str(&format!(r#"{{"mass": "{pounds} lb"}}"#)).unwrap();
            assert_eq!(
                roast_time(Rulebook::builtin(), &query).is_ok(),
                fine,
                "{pounds} lb"
            );
        }
    }

    #[test]
    fn a_frozen_start_takes_at_least_half_as_long_again() {
        // FSIS Let's Talk Turkey: at least 50 percent longer; 20 to 24 lb becomes 6.75 to 7.5 h as a minimum.
        let frozen = time(r#"{"mass": "22 lb", "from_frozen": true}"#);
        assert_eq!(frozen.low, hours("6.75 h"));
        assert!(frozen.high >= hours("7.5 h"));
        let query: RoastQuery =
            serde_json::from_str(r#"{"mass": "22 lb", "from_frozen": true, "stuffed": true}"#)
                .unwrap();
        assert!(
            !roast_time(Rulebook::builtin(), &query)
                .unwrap()
                .answer
                .allowed
        );
    }

    #[test]
    fn a_cold_oven_is_set_higher() {
        let query: RoastQuery =
            serde_json::from_str(r#"{"mass": "12 lb", "oven": {"offset": "-10 delta_degF"}}"#)
                .unwrap();
        let answer = roast_time(Rulebook::builtin(), &query).unwrap().answer;
        assert_eq!(answer.oven[0].air, Temperature::parse("325 °F").unwrap());
        assert_eq!(answer.oven[0].dial, Temperature::parse("335 °F").unwrap());
    }

    #[test]
    fn a_fan_shortens_only_the_quick_case_and_never_lowers_the_air() {
        let still = time(r#"{"mass": "12 lb"}"#);
        let fan = time(r#"{"mass": "12 lb", "oven": {"fan": true}}"#);
        assert_eq!(fan.low, still.low.times_ratio(3, 4));
        assert_eq!(fan.high, still.high);
    }
}
