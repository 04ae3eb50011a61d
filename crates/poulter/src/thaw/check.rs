//! Thawing judged: what was measured, and how long the food was above the cold limit.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species, State};
use crate::doneness::refuse_negative;
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, RuleKind, Rulebook, TemperatureLimit, Topic, Verdict};
use crate::serve::{TimeOut, judge_worst};
use crate::units::{Duration, Temperature, TemperatureDifference};

use super::ThawMethod;

/// "Was this bird thawed safely?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThawingCheck {
    /// How it was thawed.
    pub method: ThawMethod,
    /// Readings of the water it lay in; in the refrigerator or in brine of the food, or of the air or brine round it.
    /// None where one was missed. The warmest one counts.
    #[serde(default)]
    pub temperatures: Vec<Option<Temperature>>,
    /// How long any part of the food was above the cold limit, with the preparation for cooking; needed in water.
    #[serde(default)]
    pub above_cold: Option<Duration>,
    /// The longest time that the water stayed unchanged; judged where the standard limits it.
    #[serde(default)]
    pub water_unchanged: Option<Duration>,
    /// How far the thermometer may be wrong; added to every reading.
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

/// The judgement of thawing.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ThawingVerdict {
    /// The worst of the findings.
    pub verdict: Verdict,
    /// What was judged.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges a thaw by the readings taken and the times noted.
///
/// In the refrigerator or in brine the warmest reading must be at or below the cold limit. In water, the water must not
/// be warmer than the rule allows where one is printed, and the time of the food above the cold limit is judged. A
/// missed reading, or a time that is not known where a rule limits it, can give only `CannotTell` or `Fails`; where the
/// change of the water is advice and its time is not known, it is only told. A method that the standard forbids fails.
///
/// Errors: an unknown standard, one without a rule for the method, a negative accuracy, or a method with nothing to
/// measure: in a microwave oven, and cooked from frozen.
///
/// ```
/// use poulter::rules::{Rulebook, Verdict};
/// use poulter::thaw::{ThawingCheck, check_thawing};
/// let check: ThawingCheck = serde_json::from_str(
///     r#"{"method": "running-water", "standard": "us-food-code-2022", "temperatures": ["70 °F"], "above_cold": "4 h"}"#,
/// )?;
/// assert_eq!(check_thawing(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_thawing(
    book: &Rulebook,
    check: &ThawingCheck,
) -> Result<Answer<ThawingVerdict>, Error> {
    refuse_negative(check.accuracy)?;
    let case = Case {
        state: Some(State::Frozen),
        ..Case::of(&check.standard, check.species, check.cut, check.on)
    };
    let mut basis = Basis::new(book, case)?;
    let mut findings = match (forbidden(&mut basis, check.method)?, check.method) {
        (Some(rule), _) => {
            let text = rule.said().unwrap_or_else(|| rule.title.clone());
            vec![Finding::verdict(Verdict::Fails, text, rule, None)]
        }
        (None, ThawMethod::ColdWater | ThawMethod::RunningWater) => in_water(&mut basis, check)?,
        (None, ThawMethod::Microwave | ThawMethod::FromFrozen) => {
            return Err(nothing_to_measure(check.method));
        }
        (None, _) => {
            let rules = basis.must_judge(Topic::HoldCold)?;
            rules.into_iter().map(|rule| warmest(rule, check)).collect()
        }
    };
    let advice = basis
        .find(check.method.topic())
        .filter(|rule| matches!(rule.requirement, Requirement::Do { .. }));
    findings.extend(advice.map(|rule| Finding::advice(rule.requirement.words(), Some(rule))));
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let next = match (verdict, check.method) {
        (Verdict::Meets, ThawMethod::Refrigerator | ThawMethod::InBrine) => {
            "Keep the bird cold until it is cooked."
        }
        (Verdict::Meets, _) => "Cook the bird at once.",
        (Verdict::Fails, _) => "Follow the rule for food past its limit.",
        (Verdict::CannotTell, _) => {
            "Measure what is missing, and treat the bird as if the rule were broken."
        }
    };
    Ok(basis.finish(ThawingVerdict {
        verdict,
        findings,
        to_do: vec![next.to_owned()],
    }))
}

