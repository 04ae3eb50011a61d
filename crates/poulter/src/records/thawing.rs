//! Was it thawed safely? A log against a standard's limits.

use std::ops::Bound;

use crate::answer::{Answer, Basis};
use crate::error::{Error, ErrorKind};
use crate::log::{Place, PlaceRole, Rounding, SoundLog};
use crate::rules::{Requirement, Rule, Rulebook, TemperatureLimit, Topic, Verdict};
use crate::thaw::{ThawMethod, forbidden, no_limit_above_cold, nothing_to_measure, strictest_cold};

use super::holding::{OutClock, all_along, counted, limits};
use super::{Given, Judge, RecordFinding, RecordVerdict, Stretches, record_check};

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
    let given = check.given()?;
    let (basis, judge) = judge_thawing(book, check, &given)?;
    let verdict = judge(&given)?;
    Ok(basis.finish(verdict))
}

/// The check with its rules looked up, and its basis still open.
pub(crate) fn judge_thawing<'b>(
    book: &'b Rulebook,
    check: &ThawingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, Judge<'b>), Error> {
    let mut basis = Basis::new(book, given.case)?;
    let thawed = match (forbidden(&mut basis, check.method)?, check.method) {
        (Some(rule), _) => Thawed::Forbidden(rule),
        (None, ThawMethod::ColdWater | ThawMethod::RunningWater) => {
            Thawed::Water(Box::new(InWater::of(&mut basis, given, check.method)?))
        }
        (None, ThawMethod::Microwave | ThawMethod::FromFrozen) => {
            return Err(nothing_to_measure(check.method));
        }
        (None, _) => {
            strictest_cold(&mut basis)?;
            Thawed::Cold(limits(&mut basis, Topic::HoldCold))
        }
    };
    let judge = move |given: &Given<'_>| {
        let findings = match &thawed {
            Thawed::Cold(limits) => kept_cold(limits, given)?,
            Thawed::Water(water) => water.judge(given)?,
            Thawed::Forbidden(rule) => {
                let text = rule.said().unwrap_or_else(|| rule.title.clone());
                vec![RecordFinding::verdict(Verdict::Fails, text, rule, None)]
            }
        };
        let to_do = "Follow the rule for food past its limit.";
        Ok(RecordVerdict::of(findings, to_do))
    };
    Ok((basis, Box::new(judge)))
}

/// The rules that judge a way of thawing.
enum Thawed<'b> {
    Cold(Vec<(&'b Rule, TemperatureLimit)>),
    Water(Box<InWater<'b>>),
    Forbidden(&'b Rule),
}

fn kept_cold(
    limits: &[(&Rule, TemperatureLimit)],
    given: &Given<'_>,
) -> Result<Vec<RecordFinding>, Error> {
    let places = given.places(|_| true);
    let mut findings = Vec::new();
    for (rule, limit) in limits {
        let judge =
            |place: &Place, log: &SoundLog<'_>| vec![all_along(rule, limit, place, log, given)];
        findings.extend(given.each_place(&places, rule, Stretches::ShowFailure, judge)?);
    }
    Ok(findings)
}

/// The rules that judge food in water.
struct InWater<'b> {
    cold_rule: &'b Rule,
    cold: TemperatureLimit,
    warmest: Vec<(&'b Rule, TemperatureLimit)>,
    running: Vec<&'b Rule>,
    /// Where no rule of running water judges.
    clock: Option<OutClock<'b>>,
}

impl<'b> InWater<'b> {
    fn of(basis: &mut Basis<'b>, given: &Given<'_>, method: ThawMethod) -> Result<Self, Error> {
        let (cold_rule, cold) = strictest_cold(basis)?;
        let warmest = limits(basis, Topic::ThawWaterTemperature);
        let running = match method {
            ThawMethod::RunningWater => basis.judging(Topic::ThawRunningWater),
            _ => Vec::new(),
        };
        let mut clock = None;
        if running.is_empty() {
            let found = OutClock::above(basis, given, &cold);
            clock = Some(found.ok_or_else(|| no_limit_above_cold(given.case.standard))?);
        }
        Ok(Self {
            cold_rule,
            cold,
            warmest,
            running,
            clock,
        })
    }

    fn judge(&self, given: &Given<'_>) -> Result<Vec<RecordFinding>, Error> {
        let food = given.places(|place| place.role() != PlaceRole::Medium);
        let mut findings = Vec::new();
        for (rule, limit) in &self.warmest {
            let waters = given.places(|place| place.words().any(|word| word == "water"));
            if waters.is_empty() {
                findings.push(RecordFinding::missing("water", rule));
            }
            let judged = given.each_place(&waters, rule, Stretches::ShowFailure, |place, log| {
                vec![all_along(rule, limit, place, log, given)]
            });
            findings.extend(judged?);
        }
        if food.is_empty() {
            let place = "a place on or inside the food";
            findings.push(RecordFinding::missing(place, self.cold_rule));
        }
        if let Some(clock) = &self.clock {
            let judge = |place: &Place, log: &SoundLog<'_>| {
                clock.judge(place, log, None, true).into_iter().collect()
            };
            findings.extend(given.each_place(&food, clock.rule, Stretches::ShowFailure, judge)?);
        }
        for rule in &self.running {
            findings.extend(under_running_water(rule, given, &food, &self.cold)?);
        }
        Ok(findings)
    }
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
        let periods: Vec<_> = log.periods(above, Rounding::Long).collect();
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
