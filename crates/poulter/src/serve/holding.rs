//! Hot and cold holding judged, with the single period of display that some laws allow.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::doneness::refuse_negative;
use crate::error::Error;
use crate::rules::{
    Case, Counting, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, Temperature, TemperatureDifference};

/// Whether food is held hot or cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// Held hot.
    Hot,
    /// Held cold.
    Cold,
}

/// A period of display outside the limit.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Display {
    /// How long the food has been outside the limit in this period.
    #[serde(default)]
    pub out_for: Option<Duration>,
    /// Whether it was displayed this way before.
    #[serde(default)]
    pub before: Option<bool>,
}

/// "Is this food held hot or cold enough?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoldingCheck {
    /// Held hot or cold.
    pub side: Side,
    /// The readings; none where one was missed. The worst one counts.
    pub temperatures: Vec<Option<Temperature>>,
    /// How long it has been held; judged where the standard limits it.
    #[serde(default)]
    pub held_for: Option<Duration>,
    /// The period of display, where the food is served from a display.
    #[serde(default)]
    pub display: Option<Display>,
    /// How far the thermometer may be wrong; counted against every reading.
    #[serde(default)]
    pub accuracy: Option<TemperatureDifference>,
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

/// The judgement of holding.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HoldingVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges readings of food held hot or cold.
///
/// The worst reading counts. A reading outside the limit fails, unless the standard allows one period of display, the
/// food is on display, the period is short enough and it is the first one. A missed reading, a display of unknown
/// length or history, or a rule without a figure can give only `CannotTell` or `Fails`.
///
/// Errors: an unknown standard, one without a rule for holding, or a negative accuracy.
///
/// Sources: the rules cited in the answer; for the display periods of England, Wales and Northern Ireland, Schedule 4
/// of their food hygiene regulations, paragraphs 5 and 7.
///
/// ```
/// use poulter::rules::{Rulebook, Verdict};
/// use poulter::serve::{HoldingCheck, check_holding};
/// let check: HoldingCheck = serde_json::from_str(
///     r#"{"side": "hot", "temperatures": ["60 °C"], "standard": "uk",
///         "display": {"out_for": "1 h 59 min", "before": false}}"#,
/// )?;
/// assert_eq!(check_holding(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_holding(
    book: &Rulebook,
    check: &HoldingCheck,
) -> Result<Answer<HoldingVerdict>, Error> {
    refuse_negative(check.accuracy)?;
    let case = Case::of(&check.standard, check.species, check.cut, check.on);
    let mut basis = Basis::new(book, case)?;
    let topic = match check.side {
        Side::Hot => Topic::HoldHot,
        Side::Cold => Topic::HoldCold,
    };
    let mut findings = Vec::new();
    for rule in basis.must_judge(topic)? {
        match &rule.requirement {
            Requirement::Temperature { limit } => {
                let (verdict, finding) = judge_worst(
                    rule,
                    limit,
                    &check.temperatures,
                    check.accuracy.unwrap_or(TemperatureDifference::ZERO),
                );
                match (verdict, check.display) {
                    (Verdict::Fails, Some(display)) => {
                        let mut finding = on_display(&mut basis, check.side, display, finding);
                        if check.temperatures.contains(&None) {
                            finding.verdict = finding.verdict.min(Some(Verdict::CannotTell));
                        }
                        findings.push(finding);
                    }
                    _ => findings.push(finding),
                }
            }
            other => findings.push(Finding::verdict(
                Verdict::CannotTell,
                format!("The rule sets no figure: {}", other.words()),
                rule,
                None,
            )),
        }
    }
    if check.side == Side::Hot
        && let Some(held) = check.held_for
    {
        for rule in basis.judging(Topic::HoldHotTime) {
            if let Requirement::Time { limit, .. } = &rule.requirement {
                findings.push(held_hot(rule, limit, held));
            }
        }
    }
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    Ok(basis.finish(HoldingVerdict {
        verdict,
        findings,
        to_do: next_steps(verdict, check.side),
    }))
}