/// The rule that forbids a method, whatever was measured: the standard's, or one of the house.
pub(crate) fn forbidden<'b>(
    basis: &mut Basis<'b>,
    method: ThawMethod,
) -> Result<Option<&'b Rule>, Error> {
    let never = |rule: &Rule| matches!(rule.requirement, Requirement::Never { .. });
    match method {
        ThawMethod::RoomTemperature | ThawMethod::HotWater => {
            basis.require(Topic::ThawForbidden).map(Some)
        }
        // Looked at before it judges, so that no other rule of the method is cited.
        _ if !basis.every(method.topic()).into_iter().any(never) => Ok(None),
        _ => Ok(basis
            .judging(method.topic())
            .into_iter()
            .find(|rule| never(rule))),
    }
}

/// A method that neither a reading nor a log can judge.
pub(crate) fn nothing_to_measure(method: ThawMethod) -> Error {
    let expected = "a method with something to measure is needed: refrigerator, in-brine, cold-water or running-water";
    Error::new(ErrorKind::NoPublishedRow, method.words(), expected).at("method")
}

/// A standard that says nothing of food above the cold limit.
pub(crate) fn no_limit_above_cold(standard: &str) -> Error {
    let expected = "a standard that limits the time above the cold limit is needed";
    Error::new(ErrorKind::NoPublishedRow, standard, expected).at("standard")
}

/// The lowest of the cold limits that judge.
pub(crate) fn strictest_cold<'b>(
    basis: &mut Basis<'b>,
) -> Result<(&'b Rule, TemperatureLimit), Error> {
    let rules = basis.must_judge(Topic::HoldCold)?;
    (rules.iter().copied())
        .filter_map(|rule| match rule.requirement {
            Requirement::Temperature { limit } => Some((rule, limit)),
            _ => None,
        })
        .min_by_key(|(_, limit)| limit.temperature)
        .ok_or_else(|| {
            let expected = "the rule names no temperature; follow its words";
            Error::new(ErrorKind::NoPublishedRow, &rules[0].id, expected)
        })
}

/// The warmest reading against the limit of a rule.
fn warmest(rule: &Rule, check: &ThawingCheck) -> Finding {
    let accuracy = check.accuracy.unwrap_or(TemperatureDifference::ZERO);
    match &rule.requirement {
        Requirement::Temperature { limit } => {
            judge_worst(rule, limit, &check.temperatures, accuracy).1
        }
        // Cold water has no figure where a standard asks for it in words.
        Requirement::Do { text } if rule.topic == Topic::ThawWaterTemperature => {
            Finding::advice(text.as_str(), Some(rule))
        }
        other => {
            let text = format!("The rule sets no figure: {}", other.words());
            Finding::verdict(Verdict::CannotTell, text, rule, None)
        }
    }
}

