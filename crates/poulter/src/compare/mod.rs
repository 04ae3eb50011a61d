//! One question under several standards: side by side, or the strictest of a chosen set.

mod strictest;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, DEFAULT_STANDARD, default};
use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{
    Case, HoldPoint, Margin, Requirement, Rule, RuleRow, Rulebook, Standard, TemperatureLimit,
    TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, Temperature};

pub use strictest::{
    Member, Strictest, StrictestVerdict, strictest_cooking, strictest_cooling, strictest_holding,
};

/// What a row says where a standard is silent.
pub const NO_ROW: &str = "no published row";

/// "What do the standards say about this?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CompareQuery {
    /// The question.
    pub topic: Topic,
    /// The standards, in the order of the answer; every one when left out.
    #[serde(default)]
    pub standards: Vec<String>,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// A process word, where it matters, such as `cold-display`.
    #[serde(default)]
    pub process: Option<String>,
    /// A reading to judge under each.
    #[serde(default)]
    pub reading: Option<Temperature>,
    /// A time to judge under each; beside a reading, how long it held.
    #[serde(default)]
    pub duration: Option<Duration>,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// One standard's answer.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CompareRow {
    /// The standard.
    pub standard: String,
    /// Its heading.
    pub title: String,
    /// What it asks, in words, or "no published row".
    pub says: String,
    /// The rule that decides; none where the standard is silent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule: Option<RuleRow>,
    /// What its further rows say.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<RuleRow>,
    /// The judgement of the reading or time, where one was given and a rule can judge it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<Verdict>,
    /// How far from the limit; negative on the unsafe side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin: Option<Margin>,
}

/// The standards side by side.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SideBySide {
    /// The topic as a question.
    pub question: String,
    /// One row for each standard, never blank.
    pub rows: Vec<CompareRow>,
}

/// Sets the standards side by side for one question.
///
/// Each standard speaks for itself: what it would take from another one where it is silent is not shown. A reading or
/// time is judged where the standard's rule is a limit on it; a limit that needs both, with one missing, is
/// `CannotTell`, and so is a time with surroundings or stages that one number cannot settle.
///
/// Errors: an unknown standard.
///
/// ```
/// use poulter::compare::{CompareQuery, NO_ROW, compare};
/// use poulter::rules::{Rulebook, Verdict};
/// let query: CompareQuery = serde_json::from_str(
///     r#"{"topic": "hold.hot", "reading": "63 °C", "standards": ["uk", "scotland", "us-processor"]}"#,
/// )?;
/// let rows = compare(Rulebook::builtin(), &query)?.answer.rows;
/// assert_eq!(rows[0].verdict, Some(Verdict::Meets));
/// assert_eq!(rows[1].verdict, Some(Verdict::Fails));
/// assert_eq!(rows[2].says, NO_ROW);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn compare(book: &Rulebook, query: &CompareQuery) -> Result<Answer<SideBySide>, Error> {
    let names: Vec<&str> = if query.standards.is_empty() {
        book.standards()
            .iter()
            .map(|known| known.id.as_str())
            .collect()
    } else {
        query.standards.iter().map(String::as_str).collect()
    };
    let case = |standard| Case {
        standard,
        species: query.species,
        cut: query.cut,
        state: None,
        process: query.process.as_deref(),
        on: query.on,
    };
    let mut all = Basis::new(
        book,
        case(names.first().copied().unwrap_or(DEFAULT_STANDARD)),
    )?;
    let mut rows = Vec::new();
    for (place, standard) in names.into_iter().enumerate() {
        let title = known(book, standard, place)?.title.clone();
        let mut basis = Basis::new(book, case(standard))?;
        let own = |rule: &&Rule| rule.standard() == standard;
        let rules: Vec<_> = basis.every(query.topic).into_iter().filter(own).collect();
        for rule in &rules {
            basis.note(rule);
        }
        let first = rules.first().copied();
        let judged = first.map(|rule| judge(&rule.requirement, query.reading, query.duration));
        let (verdict, margin) = judged.flatten().unzip();
        rows.push(CompareRow {
            standard: standard.to_owned(),
            title,
            says: first.map_or_else(|| NO_ROW.to_owned(), |rule| rule.requirement.words()),
            rule: first.map(|rule| RuleRow::of(book, rule)),
            also: rules
                .iter()
                .skip(1)
                .map(|rule| RuleRow::of(book, rule))
                .collect(),
            verdict,
            margin: margin.flatten(),
        });
        all.absorb(basis);
    }
    Ok(all.finish(SideBySide {
        question: query.topic.question().to_owned(),
        rows,
    }))
}

/// The standard at a place of the list; an unknown one is named by its place.
fn known<'b>(book: &'b Rulebook, standard: &str, place: usize) -> Result<&'b Standard, Error> {
    book.standard(standard).map_err(|error| {
        Error::new(error.kind(), error.given(), error.expected()).at(&format!("standards[{place}]"))
    })
}

type Judged = Option<(Verdict, Option<Margin>)>;

