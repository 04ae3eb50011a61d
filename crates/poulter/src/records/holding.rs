//! Was it held hot, held cold, or out for too long? A log against a standard's limits.

use std::ops::Bound;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis};
use crate::error::{Error, ErrorKind};
use crate::log::{Dwell, Place, PlaceRole, Rounding, SoundLog};
use crate::rules::{
    Comparison, Counting, Requirement, Rule, Rulebook, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::serve::TimeOut;
use crate::units::{Duration, Temperature};

use super::minimum::extreme;
use super::{Given, Judge, RecordFinding, RecordVerdict, Stretches, record_check};

/// How food is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Holding {
    /// Hot: every reading on the hot side of the limit.
    Hot,
    /// Cold: every reading on the cold side of the limit.
    Cold,
    /// Out of control: only the time between the two limits is judged.
    Out,
    /// Time in place of temperature, from hot.
    TimeControl,
    /// Time in place of temperature, from cold.
    TimeControlCold,
}

record_check! {
    /// "Was this food held safely?"
    HoldingLogCheck {
        /// How it is held.
        holding: Holding,
        /// Air where the food stands; the limit on a hot day hangs on it.
        #[serde(default)]
        surroundings: Option<Temperature>,
        /// How long the log must cover; a shorter one cannot meet anything.
        #[serde(default)]
        period: Option<Duration>,
    }
}

/// Judges a log of hot holding, cold holding, or time out of control.
///
/// Held hot, the lowest reading of every place counts; held cold, the warmest. Time between the two limits is
/// added up as the rule says (all periods, the longest, or one only), exactly, on the straight lines between
/// readings. Without a place inside the food the places round it are judged in its stead.
///
/// # Errors
///
/// A log that cannot be read, an accuracy out of range, an unknown standard, or no published limit.
///
/// ```
/// use poulter::records::{HoldingLogCheck, check_holding_log};
/// use poulter::rules::{Rulebook, Verdict};
/// let check: HoldingLogCheck = serde_json::from_str(
///     r#"{"holding": "hot", "log": {"csv": "elapsed_min,core_temp_degF\n0,141\n10,140\n"}}"#,
/// )?;
/// assert_eq!(check_holding_log(Rulebook::builtin(), &check)?.answer.verdict, Verdict::Meets);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check_holding_log(
    book: &Rulebook,
    check: &HoldingLogCheck,
) -> Result<Answer<RecordVerdict>, Error> {
    let given = check.given()?;
    let (basis, judge) = judge_holding(book, check, &given)?;
    let verdict = judge(&given)?;
    Ok(basis.finish(verdict))
}

/// The check with its rules looked up, and its basis still open.
pub(crate) fn judge_holding<'b>(
    book: &'b Rulebook,
    check: &'b HoldingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, Judge<'b>), Error> {
    let mut case = given.case;
    // The United Kingdom's defence for food on cold display is longer than that for hot food.
    if check.holding == Holding::Cold && case.process.is_none() {
        case.process = Some("cold-display");
    }
    let mut basis = Basis::new(book, case)?;
    if given.explains && given.inside().is_empty() {
        basis.assume("Only what is round the food was logged; the food is taken to follow it.");
    }
    let held = match check.holding {
        Holding::TimeControl => Held::timed(&mut basis, Topic::HoldTimeControl)?,
        Holding::TimeControlCold => Held::timed(&mut basis, Topic::HoldTimeControlCold)?,
        Holding::Hot | Holding::Cold | Holding::Out => Held::limited(&mut basis, check, given)?,
    };
    let judge = move |given: &Given<'_>| {
        let mut places = given.inside();
        if places.is_empty() {
            places = given.places(|place| place.role() == PlaceRole::Medium);
        }
        let mut findings = held.judge(check, given, &places)?;
        if places.is_empty() {
            let place = "a place inside the food";
            findings.push(RecordFinding::missing(place, held.main));
        }
        if let Some(period) = check.period {
            findings.extend(uncovered(given, period, held.main));
        }
        let to_do = "Follow the rule for food past its limit.";
        Ok(RecordVerdict::of(findings, to_do))
    };
    Ok((basis, Box::new(judge)))
}

/// A finding when the log is shorter than the period it must cover.
fn uncovered(given: &Given<'_>, period: Duration, rule: &Rule) -> Option<RecordFinding> {
    let last = given.log.elapsed(given.log.len().saturating_sub(1));
    let covered = match (given.log.elapsed(0), last) {
        (Some(first), Some(last)) if last > first => last.minus(first),
        _ => Duration::ZERO,
    };
    if covered >= period {
        return None;
    }
    let text = format!(
        "The log covers {} of the {} asked for",
        covered.shown(),
        period.shown()
    );
    Some(RecordFinding::verdict(
        Verdict::CannotTell,
        text,
        rule,
        None,
    ))
}

