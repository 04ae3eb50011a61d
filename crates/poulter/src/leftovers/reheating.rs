//! Reheating judged: the temperature at every place, how long it held, and how long the way there took.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Place, Species};
use crate::doneness::{Minimum, refuse_negative};
use crate::error::Error;
use crate::rules::{Case, Requirement, RuleKind, Rulebook, Topic, Verdict};
use crate::units::{Duration, Temperature, TemperatureDifference};

/// "Is this food reheated?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReheatingCheck {
    /// Readings of the coldest parts; none where one was missed. The lowest one counts.
    pub temperatures: Vec<Option<Temperature>>,
    /// How long every reading has held; needed where the standard asks for a time.
    #[serde(default)]
    pub held: Option<Duration>,
    /// How long the way from cold to hot took; needed where the standard limits it.
    #[serde(default)]
    pub taken: Option<Duration>,
    /// A process of the standard, such as `microwave`, `commercially-packaged` or `immediate-service`.
    #[serde(default)]
    pub process: Option<String>,
    /// How far the thermometer may be wrong; taken off every reading.
    #[serde(default)]
    pub accuracy: Option<TemperatureDifference>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut; parts when left out, since a whole bird is carved before it is reheated.
    #[serde(default = "parts")]
    pub cut: Cut,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

const fn parts() -> Cut {
    Cut::Parts
}

