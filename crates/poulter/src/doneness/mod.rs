//! Doneness: readings at named places judged by the standard's minimum.

mod minimum;

use std::collections::BTreeMap;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Place, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Margin, Rulebook, Topic, Verdict};
use crate::units::{Duration, Temperature, TemperatureDifference};

pub(crate) use minimum::{Minimum, refuse_negative};

/// "Is this bird done?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CookingCheck {
    /// A reading for each place; a place left out, or without a value, counts as not measured.
    pub readings: BTreeMap<Place, Option<Temperature>>,
    /// How long every reading has held; needed where the standard asks for a time.
    #[serde(default)]
    pub held: Option<Duration>,
    /// Whether stuffing is in the bird.
    #[serde(default)]
    pub stuffed: bool,
    /// How far the thermometer may be wrong; taken off every reading.
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

/// The judgement of a set of readings.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CookingVerdict {
    /// The worst of the places.
    pub verdict: Verdict,
    /// One finding for each place that the rule names, and for each further reading.
    pub findings: Vec<Finding>,
    /// What to do next.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
}

/// Judges readings at several places against the minimum of a standard.
///
/// One place low is `Fails`; one place missing is `CannotTell`; the worst place counts, never the mean.
///
/// Errors: an unknown standard, a negative accuracy, or no published row for the species and cut.
///
/// ```
/// use poulter::doneness::{CookingCheck, check_cooking};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: CookingCheck = serde_json::from_str(
///     r#"{"readings": {"breast": "168 °F", "thigh": "171 °F", "wing": "164.9 °F"}}"#,
/// )?;
/// let answer = check_cooking(Rulebook::builtin(), &check)?;
/// assert_eq!(answer.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_cooking(
    book: &Rulebook,
    check: &CookingCheck,
) -> Result<Answer<CookingVerdict>, Error> {
    let case = Case::of(&check.standard, check.species, check.cut, check.on);
    refuse_negative(check.accuracy)?;
    let mut basis = Basis::new(book, case)?;
    let topic = match check.cut {
        Cut::Whole | Cut::Flattened => Topic::DonenessBird,
        Cut::Ground => Topic::DonenessGround,
        _ => Topic::DonenessParts,
    };
    let minimums: Vec<_> = basis
        .must_judge(topic)?
        .into_iter()
        .filter_map(Minimum::of)
        .collect();
    if minimums.is_empty() {
        return Err(Error::new(
            ErrorKind::NoPublishedRow,
            &check.standard,
            "no rule names a temperature here; follow its words",
        ));
    }
    let mut findings = Vec::new();
    for (minimum, places) in &minimums {
        findings.extend(judge_places(minimum, places, check));
    }
    if check.stuffed || reading(check, Place::Stuffing).is_some() {
        let minimums = basis.must_judge(Topic::DonenessStuffing)?;
        for (minimum, _) in minimums.into_iter().filter_map(Minimum::of) {
            findings.push(at_place(&minimum, Place::Stuffing, check));
        }
    }
    let verdict = Verdict::worst(findings.iter().filter_map(|finding| finding.verdict));
    let to_do = next_steps(verdict, &findings);
    for topic in [Topic::DonenessProbe, Topic::DonenessSigns] {
        basis.find(topic);
    }
    Ok(basis.finish(CookingVerdict {
        verdict,
        findings,
        to_do,
    }))
}

fn reading(check: &CookingCheck, place: Place) -> Option<Temperature> {
    check.readings.get(&place).copied().flatten()
}

fn at_place(minimum: &Minimum<'_>, place: Place, check: &CookingCheck) -> Finding {
    minimum.judge(place, reading(check, place), check.held, check.accuracy)
}

/// The places that a rule names, and every further reading.
fn judge_places(minimum: &Minimum<'_>, places: &[Place], check: &CookingCheck) -> Vec<Finding> {
    // A standard that names no places asks for every part of a whole bird; two thick places are the least that shows it.
    let places = match check.cut {
        Cut::Whole | Cut::Flattened if places.is_empty() => &[Place::Breast, Place::Thigh],
        _ => places,
    };
    let mut findings: Vec<Finding> = places
        .iter()
        .map(|&place| at_place(minimum, place, check))
        .collect();
    // A reading at a place the rule does not name still counts: nothing in the bird may be below the minimum.
    for (&place, given) in &check.readings {
        if !places.contains(&place) && place != Place::Stuffing && given.is_some() {
            findings.push(at_place(minimum, place, check));
        }
    }
    if findings.is_empty() {
        findings.push(at_place(minimum, Place::Thickest, check));
    }
    findings
}

fn next_steps(verdict: Verdict, findings: &[Finding]) -> Vec<String> {
    match verdict {
        Verdict::Meets => {
            vec!["Write down the time and the readings, then let the bird rest.".to_owned()]
        }
        Verdict::Fails => {
            let short = findings.iter().filter_map(|finding| match finding.margin {
                Some(Margin::Temperature(margin)) if margin < TemperatureDifference::ZERO => {
                    Some(margin)
                }
                _ => None,
            });
            let mut steps = vec!["Keep cooking, and measure every place again.".to_owned()];
            if let Some(worst) = short.min() {
                steps.push(format!(
                    "The lowest place is short by {}.",
                    TemperatureDifference::ZERO
                        .in_unit(worst.unit())
                        .minus(worst)
                        .shown()
                ));
            }
            steps
        }
        Verdict::CannotTell => vec![
            "Measure every place named, clear of bone, before the bird is called done.".to_owned(),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judge(readings: &[(Place, &str)], stuffed: bool, standard: &str) -> Verdict {
        let readings = readings
            .iter()
            .map(|(place, text)| (*place, Some(Temperature::parse(text).unwrap())))
            .collect();
        let check = CookingCheck {
            readings,
            held: None,
            stuffed,
            accuracy: None,
            standard: standard.to_owned(),
            species: Species::Turkey,
            cut: Cut::Whole,
            on: None,
        };
        check_cooking(Rulebook::builtin(), &check)
            .unwrap()
            .answer
            .verdict
    }

    #[test]
    fn every_place_must_reach_the_minimum_in_both_units() {
        // FSIS Safe Minimum Internal Temperature Chart: 165 °F at thigh, wing and breast.
        use Place::{Breast, Stuffing, Thigh, Wing};
        for (reading, expected) in [
            ("164.999 °F", Verdict::Fails),
            ("165 °F", Verdict::Meets),
            ("165.001 °F", Verdict::Meets),
            ("73.888 °C", Verdict::Fails),
            ("73.889 °C", Verdict::Meets),
        ] {
            let all = [(Breast, reading), (Thigh, "170 °F"), (Wing, "170 °F")];
            assert_eq!(judge(&all, false, "us-consumer"), expected, "{reading}");
        }
        assert_eq!(
            judge(
                &[(Breast, "170 °F"), (Thigh, "170 °F")],
                false,
                "us-consumer"
            ),
            Verdict::CannotTell
        );
        assert_eq!(
            judge(
                &[(Breast, "160 °F"), (Thigh, "170 °F")],
                false,
                "us-consumer"
            ),
            Verdict::Fails
        );
        let stuffed = [
            (Breast, "165 °F"),
            (Thigh, "165 °F"),
            (Wing, "165 °F"),
            (Stuffing, "160 °F"),
        ];
        assert_eq!(judge(&stuffed, true, "us-consumer"), Verdict::Fails);
        assert_eq!(
            judge(&stuffed[..3], true, "us-consumer"),
            Verdict::CannotTell
        );
        assert_eq!(judge(&[], false, "us-consumer"), Verdict::CannotTell);
    }
}
