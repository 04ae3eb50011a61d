//! A minimum inside, held for a time, read off a log.

use std::borrow::Cow;
use std::ops::Bound;
use std::sync::OnceLock;

use crate::answer::Basis;
use crate::bird;
use crate::error::{Error, ErrorKind};
use crate::log::{Place, Rounding, SoundLog, TemperatureLog};
use crate::rules::{
    Comparison, HoldPoint, Margin, Requirement, Rule, TemperatureLimit, TimeLimit, Topic, Verdict,
};
use crate::units::{Duration, Temperature};

use super::{Given, RecordFinding};

pub(super) struct Minimum<'b> {
    pub(super) rule: &'b Rule,
    pub(super) limit: TemperatureLimit,
    hold: Option<TimeLimit>,
    equivalents: &'b [HoldPoint],
    pub(super) places: &'b [bird::Place],
    /// The words of the rule's own pair, once they are asked for.
    needed: OnceLock<String>,
}

/// A period that was long enough, and by how much.
struct Met {
    at: Duration,
    margin: Option<Duration>,
    point: TemperatureLimit,
    hold: Option<TimeLimit>,
}

const fn at_least(duration: Duration) -> TimeLimit {
    TimeLimit {
        is: Comparison::AtLeast,
        duration,
    }
}

impl<'b> Minimum<'b> {
    /// The minima that judge: the caller's own and the standard's, each of them to be met.
    pub(super) fn all(basis: &mut Basis<'b>, topic: Topic) -> Result<Vec<Self>, Error> {
        // A rule of the caller's that sets no temperature cannot judge one; it is told as looser.
        (basis.must_judge(topic)?.into_iter())
            .filter(|rule| {
                !rule.added_by_caller
                    || matches!(rule.requirement, Requirement::MinimumTemperature { .. })
            })
            .map(Self::of)
            .collect()
    }

    fn of(rule: &'b Rule) -> Result<Self, Error> {
        match &rule.requirement {
            Requirement::MinimumTemperature {
                places,
                limit,
                hold,
                equivalents,
            } => Ok(Self {
                rule,
                limit: *limit,
                hold: *hold,
                equivalents,
                places,
                needed: OnceLock::new(),
            }),
            _ => Err(Error::new(
                ErrorKind::NoPublishedRow,
                &rule.id,
                "the rule names no temperature; follow its words",
            )),
        }
    }

    /// The pairs of temperature and hold that count, the rule's own first.
    fn points(&self) -> impl Iterator<Item = (TemperatureLimit, Option<TimeLimit>)> {
        let equivalents = self.equivalents.iter().map(|point| {
            let limit = TemperatureLimit {
                is: Comparison::AtLeast,
                temperature: point.temperature,
                also_printed: None,
            };
            (limit, Some(at_least(point.hold)))
        });
        std::iter::once((self.limit, self.hold)).chain(equivalents)
    }

    fn needed(&self) -> &str {
        self.needed.get_or_init(|| words(&self.limit, self.hold))
    }

    /// When a place first had what the rule asks for.
    pub(super) fn reached(&self, log: &SoundLog<'_>, given: &Given<'_>) -> Option<Duration> {
        self.met(log, given).map(|met| met.at)
    }

    fn met(&self, log: &SoundLog<'_>, given: &Given<'_>) -> Option<Met> {
        let met = self.points().filter_map(|(point, hold)| {
            let needed = hold.unwrap_or(at_least(Duration::ZERO));
            let period = log
                .periods(at_or_above(&point, given), Rounding::Short)
                .find(|period| needed.judge(period.lasted).0 == Verdict::Meets)?;
            Some(Met {
                at: period.began.plus(needed.duration),
                margin: hold.map(|hold| period.lasted.minus(hold.duration)),
                point,
                hold,
            })
        });
        met.min_by_key(|met| met.at)
    }

    /// Judges one place.
    pub(super) fn judge(
        &self,
        place: &Place,
        log: &SoundLog<'_>,
        given: &Given<'_>,
    ) -> RecordFinding {
        let Some((row, highest)) = extreme(log.log(), place, true) else {
            return RecordFinding::missing(place.name(), self.rule);
        };
        let (by_temperature, margin) = self.limit.judge(given.sure(&self.limit, highest));
        let when = log.log().elapsed(row);
        if let Some(met) = self.met(log, given) {
            let margin = met.margin.map_or(margin, Margin::Duration);
            let pair = if (met.point, met.hold) == (self.limit, self.hold) {
                self.needed().into()
            } else {
                Cow::Owned(words(&met.point, met.hold))
            };
            let text = format!("{place}: highest {highest}; {pair} by {}", met.at.shown());
            return RecordFinding::verdict(Verdict::Meets, text, self.rule, Some(margin))
                .of(place, Some(met.at));
        }
        let needed = self.needed();
        let longest = log
            .periods(at_or_above(&self.limit, given), Rounding::Short)
            .max_by_key(|period| period.lasted);
        if by_temperature == Verdict::Meets
            && let (Some(longest), Some(hold)) = (longest, self.hold)
        {
            let (_, margin) = hold.judge(longest.lasted);
            let held = longest.lasted.shown();
            let text = format!("{place}: held for {held} only; {needed} is needed");
            return RecordFinding::verdict(Verdict::Fails, text, self.rule, Some(margin))
                .of(place, Some(longest.began));
        }
        let text = format!("{place}: highest {highest}; {needed} is needed");
        RecordFinding::verdict(Verdict::Fails, text, self.rule, Some(margin)).of(place, when)
    }
}

fn words(limit: &TemperatureLimit, hold: Option<TimeLimit>) -> String {
    match hold {
        Some(hold) if hold.duration > Duration::ZERO => {
            format!("{} for {}", limit.shown(), hold.shown())
        }
        _ => limit.shown(),
    }
}

/// The safe side of a minimum, moved by the thermometer's error.
pub(super) fn at_or_above(
    limit: &TemperatureLimit,
    given: &Given<'_>,
) -> (Bound<Temperature>, Bound<Temperature>) {
    let moved = given.moved(limit);
    let lower = match limit.is {
        Comparison::Above => Bound::Excluded(moved),
        _ => Bound::Included(moved),
    };
    (lower, Bound::Unbounded)
}

/// The hottest or coldest reading of a place, with its row; the first of equals.
pub(super) fn extreme(
    log: &TemperatureLog,
    place: &Place,
    hottest: bool,
) -> Option<(usize, Temperature)> {
    log.extreme(place, hottest)
}
