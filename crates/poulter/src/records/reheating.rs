//! Was it reheated far and fast enough? A log against a standard's rules.

use std::ops::Bound;

use crate::answer::{Answer, Basis, Finding};
use crate::bird::Cut;
use crate::error::Error;
use crate::log::{Place, Rounding, SoundLog};
use crate::rules::{Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict};

use super::minimum::Minimum;
use super::{Given, Judge, RecordFinding, RecordVerdict, Stretches, record_check};

record_check! {
    /// "Was this food reheated safely?"
    ReheatingLogCheck {}
}

/// Judges a log of reheating: the minimum in every place inside and, where the standard sets one, the time from
/// the cold limit to it.
///
/// The clock starts when a place first comes above the cold limit. A log that begins above it leaves the time
/// unknown, which can give only `CannotTell` or `Fails`.
///
/// # Errors
///
/// A log that cannot be read, an accuracy out of range, an unknown standard, or a rule without a temperature.
///
/// ```
/// use poulter::records::{ReheatingLogCheck, check_reheating_log};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: ReheatingLogCheck = serde_json::from_str(
///     r#"{"cut": "parts", "log": {"csv": "elapsed_min,core_temp_degF\n0,150\n10,164.9\n"}}"#,
/// )?;
/// assert_eq!(check_reheating_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_reheating_log(
    book: &Rulebook,
    check: &ReheatingLogCheck,
) -> Result<Answer<RecordVerdict>, Error> {
    let given = check.given()?;
    let (basis, judge) = judge_reheating(book, check, &given)?;
    let verdict = judge(&given)?;
    Ok(basis.finish(verdict))
}

/// The check with its rules looked up, and its basis still open.
pub(crate) fn judge_reheating<'b>(
    book: &'b Rulebook,
    check: &ReheatingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, Judge<'b>), Error> {
    let mut basis = Basis::new(book, given.case)?;
    let minima = Minimum::all(&mut basis, Topic::Reheat)?;
    let timed = time_rules(&mut basis);
    let whole = match check.cut {
        Cut::Whole => basis.find(Topic::ReheatWhole),
        _ => None,
    };
    let judge = move |given: &Given<'_>| {
        let inside = given.inside();
        let mut findings = Vec::new();
        for minimum in &minima {
            let judge = |place: &Place, log: &SoundLog<'_>| vec![minimum.judge(place, log, given)];
            let nothing = Stretches::ShowNothing;
            findings.extend(given.each_place(&inside, minimum.rule, nothing, judge)?);
            if inside.is_empty() {
                let place = "a place inside the food";
                findings.push(RecordFinding::missing(place, minimum.rule));
            }
            for (rule, within, cold) in &timed {
                let judge = |place: &Place, log: &SoundLog<'_>| {
                    vec![judge_time(rule, within, cold, minimum, place, log, given)]
                };
                findings.extend(given.each_place(&inside, rule, Stretches::ShowFailure, judge)?);
            }
        }
        let said = whole.and_then(Rule::said).into_iter();
        findings.extend(said.map(|text| Finding::caution(text, whole).into()));
        let to_do = "Go on heating while the time allows; past it, discard the food.";
        Ok(RecordVerdict::of(findings, to_do))
    };
    Ok((basis, Box::new(judge)))
}

fn time_rules<'b>(basis: &mut Basis<'b>) -> Vec<(&'b Rule, TimeLimit, TemperatureLimit)> {
    let timed: Vec<_> = (basis.judging(Topic::ReheatTime).into_iter())
        .filter_map(|rule| match rule.requirement {
            Requirement::Time { limit, .. } => Some((rule, limit)),
            _ => None,
        })
        .collect();
    if timed.is_empty() {
        return Vec::new();
    }
    let cold = basis.find(Topic::HoldCold).map(|rule| &rule.requirement);
    let Some(&Requirement::Temperature { limit: from }) = cold else {
        return Vec::new();
    };
    (timed.into_iter())
        .map(|(rule, limit)| (rule, limit, from))
        .collect()
}

fn judge_time(
    rule: &Rule,
    within: &TimeLimit,
    cold: &TemperatureLimit,
    minimum: &Minimum<'_>,
    place: &Place,
    log: &SoundLog<'_>,
    given: &Given<'_>,
) -> RecordFinding {
    let above = (Bound::Excluded(given.moved(cold)), Bound::Unbounded);
    let left = log.periods(above, Rounding::Long).next();
    let (first, last) = (
        log.log().elapsed(0),
        log.log().elapsed(log.log().len().saturating_sub(1)),
    );
    let (Some(left), Some(first), Some(last)) = (left, first, last) else {
        let text = format!("{place}: never above {}", cold.temperature);
        return RecordFinding::verdict(Verdict::CannotTell, text, rule, None).of(place, None);
    };
    let began_cold = log
        .log()
        .temperature(place, 0)
        .is_some_and(|reading| cold.is.holds(&given.sure(cold, reading), &cold.temperature));
    let reached = minimum.reached(log, given);
    let taken = reached.unwrap_or(last).minus(left.began.max(first));
    let (by_time, margin) = within.judge(taken);
    let (verdict, why) = match by_time {
        Verdict::Fails => (Verdict::Fails, "too slow"),
        _ if reached.is_none() => (Verdict::CannotTell, "not there yet"),
        _ if !began_cold => (
            Verdict::CannotTell,
            "the log begins above the cold limit, so the time before it is not known",
        ),
        verdict => (verdict, "in time"),
    };
    let text = format!(
        "{place}, from {} to the minimum: {} of {}; {why}",
        cold.temperature,
        taken.shown(),
        within.shown()
    );
    RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, reached)
}
