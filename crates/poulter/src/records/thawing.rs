//! Was it thawed safely? A log against a standard's limits.

use std::ops::Bound;

use crate::answer::{Answer, Basis};
use crate::error::{Error, ErrorKind};
use crate::log::{Place, PlaceRole, Rounding};
use crate::rules::{Requirement, Rule, Rulebook, TemperatureLimit, Topic, Verdict};
use crate::thaw::ThawMethod;

use super::holding::{OutClock, all_along, counted};
use super::{Given, RecordFinding, RecordVerdict, Stretches, record_check};

record_check! {
    /// "Was this bird thawed safely?"
    ThawingLogCheck {
        /// How it is thawed.
        method: ThawMethod,
    }
}

/// Judges a log of thawing.
///
/// In the refrigerator or in brine every reading, of the food and of what is round it, must be at or below the
/// cold limit. In water, the water must not be warmer than the rule allows where one is printed, and the time of
/// the food above the cold limit, surface and inside, is added up. A method that the standard forbids fails,
/// whatever the log says.
///
/// # Errors
///
/// A log that cannot be read, an accuracy out of range, an unknown standard, or a method that no log can be
/// judged by: in a microwave oven, and cooked from frozen.
///
/// ```
/// use poulter::records::{ThawingLogCheck, check_thawing_log};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: ThawingLogCheck = serde_json::from_str(
///     r#"{"method": "running-water", "standard": "us-food-code-2022",
///         "log": {"csv": "elapsed_min,surface_temp_degF,water_temp_degF\n0,30,69\n10,38,71\n"}}"#,
/// )?;
/// assert_eq!(check_thawing_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Fails);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_thawing_log(
    book: &Rulebook,
    check: &ThawingLogCheck,
) -> Result<Answer<RecordVerdict>, Error> {
    let (basis, verdict) = judge_thawing(book, check, &check.given()?)?;
    Ok(basis.finish(verdict))
}

/// The verdict with its basis still open.
pub(crate) fn judge_thawing<'b>(
    book: &'b Rulebook,
    check: &ThawingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, RecordVerdict), Error> {
    let mut basis = Basis::new(book, given.case)?;
    let findings = match check.method {
        ThawMethod::Refrigerator | ThawMethod::InBrine => kept_cold(&mut basis, given)?,
        ThawMethod::ColdWater | ThawMethod::RunningWater => {
            in_water(&mut basis, given, check.method)?
        }
        ThawMethod::RoomTemperature | ThawMethod::HotWater => {
            let rule = basis.require(Topic::ThawForbidden)?;
            let text = rule.said().unwrap_or_else(|| rule.title.clone());
            vec![RecordFinding::verdict(Verdict::Fails, text, rule, None)]
        }
        ThawMethod::Microwave | ThawMethod::FromFrozen => {
            let expected = "a method that a log can be judged by is needed: refrigerator, in-brine, cold-water or \
                            running-water";
            let error = Error::new(ErrorKind::NoPublishedRow, check.method.words(), expected);
            return Err(error.at("method"));
        }
    };
    let verdict = RecordVerdict::of(findings, "Follow the rule for food past its limit.");
    Ok((basis, verdict))
}

fn cold_limit<'b>(basis: &mut Basis<'b>) -> Result<(&'b Rule, TemperatureLimit), Error> {
    let rule = basis.require(Topic::HoldCold)?;
    if let Requirement::Temperature { limit } = rule.requirement {
        return Ok((rule, limit));
    }
    let expected = "the rule names no temperature; follow its words";
    Err(Error::new(ErrorKind::NoPublishedRow, &rule.id, expected))
}

fn kept_cold(basis: &mut Basis<'_>, given: &Given<'_>) -> Result<Vec<RecordFinding>, Error> {
    let (rule, limit) = cold_limit(basis)?;
    let places = given.places(|_| true);
    given.each_place(&places, rule, Stretches::ShowFailure, |place, log| {
        vec![all_along(rule, &limit, place, log, given)]
    })
}

fn in_water(
    basis: &mut Basis<'_>,
    given: &Given<'_>,
    method: ThawMethod,
) -> Result<Vec<RecordFinding>, Error> {
    let (cold_rule, cold) = cold_limit(basis)?;
    let food = given.places(|place| place.role() != PlaceRole::Medium);
    let mut findings = Vec::new();
    let water = basis.find(Topic::ThawWaterTemperature);
    if let Some(rule) = water
        && let Requirement::Temperature { limit } = rule.requirement
    {
        let waters = given.places(|place| *place == Place::WATER);
        if waters.is_empty() {
            findings.push(RecordFinding::missing("water", rule));
        }
        let judged = given.each_place(&waters, rule, Stretches::ShowFailure, |place, log| {
            vec![all_along(rule, &limit, place, log, given)]
        });
        findings.extend(judged?);
    }
    if food.is_empty() {
        let place = "a place on or inside the food";
        findings.push(RecordFinding::missing(place, cold_rule));
    }
    findings.extend(match method {
        ThawMethod::RunningWater => match basis.find(Topic::ThawRunningWater) {
            Some(rule) => under_running_water(rule, given, &food, &cold)?,
            None => out_of_the_cold(basis, given, &food, &cold)?,
        },
        _ => out_of_the_cold(basis, given, &food, &cold)?,
    });
    Ok(findings)
}

fn under_running_water(
    rule: &Rule,
    given: &Given<'_>,
    food: &[Place],
    cold: &TemperatureLimit,
) -> Result<Vec<RecordFinding>, Error> {
    let Requirement::Time {
        limit, counting, ..
    } = &rule.requirement
    else {
        let expected = "the rule sets no time; follow its words";
        return Err(Error::new(ErrorKind::NoPublishedRow, &rule.id, expected));
    };
    let above = (Bound::Excluded(given.moved(cold)), Bound::Unbounded);
    given.each_place(food, rule, Stretches::ShowFailure, |place, log| {
        let periods = log.periods(above, Rounding::Long);
        let taken = counted(&periods, *counting);
        let (verdict, margin) = limit.judge(taken);
        let text = format!(
            "{place}: above {} for {}; {} is allowed",
            cold.temperature,
            taken.shown(),
            limit.shown()
        );
        let began = periods.first().map(|period| period.began);
        vec![RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, began)]
    })
}

fn out_of_the_cold(
    basis: &mut Basis<'_>,
    given: &Given<'_>,
    food: &[Place],
    cold: &TemperatureLimit,
) -> Result<Vec<RecordFinding>, Error> {
    let Some(clock) = OutClock::above(basis, given, cold) else {
        let expected = "a standard that limits the time above the cold limit is needed";
        let error = Error::new(ErrorKind::NoPublishedRow, given.case.standard, expected);
        return Err(error.at("standard"));
    };
    given.each_place(food, clock.rule, Stretches::ShowFailure, |place, log| {
        clock.judge(place, log, None, true).into_iter().collect()
    })
}