/// Judges the reading that lies furthest on the unsafe side; a missed one leaves the rest in doubt.
pub(crate) fn judge_worst(
    rule: &Rule,
    limit: &TemperatureLimit,
    readings: &[Option<Temperature>],
    accuracy: TemperatureDifference,
) -> (Verdict, Finding) {
    let known = readings.iter().flatten().copied();
    let wants_more = limit.wants_more();
    let worst = if wants_more { known.min() } else { known.max() };
    let Some(worst) = worst else {
        let text = format!("No reading; {} is needed.", limit.shown());
        let verdict = Verdict::CannotTell;
        return (verdict, Finding::verdict(verdict, text, rule, None));
    };
    let sure = if wants_more {
        worst.raised_by(TemperatureDifference::ZERO.minus(accuracy))
    } else {
        worst.raised_by(accuracy)
    };
    let (mut verdict, margin) = limit.judge(sure);
    let mut text = format!("The worst reading is {worst}; {} is needed.", limit.shown());
    if readings.contains(&None) {
        verdict = verdict.min(Verdict::CannotTell);
        text += " A reading was missed.";
    }
    (verdict, Finding::verdict(verdict, text, rule, Some(margin)))
}

/// What one period of display makes of a reading outside the limit.
fn on_display(basis: &mut Basis<'_>, side: Side, display: Display, outside: Finding) -> Finding {
    let usual = basis.case.process;
    if side == Side::Cold {
        basis.case.process = Some("cold-display");
    }
    let allowed =
        basis
            .every(Topic::HoldOut)
            .into_iter()
            .find_map(|rule| match &rule.requirement {
                Requirement::Time {
                    limit,
                    counting: Counting::Once,
                    ..
                } => Some((rule, *limit)),
                _ => None,
            });
    basis.case.process = usual;
    let Some((rule, limit)) = allowed else {
        return outside;
    };
    basis.note(rule);
    let begin = format!(
        "{} One period of display of {} is allowed",
        outside.text,
        limit.shown()
    );
    let found = |verdict, text: String, margin| Finding::verdict(verdict, text, rule, margin);
    match (display.before, display.out_for) {
        (Some(true), _) => found(
            Verdict::Fails,
            format!("{begin}; this is not the first."),
            None,
        ),
        (before, Some(taken)) => {
            let (in_time, margin) = limit.judge(taken);
            let taken = taken.shown();
            match (in_time, before) {
                (Verdict::Meets, None) => {
                    let text = format!(
                        "{begin}; {taken} so far, and whether it is the first is not known."
                    );
                    found(Verdict::CannotTell, text, Some(margin))
                }
                (verdict, _) => found(verdict, format!("{begin}; {taken} so far."), Some(margin)),
            }
        }
        (_, None) => {
            let text = format!("{begin}; how long it has lasted is not known.");
            found(Verdict::CannotTell, text, None)
        }
    }
}

fn held_hot(rule: &Rule, limit: &TimeLimit, held: Duration) -> Finding {
    let (verdict, margin) = limit.judge(held);
    let text = format!(
        "Held hot for {}; {} is allowed. {}",
        held.shown(),
        limit.shown(),
        rule.note
    );
    Finding::verdict(verdict, text.trim_end(), rule, Some(margin))
}

