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
use super::{Given, RecordFinding, RecordVerdict, Stretches, record_check};

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
    let (basis, verdict) = judge_holding(book, check, &check.given()?)?;
    Ok(basis.finish(verdict))
}

/// The verdict with its basis still open.
pub(crate) fn judge_holding<'b>(
    book: &'b Rulebook,
    check: &HoldingLogCheck,
    given: &Given<'b>,
) -> Result<(Basis<'b>, RecordVerdict), Error> {
    let mut case = given.case;
    // The United Kingdom's defence for food on cold display is longer than that for hot food.
    if check.holding == Holding::Cold && case.process.is_none() {
        case.process = Some("cold-display");
    }
    let mut basis = Basis::new(book, case)?;
    let mut places = given.inside();
    if places.is_empty() {
        places = given.places(|place| place.role() == PlaceRole::Medium);
        basis.assume("Only what is round the food was logged; the food is taken to follow it.");
    }
    let (main, mut findings) = match check.holding {
        Holding::TimeControl => time_control(&mut basis, given, &places, Topic::HoldTimeControl)?,
        Holding::TimeControlCold => {
            time_control(&mut basis, given, &places, Topic::HoldTimeControlCold)?
        }
        Holding::Hot | Holding::Cold | Holding::Out => held(&mut basis, check, given, &places)?,
    };
    if places.is_empty() {
        findings.push(RecordFinding::missing("a place inside the food", main));
    }
    if let Some(period) = check.period {
        findings.extend(uncovered(given, period, main));
    }
    let verdict = RecordVerdict::of(findings, "Follow the rule for food past its limit.");
    Ok((basis, verdict))
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

type Found<'b> = (&'b Rule, Vec<RecordFinding>);

fn held<'b>(
    basis: &mut Basis<'b>,
    check: &HoldingLogCheck,
    given: &Given<'_>,
    places: &[Place],
) -> Result<Found<'b>, Error> {
    let hot = limit(basis, Topic::HoldHot);
    let cold = limit(basis, Topic::HoldCold);
    let own = match check.holding {
        Holding::Hot => hot,
        Holding::Cold => cold,
        _ => None,
    };
    let clock = OutClock::find(basis, given, hot, cold);
    let main = match (check.holding, own, &clock) {
        (Holding::Out, _, Some(clock)) => clock.rule,
        (Holding::Hot | Holding::Cold, Some((rule, _)), _) => rule,
        _ => {
            let expected = "a standard that prints this limit is needed";
            return Err(
                Error::new(ErrorKind::NoPublishedRow, &check.standard, expected).at("standard"),
            );
        }
    };
    let findings = given.each_place(places, main, Stretches::ShowFailure, |place, log| {
        let mut findings = Vec::new();
        if let Some((rule, limit)) = own {
            findings.push(all_along(rule, &limit, place, log, given));
        }
        if let Some(clock) = &clock {
            let is_out_only = check.holding == Holding::Out;
            findings.extend(clock.judge(place, log, check.surroundings, is_out_only));
        }
        findings
    })?;
    Ok((main, findings))
}

fn limit<'b>(basis: &mut Basis<'b>, topic: Topic) -> Option<(&'b Rule, TemperatureLimit)> {
    let rule = basis.find(topic)?;
    match rule.requirement {
        Requirement::Temperature { limit } => Some((rule, limit)),
        _ => None,
    }
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
        hot: Option<(&'b Rule, TemperatureLimit)>,
        cold: Option<(&'b Rule, TemperatureLimit)>,
    ) -> Option<Self> {
        // Without a printed limit everything on that side counts as out.
        let beyond = |limit: Option<(&Rule, TemperatureLimit)>| match limit {
            None => Bound::Unbounded,
            Some((_, limit)) => match limit.is {
                Comparison::AtLeast | Comparison::AtMost => Bound::Excluded(given.moved(&limit)),
                Comparison::Above | Comparison::Below => Bound::Included(given.moved(&limit)),
            },
        };
        Self::between(basis, beyond(cold), beyond(hot))
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
        let mut periods = log.periods((self.lower, self.upper), Rounding::Long);
        periods.retain(|period| period.lasted > Duration::ZERO);
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

fn time_control<'b>(
    basis: &mut Basis<'b>,
    given: &Given<'_>,
    places: &[Place],
    topic: Topic,
) -> Result<Found<'b>, Error> {
    let rule = basis.require(topic)?;
    let Requirement::TimeAsControl {
        start,
        ceiling,
        limit,
    } = &rule.requirement
    else {
        let expected = "the rule sets no time; follow its words";
        return Err(Error::new(ErrorKind::NoPublishedRow, &rule.id, expected));
    };
    let findings = given.each_place(places, rule, Stretches::ShowNothing, |place, log| {
        let mut findings = vec![at_start(rule, start, place, log, given)];
        if let Some(ceiling) = ceiling {
            findings.push(all_along(rule, ceiling, place, log, given));
        }
        findings.push(in_time(rule, limit, place, log));
        findings
    })?;
    Ok((rule, findings))
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
