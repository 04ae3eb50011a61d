//! Time in place of temperature, as the Food Code allows it in two options.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{
    Case, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, Temperature, TemperatureDifference};

use super::holding::{Side, judge_worst};

/// The two options.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TimeControlOption {
    /// Four hours, from hot or from cold.
    FourHours,
    /// Six hours, from cold only, below a ceiling.
    SixHours,
}

impl TimeControlOption {
    const fn hours(self) -> i64 {
        match self {
            Self::FourHours => 4,
            Self::SixHours => 6,
        }
    }
}

/// "May this food still be served under time control?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimeControlCheck {
    /// Four or six hours.
    pub option: TimeControlOption,
    /// Whether the food came from hot or from cold holding.
    pub from: Side,
    /// Its temperature when control ended.
    #[serde(default)]
    pub start: Option<Temperature>,
    /// The warmest part since then; none where a reading was missed. Needed for six hours.
    #[serde(default)]
    pub warmest: Vec<Option<Temperature>>,
    /// Time since control ended.
    #[serde(default)]
    pub elapsed: Option<Duration>,
    /// Whether the food is marked with its time.
    #[serde(default)]
    pub marked: Option<bool>,
    /// Whether a written procedure is on site.
    #[serde(default)]
    pub procedure: Option<bool>,
    /// The standard; `us-food-code-2022` when left out.
    #[serde(default = "food_code")]
    pub standard: String,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

pub(crate) fn food_code() -> String {
    "us-food-code-2022".to_owned()
}

/// The judgement of food under time control.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TimeControlVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges food held by time instead of temperature.
///
/// The start, the time, for six hours the warmest part, the marking and the written procedure must all be in order;
/// what is not known is `CannotTell`. Six hours from hot are not allowed.
///
/// Errors: an unknown standard, or one without time control.
///
/// Source: Food Code 3-501.19(B) and (C).
///
/// ```
/// use poulter::rules::{Rulebook, Verdict};
/// use poulter::serve::{TimeControlCheck, check_time_control};
/// let check: TimeControlCheck = serde_json::from_str(
///     r#"{"option": "six-hours", "from": "cold", "start": "41 °F", "warmest": ["70 °F"],
///         "elapsed": "5 h 59 min", "marked": true, "procedure": true}"#,
/// )?;
/// assert_eq!(check_time_control(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_time_control(
    book: &Rulebook,
    check: &TimeControlCheck,
) -> Result<Answer<TimeControlVerdict>, Error> {
    let case = Case {
        standard: &check.standard,
        species: Species::Turkey,
        cut: Cut::Whole,
        state: None,
        process: None,
        on: check.on,
    };
    let mut basis = Basis::new(book, case)?;
    let topic = match check.from {
        Side::Hot => Topic::HoldTimeControl,
        Side::Cold => Topic::HoldTimeControlCold,
    };
    let every = basis.every(topic);
    let Some(first) = every.first().copied() else {
        return Err(Error::new(
            ErrorKind::NoPublishedRow,
            &check.standard,
            "a standard with time control is needed, such as us-food-code-2022",
        )
        .at("standard"));
    };
    let mut own = false;
    let mut findings = Vec::new();
    for rule in every {
        let Requirement::TimeAsControl {
            start,
            ceiling,
            limit,
        } = &rule.requirement
        else {
            continue;
        };
        let chosen = limit.duration.steps() == check.option.hours() * 3_600_000;
        if rule.added_by_caller || (chosen && !own) {
            own |= !rule.added_by_caller;
            basis.note(rule);
            findings.extend(judge(check, rule, start, ceiling.as_ref(), limit));
        }
    }
    if !own {
        basis.note(first);
        let text = format!(
            "{} h are not allowed here; the rule is: {}.",
            check.option.hours(),
            first.requirement.words()
        );
        findings.push(Finding::verdict(Verdict::Fails, text, first, None));
    }
    for (known, what) in [
        (check.marked, "The food is marked with its time"),
        (check.procedure, "A written procedure is on site"),
    ] {
        let (verdict, says) = match known {
            Some(true) => (Verdict::Meets, "yes"),
            Some(false) => (Verdict::Fails, "no"),
            None => (Verdict::CannotTell, "not known"),
        };
        findings.push(Finding::verdict(
            verdict,
            format!("{what}: {says}."),
            first,
            None,
        ));
    }
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let next = match verdict {
        Verdict::Meets => "Serve or discard the food before the time marked on it.",
        Verdict::Fails => "Discard the food.",
        Verdict::CannotTell => {
            "Find out what is not known; until then treat the food as over its time."
        }
    };
    Ok(basis.finish(TimeControlVerdict {
        verdict,
        findings,
        to_do: vec![next.to_owned()],
    }))
}