/// Judges a reading, a time, or a reading that held for a time; `None` where the rule is no limit on what was given.
fn judge(
    requirement: &Requirement,
    reading: Option<Temperature>,
    duration: Option<Duration>,
) -> Judged {
    let by_time = |limit: &TimeLimit| duration.map(|taken| some_margin(limit.judge(taken)));
    match requirement {
        Requirement::Temperature { limit } => reading.map(|at| some_margin(limit.judge(at))),
        Requirement::MinimumTemperature {
            limit,
            hold,
            equivalents,
            ..
        } => Some(minimum(
            limit,
            hold.as_ref(),
            equivalents,
            reading?,
            duration,
        )),
        Requirement::Time {
            limit,
            surroundings: None,
            ..
        } => by_time(limit),
        Requirement::Time { limit, .. } => by_time(limit).map(|(verdict, margin)| {
            // A longer time may be fine in cooler surroundings.
            let fine = verdict == Verdict::Meets;
            (if fine { verdict } else { Verdict::CannotTell }, margin)
        }),
        Requirement::TimeAsControl { limit, .. } => by_time(limit).map(|(verdict, margin)| {
            // The start and the warmest part are not known here.
            (verdict.min(Verdict::CannotTell), margin)
        }),
        Requirement::Keep { high, .. } => {
            let limit = TimeLimit {
                is: crate::rules::Comparison::AtMost,
                duration: *high,
            };
            by_time(&limit)
        }
        Requirement::StagedCooling { .. } if reading.is_some() || duration.is_some() => {
            Some((Verdict::CannotTell, None))
        }
        _ => None,
    }
}

fn some_margin((verdict, margin): (Verdict, Margin)) -> (Verdict, Option<Margin>) {
    (verdict, Some(margin))
}

fn minimum(
    limit: &TemperatureLimit,
    hold: Option<&TimeLimit>,
    equivalents: &[HoldPoint],
    reading: Temperature,
    held: Option<Duration>,
) -> (Verdict, Option<Margin>) {
    let (at_limit, margin) = limit.judge(reading);
    let held_for = held.unwrap_or(Duration::ZERO);
    let listed = equivalents
        .iter()
        .any(|point| reading >= point.temperature && held_for >= point.hold);
    let verdict = match (at_limit, hold, held) {
        _ if listed => Verdict::Meets,
        (Verdict::Meets, Some(_), None) => Verdict::CannotTell,
        (Verdict::Meets, Some(hold), Some(held)) => hold.judge(held).0,
        (verdict, ..) => verdict,
    };
    (verdict, Some(margin))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(query: Value) -> Vec<CompareRow> {
        let query = serde_json::from_value(query).unwrap();
        compare(Rulebook::builtin(), &query).unwrap().answer.rows
    }

    #[test]
    fn no_topic_and_no_standard_leaves_a_blank() {
        let book = Rulebook::builtin();
        for &topic in Topic::ALL {
            let rows = ask(json!({"topic": topic.name()}));
            assert_eq!(rows.len(), book.standards().len());
            for row in rows {
                assert_eq!(
                    row.says == NO_ROW,
                    row.rule.is_none(),
                    "{} {}",
                    topic.name(),
                    row.standard
                );
                assert!(!row.says.is_empty() && !row.title.is_empty());
            }
        }
    }

    #[test]
    fn the_same_bird_under_every_standard() {
        use Verdict::{CannotTell, Fails, Meets};
        // Whole bird: US 165 °F, FSA 70 °C for 2 min, Scotland and Australia 75 °C, Canada 82 °C, MPI 70 °C for 3 min.
        let names = [
            "us-consumer",
            "uk",
            "scotland",
            "australia",
            "canada",
            "new-zealand",
        ];
        for (reading, held, expected) in [
            (
                "74 °C",
                Value::Null,
                [Meets, CannotTell, Fails, Fails, Fails, CannotTell],
            ),
            (
                "75 °C",
                json!("30 s"),
                [Meets, Meets, Meets, Meets, Fails, Meets],
            ),
            (
                "70 °C",
                json!("2 min"),
                [Fails, Meets, Fails, Fails, Fails, Fails],
            ),
            (
                "70 °C",
                json!("3 min"),
                [Fails, Meets, Fails, Fails, Fails, Meets],
            ),
            (
                "82 °C",
                json!("30 s"),
                [Meets, Meets, Meets, Meets, Meets, Meets],
            ),
            (
                "81.999 °C",
                json!("30 s"),
                [Meets, Meets, Meets, Meets, Fails, Meets],
            ),
        ] {
            let query = json!({"topic": "doneness.bird", "standards": names, "reading": reading, "duration": held});
            let found: Vec<_> = ask(query)
                .into_iter()
                .map(|row| row.verdict.unwrap())
                .collect();
            assert_eq!(found, expected, "{reading} {held}");
        }
    }

    #[test]
    fn an_unknown_standard_is_named_by_its_place() {
        let query = json!({"topic": "hold.hot", "standards": ["uk", "mars"]});
        let query = serde_json::from_value(query).unwrap();
        let error = compare(Rulebook::builtin(), &query).unwrap_err();
        assert_eq!(error.field(), "standards[1]");
    }
}
