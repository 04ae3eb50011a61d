//! Was it cooled fast enough? A log against a standard's stages.

use crate::answer::{Answer, Basis};
use crate::error::{Error, ErrorKind};
use crate::log::{Place, Rounding, SoundLog};
use crate::rules::{
    Comparison, CoolingStage, CountedFrom, Requirement, Rule, Rulebook, Topic, Verdict,
};
use crate::units::{Duration, Temperature, TemperatureDifference, TemperatureDifferenceUnit};

use super::{Given, Judge, RecordFinding, RecordVerdict, Stretches, record_check};

record_check! {
    /// "Did this food cool fast enough?"
    CoolingLogCheck {}
}

/// Judges a log of cooling by the stages of a standard.
///
/// Each place has its own clock and the slowest decides. A stage's clock starts when the place first falls below
/// the start and stops when it has come down to the end for good; where the lines between the readings cross the
/// limits is worked out exactly. A log that begins below the start, or ends before the cold limit, can give only
/// `CannotTell` or `Fails`.
///
/// # Errors
///
/// A log that cannot be read, an accuracy out of range, an unknown standard, or one without cooling stages.
///
/// ```
/// use poulter::records::{CoolingLogCheck, check_cooling_log};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: CoolingLogCheck = serde_json::from_str(
///     r#"{"standard": "us-food-code-2022", "checks": {"longest_gap": "4 h"},
///         "log": {"csv": "elapsed_h,core_temp_degF\n0,135\n2,71\n6,41\n"}}"#,
/// )?;
/// assert_eq!(check_cooling_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_cooling_log(
    book: &Rulebook,
    check: &CoolingLogCheck,
) -> Result<Answer<RecordVerdict>, Error> {
    let given = check.given()?;
    let (mut basis, judge) = judge_cooling(book, check, &given)?;
    let verdict = judge(&given)?;
    if verdict.verdict != Verdict::Meets {
        for rule in basis.every(Topic::CoolStages) {
            if matches!(rule.requirement, Requirement::Do { .. }) {
                basis.note(rule);
            }
        }
    }
    Ok(basis.finish(verdict))
}

/// The check with its rules looked up, and its basis still open.
pub(crate) fn judge_cooling<'b>(
    book: &'b Rulebook,
    check: &CoolingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, Judge<'b>), Error> {
    let mut basis = Basis::new(book, given.case)?;
    let rules = basis.every(Topic::CoolStages);
    let is_staged = |rule: &Rule| matches!(rule.requirement, Requirement::StagedCooling { .. });
    let own = rules
        .iter()
        .find(|rule| !rule.added_by_caller && is_staged(rule))
        .map(|rule| &rule.id);
    let judging: Vec<_> = (rules.iter())
        .filter(|rule| rule.added_by_caller || Some(&rule.id) == own)
        .filter_map(|rule| match &rule.requirement {
            Requirement::StagedCooling { stages } => Some((*rule, stages)),
            _ => None,
        })
        .collect();
    for (rule, _) in &judging {
        basis.note(rule);
    }
    if judging.is_empty() {
        return Err(Error::new(
            ErrorKind::NoPublishedRow,
            &check.standard,
            "a standard with cooling stages is needed, such as us-food-code-2022",
        )
        .at("standard"));
    }
    let advice: Vec<&str> = (rules.iter())
        .filter_map(|rule| match &rule.requirement {
            Requirement::Do { text } => Some(text.as_str()),
            _ => None,
        })
        .collect();
    let judge = move |given: &Given<'_>| {
        let mut findings = Vec::new();
        for (rule, stages) in &judging {
            findings.extend(staged(rule, stages, given)?);
        }
        let mut verdict = RecordVerdict::of(findings, "Discard the food.");
        if verdict.verdict != Verdict::Meets {
            verdict.to_do.extend(advice.iter().map(ToString::to_string));
        }
        Ok(verdict)
    };
    Ok((basis, Box::new(judge)))
}

fn staged(
    rule: &Rule,
    stages: &[CoolingStage],
    given: &Given<'_>,
) -> Result<Vec<RecordFinding>, Error> {
    let inside = given.inside();
    let first = stages.first();
    let mut findings = given.each_place(&inside, rule, Stretches::ShowFailure, |place, log| {
        let judged = stages.iter().map(|stage| {
            let from = match (stage.counted_from, first) {
                (CountedFrom::FirstStage, Some(first)) => first.from,
                _ => stage.from,
            };
            judge(rule, stage, from, place, log, given)
        });
        judged.collect()
    })?;
    if inside.is_empty() {
        findings.push(RecordFinding::missing("a place inside the food", rule));
    }
    Ok(findings)
}

fn judge(
    rule: &Rule,
    stage: &CoolingStage,
    from: Temperature,
    place: &Place,
    log: &SoundLog<'_>,
    given: &Given<'_>,
) -> RecordFinding {
    let name = format!("{place}, from {from} to {}", stage.to.shown());
    // The clock starts early: a thermometer that reads low would leave the start too soon.
    let hot = from.raised_by(given.accuracy);
    let cold = match stage.to.is {
        Comparison::Below => given.moved(&stage.to).raised_by(ONE_STEP_LOWER),
        _ => given.moved(&stage.to),
    };
    let ends = log
        .log()
        .elapsed(0)
        .zip(log.log().elapsed(log.log().len().saturating_sub(1)));
    let (Some(seen), Some((began, ended))) = (log.cooling(hot, cold, Duration::ZERO), ends) else {
        return RecordFinding::missing(place.name(), rule);
    };
    let cannot = |why: &str| {
        let text = format!("{name}: {why}");
        RecordFinding::verdict(Verdict::CannotTell, text, rule, None).of(place, None)
    };
    let was_hot = log.periods(hot.., Rounding::Short).next().is_some();
    if seen.left.is_none() && was_hot {
        return cannot("the food is not yet below the start");
    }
    let was_cold = log.periods(..=cold, Rounding::Short).next().is_some();
    if seen.reached.is_none() && was_cold {
        return cannot(
            "the food warmed again before the log ended; cut the log where cooling was over",
        );
    }
    let start = seen.left.unwrap_or(began);
    let stop = seen.reached.unwrap_or(ended);
    let taken = stop.minus(start);
    let (by_time, margin) = stage.within.judge(taken);
    let (verdict, why) = match by_time {
        Verdict::Fails if seen.reached.is_some() => (Verdict::Fails, "too slow"),
        Verdict::Fails => (Verdict::Fails, "not there yet, and the time is up"),
        _ if seen.reached.is_none() => (Verdict::CannotTell, "not there yet"),
        _ if seen.left.is_none() => (
            Verdict::CannotTell,
            "the log begins below the start, so the time before it is not known",
        ),
        verdict => (verdict, "in time"),
    };
    let text = format!(
        "{name}: {} of {}; {why}",
        taken.shown(),
        stage.within.shown()
    );
    RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, Some(stop))
}

const ONE_STEP_LOWER: TemperatureDifference =
    TemperatureDifference::from_steps(-1, TemperatureDifferenceUnit::Kelvin);