/// The rules that judge food that is held.
struct Held<'b> {
    main: &'b Rule,
    limits: Vec<(&'b Rule, TemperatureLimit)>,
    clock: Option<OutClock<'b>>,
    timed: Vec<TimeInstead<'b>>,
}

/// Time in place of temperature.
struct TimeInstead<'b> {
    rule: &'b Rule,
    start: &'b TemperatureLimit,
    ceiling: Option<&'b TemperatureLimit>,
    limit: &'b TimeLimit,
}

impl<'b> Held<'b> {
    fn limited(
        basis: &mut Basis<'b>,
        check: &HoldingLogCheck,
        given: &Given<'_>,
    ) -> Result<Self, Error> {
        let hot = limits(basis, Topic::HoldHot);
        let cold = limits(basis, Topic::HoldCold);
        let clock = OutClock::find(basis, given, &hot, &cold);
        let limits = match check.holding {
            Holding::Hot => hot,
            Holding::Cold => cold,
            _ => Vec::new(),
        };
        let main = match (check.holding, limits.first(), &clock) {
            (Holding::Out, _, Some(clock)) => clock.rule,
            (Holding::Hot | Holding::Cold, Some((rule, _)), _) => rule,
            _ => {
                let expected = "a standard that prints this limit is needed";
                let error = Error::new(ErrorKind::NoPublishedRow, &check.standard, expected);
                return Err(error.at("standard"));
            }
        };
        Ok(Self {
            main,
            limits,
            clock,
            timed: Vec::new(),
        })
    }

    fn timed(basis: &mut Basis<'b>, topic: Topic) -> Result<Self, Error> {
        let timed: Vec<TimeInstead<'b>> = (basis.must_judge(topic)?.into_iter())
            .filter_map(|rule| match &rule.requirement {
                Requirement::TimeAsControl {
                    start,
                    ceiling,
                    limit,
                } => Some(TimeInstead {
                    rule,
                    start,
                    ceiling: ceiling.as_ref(),
                    limit,
                }),
                _ => None,
            })
            .collect();
        let expected = "a standard whose rule sets a time is needed";
        let error = || Error::new(ErrorKind::NoPublishedRow, basis.case.standard, expected);
        Ok(Self {
            main: timed.first().ok_or_else(error)?.rule,
            limits: Vec::new(),
            clock: None,
            timed,
        })
    }

    fn judge(
        &self,
        check: &HoldingLogCheck,
        given: &Given<'_>,
        places: &[Place],
    ) -> Result<Vec<RecordFinding>, Error> {
        if !self.timed.is_empty() {
            let judged = self.timed.iter().map(|timed| timed.judge(given, places));
            return Ok(judged.collect::<Result<Vec<_>, _>>()?.concat());
        }
        given.each_place(places, self.main, Stretches::ShowFailure, |place, log| {
            let mut findings = Vec::new();
            for (rule, limit) in &self.limits {
                findings.push(all_along(rule, limit, place, log, given));
            }
            if let Some(clock) = &self.clock {
                let is_out_only = check.holding == Holding::Out;
                findings.extend(clock.judge(place, log, check.surroundings, is_out_only));
            }
            findings
        })
    }
}

impl TimeInstead<'_> {
    fn judge(&self, given: &Given<'_>, places: &[Place]) -> Result<Vec<RecordFinding>, Error> {
        let rule = self.rule;
        given.each_place(places, rule, Stretches::ShowNothing, |place, log| {
            let mut findings = vec![at_start(rule, self.start, place, log, given)];
            if let Some(ceiling) = self.ceiling {
                findings.push(all_along(rule, ceiling, place, log, given));
            }
            findings.push(in_time(rule, self.limit, place, log));
            findings
        })
    }
}

/// The limits that judge: the caller's own, and the standard's.
pub(super) fn limits<'b>(basis: &mut Basis<'b>, topic: Topic) -> Vec<(&'b Rule, TemperatureLimit)> {
    (basis.judging(topic).into_iter())
        .filter_map(|rule| match rule.requirement {
            Requirement::Temperature { limit } => Some((rule, limit)),
            _ => None,
        })
        .collect()
}

/// Every reading of a place on the right side of a limit.
pub(super) fn all_along(
    rule: &Rule,
    limit: &TemperatureLimit,
    place: &Place,
    log: &SoundLog<'_>,
    given: &Given<'_>,
) -> RecordFinding {
    let hottest = matches!(limit.is, Comparison::AtMost | Comparison::Below);
    let Some((row, reading)) = extreme(log.log(), place, hottest) else {
        return RecordFinding::missing(place.name(), rule);
    };
    let (verdict, margin) = limit.judge(given.sure(limit, reading));
    let word = if hottest { "warmest" } else { "lowest" };
    let text = format!("{place}: {word} {reading}; {} is needed", limit.shown());
    RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, log.log().elapsed(row))
}