/// The judgement of reheating.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReheatingVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges reheated food by the minimum of a standard, its hold and its time.
///
/// The lowest reading counts. A missed reading, an unknown hold where one is asked for, or an unknown time where a code
/// limits it can give only `CannotTell` or `Fails`; where the time is advice and not known, it is only told.
///
/// Errors: an unknown standard, one without a rule for reheating, or a negative accuracy.
///
/// ```
/// use poulter::leftovers::{ReheatingCheck, check_reheating};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: ReheatingCheck = serde_json::from_str(r#"{"temperatures": ["166 °F"], "standard": "scotland"}"#)?;
/// assert_eq!(check_reheating(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_reheating(
    book: &Rulebook,
    check: &ReheatingCheck,
) -> Result<Answer<ReheatingVerdict>, Error> {
    refuse_negative(check.accuracy)?;
    let case = Case {
        process: check.process.as_deref(),
        ..Case::of(&check.standard, check.species, check.cut, check.on)
    };
    let mut basis = Basis::new(book, case)?;
    let lowest = check.temperatures.iter().flatten().min().copied();
    let mut findings = Vec::new();
    for rule in basis.must_judge(Topic::Reheat)? {
        let Some((minimum, _)) = Minimum::of(rule) else {
            let text = format!("The rule sets no figure: {}", rule.requirement.words());
            findings.push(Finding::verdict(Verdict::CannotTell, text, rule, None));
            continue;
        };
        let mut finding = minimum.judge(Place::Core, lowest, check.held, check.accuracy);
        if lowest.is_some() && check.temperatures.contains(&None) {
            finding.verdict = finding.verdict.min(Some(Verdict::CannotTell));
            finding.text += "; a reading was missed";
        }
        findings.push(finding);
    }
    for rule in basis.judging(Topic::ReheatTime) {
        let Requirement::Time { limit, .. } = &rule.requirement else {
            continue;
        };
        findings.push(match check.taken {
            Some(taken) => {
                let (verdict, margin) = limit.judge(taken);
                let text = format!(
                    "Reheated in {}; {} is allowed.",
                    taken.shown(),
                    limit.shown()
                );
                Finding::verdict(verdict, text, rule, Some(margin))
            }
            None if rule.kind == RuleKind::Requirement => {
                let text = format!("The time is not known; {} is allowed.", limit.shown());
                Finding::verdict(Verdict::CannotTell, text, rule, None)
            }
            None => Finding::advice(format!("Reheat in {}.", limit.shown()), Some(rule)),
        });
    }
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let next = match verdict {
        Verdict::Meets => "Serve the food, or hold it hot; do not reheat it again.",
        Verdict::Fails => {
            "Go on heating at once while the time allows, and discard the food when it does not."
        }
        Verdict::CannotTell => "Measure the coldest part, and note the time.",
    };
    for topic in [Topic::ReheatWhole, Topic::ReheatGravy] {
        basis.find(topic);
    }
    Ok(basis.finish(ReheatingVerdict {
        verdict,
        findings,
        to_do: vec![next.to_owned()],
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn judge(standard: &str, reading: &str, held: &Value, taken: &Value) -> Verdict {
        let check =
            json!({"standard": standard, "temperatures": [reading], "held": held, "taken": taken});
        let check = serde_json::from_value(check).unwrap();
        check_reheating(Rulebook::builtin(), &check)
            .unwrap()
            .answer
            .verdict
    }

    #[test]
    fn every_minimum_is_judged_under_at_and_over() {
        use Verdict::{Fails, Meets};
        // FSIS; Food Code 3-403.11; SSI 2006/3; Health Canada; Std 3.2.2; MPI.
        for (standard, readings, verdicts) in [
            (
                "us-consumer",
                ["164.999 °F", "165 °F", "73.889 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "us-food-code-2022",
                ["164.999 °F", "165 °F", "165.001 °F"],
                [Fails, Meets, Meets],
            ),
            (
                "scotland",
                ["81.999 °C", "82 °C", "82.001 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "canada",
                ["73.999 °C", "74 °C", "74.001 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "australia",
                ["59.999 °C", "140 °F", "60.001 °C"],
                [Fails, Meets, Meets],
            ),
            (
                "new-zealand",
                ["74.999 °C", "75 °C", "75.001 °C"],
                [Fails, Meets, Meets],
            ),
        ] {
            for (reading, expected) in readings.into_iter().zip(verdicts) {
                let found = judge(standard, reading, &json!("15 s"), &json!("1 h"));
                assert_eq!(found, expected, "{standard} {reading}");
            }
        }
    }

    #[test]
    fn hold_and_time_are_judged_under_at_and_over() {
        use Verdict::{CannotTell, Fails, Meets};
        // Food Code 3-403.11(A) and (D): 15 s, within 2 h.
        for (held, taken, expected) in [
            (json!("14.999 s"), json!("1 h"), Fails),
            (json!("15 s"), json!("1 h"), Meets),
            (json!("15.001 s"), json!("1 h"), Meets),
            (Value::Null, json!("1 h"), CannotTell),
            (json!("15 s"), json!("1 h 59 min"), Meets),
            (json!("15 s"), json!("2 h"), Meets),
            (json!("15 s"), json!("2 h 1 s"), Fails),
            (json!("15 s"), Value::Null, CannotTell),
        ] {
            assert_eq!(
                judge("us-food-code-2022", "165 °F", &held, &taken),
                expected,
                "{held} {taken}"
            );
        }
        // FSA list: 70 °C for 2 min, 75 °C for 30 s, 80 °C for 6 s.
        for (reading, held, expected) in [
            ("70 °C", "1 min 59 s", Fails),
            ("70 °C", "2 min", Meets),
            ("70 °C", "2 min 1 s", Meets),
            ("75 °C", "29 s", Fails),
            ("75 °C", "30 s", Meets),
            ("80 °C", "6 s", Meets),
        ] {
            assert_eq!(
                judge("uk", reading, &json!(held), &Value::Null),
                expected,
                "{reading} {held}"
            );
        }
        // Ideally within 2 h in Australia: an unknown time is told, a long one fails.
        assert_eq!(
            judge("australia", "60 °C", &Value::Null, &Value::Null),
            Meets
        );
        assert_eq!(
            judge("australia", "60 °C", &Value::Null, &json!("2 h 1 s")),
            Fails
        );
    }

    #[test]
    fn a_process_has_its_own_rule_and_a_missed_reading_is_never_safe() {
        let judge = |check: Value| {
            let check = serde_json::from_value(check).unwrap();
            let answer = check_reheating(Rulebook::builtin(), &check).unwrap();
            answer.answer.verdict
        };
        let packaged = json!({"standard": "us-food-code-2022", "process": "commercially-packaged",
            "temperatures": ["135 °F"], "taken": "1 h"});
        assert_eq!(judge(packaged), Verdict::Meets);
        assert_eq!(judge(json!({"temperatures": []})), Verdict::CannotTell);
        assert_eq!(
            judge(json!({"temperatures": ["170 °F", null]})),
            Verdict::CannotTell
        );
        assert_eq!(
            judge(json!({"temperatures": ["160 °F", null]})),
            Verdict::Fails
        );
    }
}
