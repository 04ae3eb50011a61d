//! Was it cooked? A log against the standard's minimum inside.

use crate::answer::{Answer, Basis, Finding};
use crate::bird::{self, Cut, Species};
use crate::error::Error;
use crate::lethality::{Lethality, LethalityRequest, Scheme};
use crate::log::{Place, SoundLog};
use crate::rules::{Rulebook, Topic};

use super::minimum::Minimum;
use super::{Given, Judge, RecordFinding, RecordVerdict, Stretches, record_check};

record_check! {
    /// "Was this bird cooked?"
    CookingLogCheck {
        /// Whether stuffing is in the bird.
        #[serde(default)]
        stuffed: bool,
        /// The scheme of the lethality beside the verdict; that of the species and standard when left out.
        #[serde(default)]
        scheme: Option<Scheme>,
    }
}

/// Judges a log of cooking against the minimum of a standard.
///
/// Every place inside the food must have reached the rule's minimum and held it without a break for the rule's
/// time, or one of the rule's other pairs of temperature and time. Places on or round the food do not count. A
/// log place answers to a place of the rule by its name, also with something before or after a hyphen, such as
/// `left-thigh` or `breast-2`; where the rule speaks of the thickest part, any place inside will do.
///
/// The lethality in the answer is for information: no estimate passes a bird.
///
/// # Errors
///
/// A log that cannot be read, an accuracy out of range, an unknown standard, or no published row.
///
/// ```
/// use poulter::records::{CookingLogCheck, check_cooking_log};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: CookingLogCheck = serde_json::from_str(
///     r#"{"cut": "boneless-breast", "log": {"csv": "elapsed_min,core_temp_degF\n0,160\n5,163\n10,165\n"}}"#,
/// )?;
/// assert_eq!(check_cooking_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_cooking_log(
    book: &Rulebook,
    check: &CookingLogCheck,
) -> Result<Answer<RecordVerdict>, Error> {
    let given = check.given()?;
    let (basis, judge) = judge_cooking(book, check, &given)?;
    let verdict = judge(&given)?;
    Ok(basis.finish(verdict))
}

/// The check with its rules looked up, and its basis still open.
pub(crate) fn judge_cooking<'b>(
    book: &'b Rulebook,
    check: &'b CookingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, Judge<'b>), Error> {
    let mut basis = Basis::new(book, given.case)?;
    let topic = match check.cut {
        Cut::Whole | Cut::Flattened => Topic::DonenessBird,
        Cut::Ground => Topic::DonenessGround,
        _ => Topic::DonenessParts,
    };
    let minima = Minimum::all(&mut basis, topic)?;
    // Any of many logs may have a place in the stuffing.
    let may_be_stuffed = check.stuffed || !given.explains || given.inside().iter().any(is_stuffing);
    let stuffing = if may_be_stuffed {
        Minimum::all(&mut basis, Topic::DonenessStuffing)
    } else {
        Ok(Vec::new())
    };
    for topic in [Topic::DonenessProbe, Topic::DonenessSigns] {
        basis.find(topic);
    }
    let judge = move |given: &Given<'_>| {
        let mut findings = meat(check, &minima, given)?;
        let places: Vec<Place> = given.inside().into_iter().filter(is_stuffing).collect();
        if check.stuffed || !places.is_empty() {
            for minimum in stuffing.as_ref().map_err(Error::clone)? {
                if places.is_empty() {
                    findings.push(RecordFinding::missing("stuffing", minimum.rule));
                }
                findings.extend(judged(minimum, &places, given)?);
            }
        }
        let lethality = lethality(check, given)?;
        if let Some(known) = &lethality {
            let least = known.places.iter().find(|p| p.place == known.governing);
            let shown = least.map_or("", |place| place.shown.as_str());
            let text = format!(
                "Kill at {}: {shown}; it explains and does not decide.",
                known.governing
            );
            findings.push(Finding::advice(text, None).into());
        }
        let to_do = "Keep cooking, and go on measuring every place.";
        let mut verdict = RecordVerdict::of(findings, to_do);
        verdict.lethality = lethality;
        Ok(verdict)
    };
    Ok((basis, Box::new(judge)))
}

fn is_stuffing(place: &Place) -> bool {
    answers_to(place, bird::Place::Stuffing)
}

fn judged(
    minimum: &Minimum<'_>,
    places: &[Place],
    given: &Given<'_>,
) -> Result<Vec<RecordFinding>, Error> {
    let judge = |place: &Place, log: &SoundLog<'_>| vec![minimum.judge(place, log, given)];
    given.each_place(places, minimum.rule, Stretches::ShowNothing, judge)
}

fn meat(
    check: &CookingLogCheck,
    minima: &[Minimum<'_>],
    given: &Given<'_>,
) -> Result<Vec<RecordFinding>, Error> {
    let places = given.inside().into_iter();
    let places: Vec<Place> = places.filter(|place| !is_stuffing(place)).collect();
    let mut findings = Vec::new();
    for minimum in minima {
        // A standard that names no places asks for every part of a whole bird; two thick places are the least that
        // shows it.
        let required = match check.cut {
            Cut::Whole | Cut::Flattened if minimum.places.is_empty() => {
                &[bird::Place::Breast, bird::Place::Thigh]
            }
            _ => minimum.places,
        };
        let missing = required
            .iter()
            .filter(|&&wanted| !places.iter().any(|place| answers_to(place, wanted)));
        findings.extend(missing.map(|place| RecordFinding::missing(place.name(), minimum.rule)));
        findings.extend(judged(minimum, &places, given)?);
    }
    Ok(findings)
}

/// Whether a place of the log is one that a rule names.
fn answers_to(place: &Place, wanted: bird::Place) -> bool {
    use bird::Place::{Core, Thickest};
    let (name, wanted_name) = (place.name(), wanted.name());
    let is_part = |rest: Option<&str>, hyphen: fn(&str) -> bool| rest.is_some_and(hyphen);
    matches!(wanted, Core | Thickest)
        || name == wanted_name
        || is_part(name.strip_prefix(wanted_name), |rest| rest.starts_with('-'))
        || is_part(name.strip_suffix(wanted_name), |rest| rest.ends_with('-'))
}

fn lethality(check: &CookingLogCheck, given: &Given<'_>) -> Result<Option<Lethality>, Error> {
    if !given.explains {
        return Ok(None);
    }
    let places = given.inside();
    let sound = given.log.sound_at(&places, &given.checks)?;
    let Ok(sound) = sound else {
        return Ok(None);
    };
    let request = LethalityRequest {
        scheme: check
            .scheme
            .unwrap_or_else(|| usual_scheme(&check.standard, check.species)),
        sensor_uncertainty: given.accuracy,
    };
    request.assess(&sound).map(Some)
}

/// The scheme of kill that a standard's readers know, for a species.
///
/// ```
/// use poulter::bird::Species;
/// use poulter::lethality::Scheme;
/// use poulter::records::usual_scheme;
/// assert_eq!(usual_scheme("us-consumer", Species::Duck), Scheme::Poultry7Log);
/// assert_eq!(usual_scheme("uk", Species::Duck), Scheme::Uk702);
/// ```
#[must_use]
pub fn usual_scheme(standard: &str, species: Species) -> Scheme {
    match (standard, species) {
        ("uk" | "scotland", _) => Scheme::Uk702,
        (_, Species::Turkey) => Scheme::Poultry7LogTurkey,
        (_, Species::Chicken | Species::Capon | Species::SmallHen) => Scheme::Poultry7LogChicken,
        _ => Scheme::Poultry7Log,
    }
}