/// The clock of food between the cold and the hot limit.
pub(super) struct OutClock<'b> {
    pub(super) rule: &'b Rule,
    limits: TimeOut<'b>,
    counting: Counting,
    lower: Bound<Temperature>,
    upper: Bound<Temperature>,
}

impl<'b> OutClock<'b> {
    fn find(
        basis: &mut Basis<'b>,
        given: &Given<'_>,
        hot: &[(&Rule, TemperatureLimit)],
        cold: &[(&Rule, TemperatureLimit)],
    ) -> Option<Self> {
        let bound = |limit: &TemperatureLimit| match limit.is {
            Comparison::AtLeast | Comparison::AtMost => Bound::Excluded(given.moved(limit)),
            Comparison::Above | Comparison::Below => Bound::Included(given.moved(limit)),
        };
        // Without a printed limit everything on that side counts as out; of several the strictest bounds the clock.
        let strictest_hot = hot.iter().max_by_key(|(_, limit)| limit.temperature);
        let strictest_cold = cold.iter().min_by_key(|(_, limit)| limit.temperature);
        let beyond = |limit: Option<&(&Rule, TemperatureLimit)>| {
            limit.map_or(Bound::Unbounded, |(_, limit)| bound(limit))
        };
        Self::between(basis, beyond(strictest_cold), beyond(strictest_hot))
    }

    /// A clock with no upper end: everything above the cold limit is out.
    pub(super) fn above(
        basis: &mut Basis<'b>,
        given: &Given<'_>,
        cold: &TemperatureLimit,
    ) -> Option<Self> {
        Self::between(basis, Bound::Excluded(given.moved(cold)), Bound::Unbounded)
    }

    fn between(
        basis: &mut Basis<'b>,
        lower: Bound<Temperature>,
        upper: Bound<Temperature>,
    ) -> Option<Self> {
        let topics = [Topic::HoldOut, Topic::HoldOutHotDay];
        let usual =
            basis
                .every(Topic::HoldOut)
                .into_iter()
                .find_map(|rule| match &rule.requirement {
                    Requirement::Time {
                        counting,
                        surroundings: None,
                        ..
                    } => Some((rule, *counting)),
                    _ => None,
                });
        let limits = TimeOut::find(basis, &topics, &mut Vec::new())?;
        let (rule, counting) = usual?;
        Some(Self {
            rule,
            limits,
            counting,
            lower,
            upper,
        })
    }

    /// Judges the time out of one place; nothing when it never was out, unless `always`.
    pub(super) fn judge(
        &self,
        place: &Place,
        log: &SoundLog<'_>,
        surroundings: Option<Temperature>,
        always: bool,
    ) -> Option<RecordFinding> {
        let periods = log.periods((self.lower, self.upper), Rounding::Long);
        let periods: Vec<Dwell> = periods
            .filter(|period| period.lasted > Duration::ZERO)
            .collect();
        let began = periods.first().map(|period| period.began);
        if began.is_none() && !always {
            return None;
        }
        if self.counting == Counting::Once && periods.len() > 1 {
            let text = format!("{place}: out {} times; once is allowed", periods.len());
            let second = periods.get(1).map(|period| period.began);
            return Some(
                RecordFinding::verdict(Verdict::Fails, text, self.rule, None).of(place, second),
            );
        }
        let taken = counted(&periods, self.counting);
        let mut finding = RecordFinding::from(self.limits.judge(taken, surroundings));
        finding.finding.text = format!("{place}: {}", finding.finding.text);
        Some(finding.of(place, began))
    }
}

pub(super) fn counted(periods: &[Dwell], counting: Counting) -> Duration {
    let each = periods.iter().map(|period| period.lasted);
    match counting {
        Counting::Cumulative | Counting::Once => each.fold(Duration::ZERO, Duration::plus),
        Counting::Single => each.max().unwrap_or(Duration::ZERO),
    }
}

fn at_start(
    rule: &Rule,
    start: &TemperatureLimit,
    place: &Place,
    log: &SoundLog<'_>,
    given: &Given<'_>,
) -> RecordFinding {
    let Some(reading) = log.log().temperature(place, 0) else {
        return RecordFinding::missing(place.name(), rule);
    };
    let (verdict, margin) = start.judge(given.sure(start, reading));
    let text = format!(
        "{place}: {reading} at the start; {} is needed",
        start.shown()
    );
    RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, log.log().elapsed(0))
}

fn in_time(rule: &Rule, limit: &TimeLimit, place: &Place, log: &SoundLog<'_>) -> RecordFinding {
    let (verdict, margin) = limit.judge(log.lasted());
    let text = format!(
        "{place}: {} without control; {} is allowed",
        log.lasted().shown(),
        limit.shown()
    );
    RecordFinding::verdict(verdict, text, rule, Some(margin)).of(place, None)
}
