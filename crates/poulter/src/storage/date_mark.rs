//! Date marking of ready-to-eat food: seven days at cold holding, with the days in the freezer left out.

use jiff::ToSpan;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic, Verdict};
use crate::serve::judge_worst;
use crate::units::{Temperature, TemperatureDifference};

/// A stay in the freezer.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Frozen {
    /// The day it went in; this day still counts.
    #[schemars(with = "String")]
    pub from: Date,
    /// The day it came out; this day counts again. None while it is still frozen.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub to: Option<Date>,
}

/// "Until when may this ready-to-eat food be used?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DateMarkQuery {
    /// The day of preparation or opening of every part that needs a mark; the oldest one counts.
    #[schemars(with = "Vec<String>")]
    pub prepared: Vec<Date>,
    /// Stays in the freezer, in order.
    #[serde(default)]
    pub frozen: Vec<Frozen>,
    /// The day of the question.
    #[schemars(with = "String")]
    pub today: Date,
    /// The warmest it was held; none where it was not measured.
    #[serde(default)]
    pub warmest: Option<Temperature>,
    /// The standard; `us-food-code-2022` when left out.
    #[serde(default = "crate::serve::food_code")]
    pub standard: String,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

/// The answer about a date mark.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct DateMark {
    /// Whether the food may be used on the day of the question.
    pub verdict: Verdict,
    /// Days that count up to and with that day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days_used: Option<i64>,
    /// The last day of use; none while the food is frozen, since the count is stopped.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub last_day: Option<Date>,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// The last day on which marked food may be used.
///
/// `last day = oldest preparation + 7 d − 1 d + days wholly in the freezer`: the day of preparation is day 1, and the
/// days of freezing and of taking out both count. Food held above the cold limit fails; with no reading, and with dates
/// that run backward or overlap, nobody can tell.
///
/// Errors: an unknown standard, one without date marking, no date of preparation, or a date outside the calendar.
///
/// Source: Food Code 3-501.17.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::storage::{DateMarkQuery, date_mark};
/// let query: DateMarkQuery = serde_json::from_str(
///     r#"{"prepared": ["2026-11-02", "2026-11-01"], "today": "2026-11-07", "warmest": "41 °F"}"#,
/// )?;
/// let answer = date_mark(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.last_day.map(|day| day.to_string()).as_deref(), Some("2026-11-07"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn date_mark(book: &Rulebook, query: &DateMarkQuery) -> Result<Answer<DateMark>, Error> {
    let case = Case {
        standard: &query.standard,
        species: Species::Turkey,
        cut: Cut::Whole,
        state: None,
        process: None,
        on: query.on,
    };
    let mut basis = Basis::new(book, case)?;
    let Some(&oldest) = query.prepared.iter().min() else {
        let expected = "at least one day of preparation is needed";
        return Err(Error::new(ErrorKind::MissingField, "[]", expected).at("prepared"));
    };
    let stopped = days_frozen(query, oldest);
    let mut value = DateMark {
        verdict: Verdict::CannotTell,
        days_used: None,
        last_day: None,
        findings: Vec::new(),
        to_do: Vec::new(),
    };
    for rule in basis.must_judge(Topic::KeepDateMark)? {
        let Requirement::Keep { high, .. } = rule.requirement else {
            continue;
        };
        let allowed = high.steps().div_euclid(86_400_000);
        let finding = match &stopped {
            Err(why) => Finding::verdict(Verdict::CannotTell, *why, rule, None),
            Ok(stopped) => {
                let used = days_between(oldest, query.today) + 1 - stopped.days;
                if !stopped.still {
                    let last = add_days(oldest, allowed - 1 + stopped.days)?;
                    value.last_day = Some(value.last_day.map_or(last, |known| known.min(last)));
                }
                value.days_used = Some(used);
                by_days(rule, used, allowed)
            }
        };
        value.findings.push(finding);
    }
    for rule in basis.must_judge(Topic::HoldCold)? {
        if let Requirement::Temperature { limit } = &rule.requirement {
            let exact = TemperatureDifference::ZERO;
            value
                .findings
                .push(judge_worst(rule, limit, &[query.warmest], exact).1);
        }
    }
    value.verdict = Verdict::worst(value.findings.iter().filter_map(|finding| finding.verdict));
    let next = match value.verdict {
        Verdict::Meets => "Keep the mark on the food, and discard what is left after the last day.",
        Verdict::Fails => "Discard the food.",
        Verdict::CannotTell => "Discard food whose days or temperature nobody can show.",
    };
    value.to_do.push(next.to_owned());
    Ok(basis.finish(value))
}

