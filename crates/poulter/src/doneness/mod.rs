//! Doneness: readings at named places judged by the standard's minimum.

use std::collections::BTreeMap;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Place, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{
    Case, HoldPoint, Margin, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic,
    Verdict,
};
use crate::units::{Duration, Temperature, TemperatureDifference};

/// "Is this bird done?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CookingCheck {
    /// A reading for each place; a place left out, or without a value, counts as not measured.
    #[serde(deserialize_with = "crate::bird::by_place")]
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

struct Minimum<'b> {
    rule: &'b Rule,
    limit: &'b TemperatureLimit,
    hold: Option<&'b TimeLimit>,
    equivalents: &'b [HoldPoint],
}

impl<'b> Minimum<'b> {
    fn of(rule: &'b Rule) -> Option<(Self, &'b [Place])> {
        match &rule.requirement {
            Requirement::MinimumTemperature {
                places,
                limit,
                hold,
                equivalents,
            } => Some((
                Self {
                    rule,
                    limit,
                    hold: hold.as_ref(),
                    equivalents,
                },
                places,
            )),
            _ => None,
        }
    }

    fn judge(&self, place: Place, reading: Option<Temperature>, check: &CookingCheck) -> Finding {
        let Some(given) = reading else {
            let text = format!(
                "{}: no reading; {} is needed",
                place.name(),
                self.limit.shown()
            );
            return Finding::verdict(Verdict::CannotTell, text, self.rule, None);
        };
        let sure = match check.accuracy {
            Some(accuracy) => given.raised_by(TemperatureDifference::ZERO.minus(accuracy)),
            None => given,
        };
        let (at_limit, margin) = self.limit.judge(sure);
        let held = check.held.unwrap_or(Duration::ZERO);
        let by_equivalent = self
            .equivalents
            .iter()
            .any(|point| sure >= point.temperature && held >= point.hold);
        let verdict = match (at_limit, self.hold) {
            _ if by_equivalent => Verdict::Meets,
            (Verdict::Meets, None) => Verdict::Meets,
            (Verdict::Meets, Some(hold)) => match check.held {
                Some(held) => hold.judge(held).0,
                None => Verdict::CannotTell,
            },
            (verdict, _) => verdict,
        };
        let text = self.say(place, given, verdict, by_equivalent, check);
        Finding::verdict(verdict, text, self.rule, Some(margin))
    }

    fn say(
        &self,
        place: Place,
        given: Temperature,
        verdict: Verdict,
        by_equivalent: bool,
        check: &CookingCheck,
    ) -> String {
        let mut text = format!("{}: {given}", place.name());
        if let Some(accuracy) = check.accuracy {
            text = format!("{text} less {} for the thermometer", accuracy.shown());
        }
        if by_equivalent && self.limit.judge(given).0 == Verdict::Fails {
            return text + " for the time held counts as the same by the standard's list";
        }
        text += match verdict {
            Verdict::Meets => ", meets ",
            Verdict::Fails => ", fails ",
            Verdict::CannotTell => ", but how long it held is not known; the rule is ",
        };
        text += &self.limit.shown();
        if let Some(hold) = self.hold {
            text = format!("{text} for {}", hold.shown());
        }
        text
    }
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
    let case = Case {
        standard: &check.standard,
        species: check.species,
        cut: check.cut,
        state: None,
        process: None,
        on: check.on,
    };
    if let Some(accuracy) = check.accuracy
        && accuracy < TemperatureDifference::ZERO
    {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            accuracy,
            "an accuracy of zero or more is needed",
        )
        .at("accuracy"));
    }
    let mut basis = Basis::new(book, case)?;
    let topic = match check.cut {
        Cut::Whole | Cut::Flattened => Topic::DonenessBird,
        Cut::Ground => Topic::DonenessGround,
        _ => Topic::DonenessParts,
    };
    let rule = basis.require(topic)?;
    let (minimum, places) = Minimum::of(rule).ok_or_else(|| {
        Error::new(
            ErrorKind::NoPublishedRow,
            &rule.id,
            "the rule names no temperature; follow its words",
        )
    })?;

    // A standard that names no places asks for every part of a whole bird; two thick places are the least that shows it.
    let places = match check.cut {
        Cut::Whole | Cut::Flattened if places.is_empty() => &[Place::Breast, Place::Thigh],
        _ => places,
    };
    let reading = |place: Place| check.readings.get(&place).copied().flatten();
    let mut findings: Vec<Finding> = places
        .iter()
        .map(|&place| minimum.judge(place, reading(place), check))
        .collect();
    // A reading at a place the rule does not name still counts: nothing in the bird may be below the minimum.
    for (&place, &given) in &check.readings {
        if !places.contains(&place) && place != Place::Stuffing && given.is_some() {
            findings.push(minimum.judge(place, given, check));
        }
    }
    if findings.is_empty() {
        findings.push(minimum.judge(Place::Thickest, None, check));
    }
    if check.stuffed || reading(Place::Stuffing).is_some() {
        let stuffing = basis.require(Topic::DonenessStuffing)?;
        if let Some((minimum, _)) = Minimum::of(stuffing) {
            findings.push(minimum.judge(Place::Stuffing, reading(Place::Stuffing), check));
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