fn next_steps(verdict: Verdict, side: Side) -> Vec<String> {
    let text = match (verdict, side) {
        (Verdict::Meets, _) => "Write down the time and the reading, and measure again.",
        (Verdict::Fails, Side::Hot) => {
            "Find out how long the food has been too cool; reheat it or discard it by the rules for food that stands out."
        }
        (Verdict::Fails, Side::Cold) => {
            "Find out how long the food has been too warm; chill it or discard it by the rules for food that stands out."
        }
        (Verdict::CannotTell, _) => "Measure the food itself, and treat it as unsafe until then.",
    };
    vec![text.to_owned()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judge(json: &str) -> Verdict {
        let check = serde_json::from_str(json).unwrap();
        check_holding(Rulebook::builtin(), &check)
            .unwrap()
            .answer
            .verdict
    }

    #[test]
    fn every_limit_is_judged_under_at_and_over_in_both_units() {
        use Verdict::{Fails, Meets};
        // FSIS Danger Zone; Food Code 3-501.16(A); Schedule 4 (E/W/NI and Scotland); Std 3.2.2; O. Reg. 74/04.
        for (standard, side, readings, verdicts) in [
            (
                "us-consumer",
                "hot",
                ["139.999 °F", "60 °C", "140.001 °F"],
                [Fails, Meets, Meets],
            ),
            (
                "us-consumer",
                "cold",
                ["39.999 °F", "40 °F", "40.001 °F"],
                [Meets, Meets, Fails],
            ),
            (
                "us-food-code-2022",
                "hot",
                ["134.999 °F", "135 °F", "57.223 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "us-food-code-2022",
                "cold",
                ["40.999 °F", "5 °C", "5.001 °C"],
                [Meets, Meets, Fails],
            ),
            (
                "uk",
                "hot",
                ["62.999 °C", "63 °C", "145.401 °F"],
                [Fails, Meets, Meets],
            ),
            (
                "uk",
                "cold",
                ["7.999 °C", "8 °C", "46.401 °F"],
                [Meets, Meets, Fails],
            ),
            (
                "scotland",
                "hot",
                ["62.999 °C", "63 °C", "63.001 °C"],
                [Fails, Fails, Meets],
            ),
            (
                "australia",
                "hot",
                ["59.999 °C", "140 °F", "60.001 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "canada",
                "cold",
                ["3.999 °C", "4 °C", "4.001 °C"],
                [Meets, Meets, Fails],
            ),
            (
                "new-zealand",
                "cold",
                ["40.999 °F", "41 °F", "41.001 °F"],
                [Meets, Meets, Fails],
            ),
        ] {
            for (reading, expected) in readings.into_iter().zip(verdicts) {
                let json = format!(
                    r#"{{"side": "{side}", "standard": "{standard}", "temperatures": ["{reading}"]}}"#
                );
                assert_eq!(judge(&json), expected, "{json}");
            }
        }
    }

    #[test]
    fn one_display_of_less_than_two_or_four_hours_is_a_defence() {
        use Verdict::{CannotTell, Fails, Meets};
        // Schedule 4, paragraphs 5 and 7: "less than", so the full time fails.
        for (side, reading, display, expected) in [
            (
                "hot",
                "59 °C",
                r#"{"out_for": "1:59", "before": false}"#,
                Meets,
            ),
            (
                "hot",
                "59 °C",
                r#"{"out_for": "2 h", "before": false}"#,
                Fails,
            ),
            (
                "hot",
                "59 °C",
                r#"{"out_for": "2 h 1 s", "before": false}"#,
                Fails,
            ),
            (
                "hot",
                "59 °C",
                r#"{"out_for": "30 min", "before": true}"#,
                Fails,
            ),
            ("hot", "59 °C", r#"{"out_for": "30 min"}"#, CannotTell),
            ("hot", "59 °C", r#"{"before": false}"#, CannotTell),
            ("hot", "63 °C", r"{}", Meets),
            (
                "cold",
                "12 °C",
                r#"{"out_for": "3 h 59 min", "before": false}"#,
                Meets,
            ),
            (
                "cold",
                "12 °C",
                r#"{"out_for": "4 h", "before": false}"#,
                Fails,
            ),
            (
                "cold",
                "12 °C",
                r#"{"out_for": "4 h 1 s", "before": false}"#,
                Fails,
            ),
        ] {
            let display = display.replace("1:59", "1 h 59 min");
            let json = format!(
                r#"{{"side": "{side}", "standard": "uk", "temperatures": ["{reading}"], "display": {display}}}"#
            );
            assert_eq!(judge(&json), expected, "{json}");
            // Elsewhere no period of display is allowed.
            let elsewhere = json.replace("uk", "australia");
            assert_eq!(
                judge(&elsewhere) == Meets,
                reading == "63 °C",
                "{elsewhere}"
            );
        }
    }

    #[test]
    fn what_is_missing_is_never_safe() {
        use Verdict::{CannotTell, Fails};
        for (json, expected) in [
            (r#"{"side": "hot", "temperatures": []}"#, CannotTell),
            (r#"{"side": "hot", "temperatures": [null]}"#, CannotTell),
            (
                r#"{"side": "hot", "temperatures": ["150 °F", null]}"#,
                CannotTell,
            ),
            (
                r#"{"side": "hot", "temperatures": ["130 °F", null]}"#,
                Fails,
            ),
            (
                r#"{"side": "cold", "standard": "scotland", "temperatures": ["2 °C"]}"#,
                CannotTell,
            ),
            (
                r#"{"side": "hot", "temperatures": ["141 °F"], "accuracy": "2 delta_degF"}"#,
                Fails,
            ),
            (
                r#"{"side": "cold", "temperatures": ["39 °F"], "accuracy": "2 delta_degF"}"#,
                Fails,
            ),
            (
                r#"{"side": "hot", "standard": "uk", "temperatures": ["59 °C", null],
                    "display": {"out_for": "1 h", "before": false}}"#,
                CannotTell,
            ),
        ] {
            assert_eq!(judge(json), expected, "{json}");
        }
    }
}