struct Stopped {
    days: i64,
    still: bool,
}

/// Days that lie wholly in the freezer, up to the day of the question.
fn days_frozen(query: &DateMarkQuery, oldest: Date) -> Result<Stopped, &'static str> {
    if query.today < oldest {
        return Err("The day of the question lies before the preparation.");
    }
    let (mut days, mut still, mut last) = (0, false, oldest);
    for stay in &query.frozen {
        let to = stay.to.unwrap_or(query.today);
        if still || stay.from < last || to < stay.from || to > query.today {
            return Err("The stays in the freezer do not run forward in time.");
        }
        // While it is frozen the day of the question is frozen too; a day of taking out counts.
        let whole = days_between(stay.from, to) - i64::from(stay.to.is_some());
        days += whole.max(0);
        still = stay.to.is_none();
        last = to;
    }
    Ok(Stopped { days, still })
}

fn by_days(rule: &Rule, used: i64, allowed: i64) -> Finding {
    let verdict = if used <= allowed {
        Verdict::Meets
    } else {
        Verdict::Fails
    };
    let text = format!("Day {used} of {allowed}; the day of preparation is day 1.");
    Finding::verdict(verdict, text, rule, None)
}

/// Whole days from one date to a later one.
fn days_between(from: Date, to: Date) -> i64 {
    from.duration_until(to).as_hours().div_euclid(24)
}

fn add_days(day: Date, days: i64) -> Result<Date, Error> {
    day.checked_add(days.days()).map_err(|error| {
        Error::new(
            ErrorKind::BadMoment,
            day,
            format!("a date of the calendar is needed: {error}"),
        )
        .at("prepared")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(changes: &Value) -> DateMark {
        let mut query =
            json!({"prepared": ["2026-10-01"], "today": "2026-10-02", "warmest": "41 °F"});
        for (key, value) in changes.as_object().unwrap() {
            query[key] = value.clone();
        }
        let query = serde_json::from_value(query).unwrap();
        date_mark(Rulebook::builtin(), &query).unwrap().answer
    }

    #[test]
    fn the_seventh_day_is_the_last() {
        use Verdict::{CannotTell, Fails, Meets};
        // Food Code 3-501.17: the day of preparation is day 1, 7 days at 41 °F or below.
        for (changes, expected) in [
            (json!({"today": "2026-10-06"}), Meets),
            (json!({"today": "2026-10-07"}), Meets),
            (json!({"today": "2026-10-08"}), Fails),
            (json!({"today": "2026-09-30"}), CannotTell),
            (json!({"warmest": "40.999 °F"}), Meets),
            (json!({"warmest": "5 °C"}), Meets),
            (json!({"warmest": "41.001 °F"}), Fails),
            (json!({"warmest": null}), CannotTell),
            (
                json!({"prepared": ["2026-10-05", "2026-10-01"], "today": "2026-10-08"}),
                Fails,
            ),
        ] {
            assert_eq!(ask(&changes).verdict, expected, "{changes}");
        }
    }

    #[test]
    fn the_freezer_stops_the_count() {
        // Four days used when it goes in, so three are left when it comes out: counted by hand on a calendar.
        let thawed = |today: &str| {
            ask(&json!({"frozen": [{"from": "2026-10-04", "to": "2026-11-04"}], "today": today}))
        };
        for (today, used, expected) in [
            ("2026-11-04", 5, Verdict::Meets),
            ("2026-11-06", 7, Verdict::Meets),
            ("2026-11-07", 8, Verdict::Fails),
        ] {
            let found = thawed(today);
            assert_eq!(
                (found.days_used, found.verdict),
                (Some(used), expected),
                "{today}"
            );
            assert_eq!(
                found.last_day.map(|day| day.to_string()).as_deref(),
                Some("2026-11-06")
            );
        }
        let still = ask(&json!({"frozen": [{"from": "2026-10-04"}], "today": "2027-03-01"}));
        assert_eq!(
            (still.days_used, still.last_day, still.verdict),
            (Some(4), None, Verdict::Meets)
        );
        let same_day = ask(
            &json!({"frozen": [{"from": "2026-10-02", "to": "2026-10-02"}], "today": "2026-10-08"}),
        );
        assert_eq!(same_day.verdict, Verdict::Fails);
        let backward = ask(&json!({"frozen": [{"from": "2026-10-02", "to": "2026-10-01"}]}));
        assert_eq!(backward.verdict, Verdict::CannotTell);
    }
}