fn in_water(basis: &mut Basis<'_>, check: &ThawingCheck) -> Result<Vec<Finding>, Error> {
    let (cold_rule, cold) = strictest_cold(basis)?;
    let mut findings: Vec<_> = (basis.judging(Topic::ThawWaterTemperature).into_iter())
        .map(|rule| warmest(rule, check))
        .collect();
    let running = match check.method {
        ThawMethod::RunningWater => basis.judging(Topic::ThawRunningWater),
        _ => Vec::new(),
    };
    let not_known = |rule| {
        let text = format!(
            "How long the food was above {} is not known.",
            cold.temperature
        );
        Finding::verdict(Verdict::CannotTell, text, rule, None)
    };
    if running.is_empty() {
        let topics = [Topic::HoldOut, Topic::HoldOutHotDay];
        let clock = TimeOut::find(basis, &topics, &mut Vec::new())
            .ok_or_else(|| no_limit_above_cold(&check.standard))?;
        findings.push(check.above_cold.map_or_else(
            || not_known(cold_rule),
            |taken| clock.judge(taken, hottest(&check.temperatures)),
        ));
    }
    for rule in running {
        let Requirement::Time { limit, then, .. } = &rule.requirement else {
            let expected = "the rule sets no time; follow its words";
            return Err(Error::new(ErrorKind::NoPublishedRow, &rule.id, expected));
        };
        let Some(taken) = check.above_cold else {
            findings.push(not_known(rule));
            continue;
        };
        let (verdict, margin) = limit.judge(taken);
        let (cold, taken, allowed) = (cold.temperature, taken.shown(), limit.shown());
        let mut text = format!("Above {cold} for {taken}; {allowed} is allowed.");
        if verdict == Verdict::Fails {
            text = format!("{text} {then}");
        }
        findings.push(Finding::verdict(verdict, text, rule, Some(margin)));
    }
    if check.method == ThawMethod::ColdWater {
        findings.extend(changes(basis, check.water_unchanged));
    }
    Ok(findings)
}

/// The warmest reading, where none was missed.
fn hottest(readings: &[Option<Temperature>]) -> Option<Temperature> {
    readings
        .iter()
        .copied()
        .max()
        .flatten()
        .filter(|_| !readings.contains(&None))
}