fn judge(
    check: &TimeControlCheck,
    rule: &Rule,
    start: &TemperatureLimit,
    ceiling: Option<&TemperatureLimit>,
    limit: &TimeLimit,
) -> Vec<Finding> {
    let exact = TemperatureDifference::ZERO;
    let mut findings = vec![judge_worst(rule, start, &[check.start], exact).1];
    findings[0].text = format!("At the start: {}", findings[0].text);
    if let Some(ceiling) = ceiling {
        let mut finding = judge_worst(rule, ceiling, &check.warmest, exact).1;
        finding.text = format!("The warmest part: {}", finding.text);
        findings.push(finding);
    }
    findings.push(by_clock(rule, limit, check.elapsed));
    findings
}

fn by_clock(rule: &Rule, limit: &TimeLimit, elapsed: Option<Duration>) -> Finding {
    let Some(elapsed) = elapsed else {
        let text = format!("The time is not known; {} is allowed.", limit.shown());
        return Finding::verdict(Verdict::CannotTell, text, rule, None);
    };
    let (verdict, margin) = limit.judge(elapsed);
    let text = format!("{} so far; {} is allowed.", elapsed.shown(), limit.shown());
    Finding::verdict(verdict, text, rule, Some(margin))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn judge(changes: &Value) -> Verdict {
        let mut request = json!({"option": "six-hours", "from": "cold", "start": "41 °F", "warmest": ["60 °F"],
            "elapsed": "3 h", "marked": true, "procedure": true});
        for (key, value) in changes.as_object().unwrap() {
            request[key] = value.clone();
        }
        let check = serde_json::from_value(request).unwrap();
        check_time_control(Rulebook::builtin(), &check)
            .unwrap()
            .answer
            .verdict
    }

    #[test]
    fn every_part_is_judged_under_at_and_over() {
        use Verdict::{CannotTell, Fails, Meets};
        // Food Code 3-501.19(B) and (C).
        for (changes, expected) in [
            (json!({"start": "40.999 °F"}), Meets),
            (json!({"start": "5 °C"}), Meets),
            (json!({"start": "41.001 °F"}), Fails),
            (json!({"start": null}), CannotTell),
            (json!({"warmest": ["69.999 °F"]}), Meets),
            (json!({"warmest": ["70 °F"]}), Meets),
            (json!({"warmest": ["70.001 °F"]}), Fails),
            (json!({"warmest": ["21.112 °C"]}), Fails),
            (json!({"warmest": []}), CannotTell),
            (json!({"warmest": ["60 °F", null]}), CannotTell),
            (json!({"elapsed": "5 h 59 min"}), Meets),
            (json!({"elapsed": "6 h"}), Meets),
            (json!({"elapsed": "6 h 1 s"}), Fails),
            (json!({"elapsed": null}), CannotTell),
            (json!({"marked": false}), Fails),
            (json!({"marked": null}), CannotTell),
            (json!({"procedure": false}), Fails),
            (json!({"procedure": null}), CannotTell),
            (json!({"from": "hot", "start": "140 °F"}), Fails),
            (
                json!({"option": "four-hours", "elapsed": "4 h", "warmest": []}),
                Meets,
            ),
            (json!({"option": "four-hours", "elapsed": "4 h 1 s"}), Fails),
            (
                json!({"option": "four-hours", "from": "hot", "start": "134.999 °F"}),
                Fails,
            ),
            (
                json!({"option": "four-hours", "from": "hot", "start": "135 °F"}),
                Meets,
            ),
            (
                json!({"option": "four-hours", "from": "hot", "start": "135.001 °F"}),
                Meets,
            ),
        ] {
            assert_eq!(judge(&changes), expected, "{changes}");
        }
    }

    #[test]
    fn a_standard_without_time_control_is_refused() {
        let check = serde_json::from_value(
            json!({"option": "four-hours", "from": "hot", "standard": "uk"}),
        )
        .unwrap();
        let error = check_time_control(Rulebook::builtin(), &check).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::NoPublishedRow, "standard")
        );
    }
}