/// How often the water was changed.
fn changes(basis: &mut Basis<'_>, unchanged: Option<Duration>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for rule in basis.judging(Topic::ThawWaterChange) {
        let Requirement::Time { limit, then, .. } = &rule.requirement else {
            continue;
        };
        findings.push(match unchanged {
            Some(unchanged) => {
                let (verdict, margin) = limit.judge(unchanged);
                let text = format!(
                    "The water stayed unchanged for {}; {} is allowed.",
                    unchanged.shown(),
                    limit.shown()
                );
                Finding::verdict(verdict, text, rule, Some(margin))
            }
            None if rule.kind == RuleKind::Requirement => {
                let text = format!(
                    "How long the water stayed unchanged is not known; {} is allowed.",
                    limit.shown()
                );
                Finding::verdict(Verdict::CannotTell, text, rule, None)
            }
            None => {
                let text = format!("{then} The water may stay unchanged for {}.", limit.shown());
                Finding::advice(text, Some(rule))
            }
        });
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn judge(check: Value) -> ThawingVerdict {
        let check = serde_json::from_value(check).unwrap();
        let answer = check_thawing(Rulebook::builtin(), &check).unwrap();
        answer.answer
    }

    fn verdicts<const N: usize>(of: impl Fn(&str) -> Value, given: [&str; N]) -> [Verdict; N] {
        given.map(|given| judge(of(given)).verdict)
    }

    #[test]
    fn the_cold_limit_is_judged_under_at_and_over() {
        use Verdict::{Fails, Meets};
        // FSIS, The Big Thaw: 40 °F or below; Food Code 3-501.13(A): 41 °F or below.
        for (standard, method, readings) in [
            (
                "us-consumer",
                "refrigerator",
                ["39.999 °F", "40 °F", "40.001 °F"],
            ),
            (
                "us-food-code-2022",
                "in-brine",
                ["40.999 °F", "5 °C", "41.001 °F"],
            ),
        ] {
            let found = verdicts(
                |reading| json!({"method": method, "standard": standard, "temperatures": [reading, "33 °F"]}),
                readings,
            );
            assert_eq!(found, [Meets, Meets, Fails], "{standard}");
        }
    }

    #[test]
    fn water_and_time_are_judged_under_at_and_over() {
        use Verdict::{Fails, Meets};
        // Food Code 3-501.13(B): water of 70 °F or below, at most 4 h above 41 °F.
        let code = |water: &str, above: &str| {
            json!({"method": "running-water", "standard": "us-food-code-2022",
                "temperatures": [water], "above_cold": above})
        };
        let waters = verdicts(
            |water| code(water, "4 h"),
            ["69.999 °F", "70 °F", "70.001 °F"],
        );
        assert_eq!(waters, [Meets, Meets, Fails]);
        let times = verdicts(
            |above| code("70 °F", above),
            ["239.9 min", "4 h", "240.1 min"],
        );
        assert_eq!(times, [Meets, Meets, Fails]);
        // FSIS: never out for more than 2 h, 1 h above 90 °F; the water is changed every 30 min.
        let home = |water: &str, above: &str, unchanged: &str| {
            json!({"method": "cold-water", "temperatures": [water], "above_cold": above,
                "water_unchanged": unchanged})
        };
        let out = verdicts(
            |above| home("60 °F", above, "30 min"),
            ["119.9 min", "2 h", "120.1 min"],
        );
        assert_eq!(out, [Meets, Meets, Fails]);
        let hot = verdicts(
            |above| home("91 °F", above, "30 min"),
            ["59.9 min", "1 h", "60.1 min"],
        );
        assert_eq!(hot, [Meets, Meets, Fails]);
        let changed = verdicts(
            |still| home("60 °F", "1 h", still),
            ["29.9 min", "30 min", "30.1 min"],
        );
        assert_eq!(changed, [Meets, Meets, Fails]);
    }

    #[test]
    fn what_is_not_known_never_meets() {
        for check in [
            json!({"method": "refrigerator"}),
            json!({"method": "refrigerator", "temperatures": ["34 °F", null]}),
            json!({"method": "cold-water", "temperatures": ["50 °F"]}),
            json!({"method": "cold-water", "above_cold": "90 min"}),
            json!({"method": "running-water", "standard": "us-food-code-2022", "temperatures": ["60 °F"]}),
            json!({"method": "running-water", "standard": "us-food-code-2022", "above_cold": "1 h"}),
        ] {
            assert_eq!(judge(check.clone()).verdict, Verdict::CannotTell, "{check}");
        }
        let wrong = json!({"method": "refrigerator", "temperatures": ["39 °F"], "accuracy": "2 delta_degF"});
        assert_eq!(judge(wrong).verdict, Verdict::Fails);
    }

    #[test]
    fn a_method_that_the_house_forbids_fails_and_words_without_a_figure_never_meet() {
        let house = |topic: &str, requirement: &str| {
            let rule = format!(
                "[[rule]]\nid = \"us-consumer.{topic}.house\"\ntopic = \"{topic}\"\ntitle = \"Ours\"\nkind = \"requirement\"\n\
                 status = \"common-practice\"\nlast_checked = \"2026-11-25\"\nrequirement = {requirement}\n"
            );
            Rulebook::builtin().with_rules(&rule).unwrap()
        };
        let cold: ThawingCheck =
            serde_json::from_value(json!({"method": "refrigerator", "temperatures": ["34 °F"]}))
                .unwrap();
        let verdict = |book: &Rulebook| check_thawing(book, &cold).unwrap().answer.verdict;
        assert_eq!(verdict(Rulebook::builtin()), Verdict::Meets);
        let never = house(
            "thaw.refrigerator",
            r#"{ type = "never", text = "No", why = "w" }"#,
        );
        assert_eq!(verdict(&never), Verdict::Fails);
        let words = house("hold.cold", r#"{ type = "do", text = "Keep it cold." }"#);
        assert_eq!(verdict(&words), Verdict::CannotTell);
    }

    #[test]
    fn forbidden_methods_fail_and_two_have_nothing_to_measure() {
        for method in ["room-temperature", "hot-water"] {
            let found =
                judge(json!({"method": method, "temperatures": ["34 °F"], "above_cold": "1 min"}));
            assert_eq!(found.verdict, Verdict::Fails);
        }
        for method in ["microwave", "from-frozen"] {
            let check = serde_json::from_value(json!({"method": method})).unwrap();
            let error = check_thawing(Rulebook::builtin(), &check).unwrap_err();
            assert_eq!((error.code(), error.field()), (301, "method"));
        }
    }
}
