//! Times from a rule for a mass.

use crate::answer::TimeEstimate;
use crate::units::{Duration, DurationUnit, Mass};

use super::requirement::{MassRow, Requirement};

impl MassRow {
    /// The time at `mass` on the straight line from the row's shorter to its longer time, rounded up to the minute.
    #[inline]
    fn between(&self, mass: Mass) -> Duration {
        let width = self.to.steps() - self.from.steps();
        let along = (mass.steps() - self.from.steps()).clamp(0, width.max(0));
        // Masses in nanograms times milliseconds overflow 64 bits; microgram steps are fine enough here.
        let extra = self
            .high
            .minus(self.low)
            .times_ratio(along / 1000, (width / 1000).max(1));
        whole_minutes(self.low.plus(extra), self.low.unit())
    }
}

/// Rounded up to the minute: no table is finer, and a time must not come out short.
#[inline]
fn whole_minutes(time: Duration, unit: DurationUnit) -> Duration {
    let minutes = time.steps().div_euclid(60_000) + i64::from(time.steps().rem_euclid(60_000) != 0);
    Duration::from_steps(minutes * 60_000, unit)
}

impl Requirement {
    /// The factor of an "at least so many times as long", as a ratio of whole numbers.
    ///
    /// Thousandths hold every published factor, and keep products with a duration inside 64 bits.
    pub(crate) fn at_least_times(&self) -> Option<(i64, i64)> {
        match self {
            Self::AtLeastTimes { factor, .. } => Some((factor.steps() / 1_000_000, 1000)),
            _ => None,
        }
    }

    /// The time this rule gives for a mass; `None` where the table has no row for it, or the rule is no time.
    ///
    /// A mass on the edge of two rows takes the upper row, which is the longer one: the safe side for planning.
    /// Between the edges the likely time lies on the straight line between the two printed times.
    ///
    /// ```
    /// use poulter::rules::{Case, Rulebook, Topic};
    /// use poulter::units::{Duration, Mass};
    /// let book = Rulebook::builtin();
    /// let rule = book.require(Topic::ThawRefrigerator, &Case::whole_turkey("us-consumer"))?;
    /// let time = rule.requirement.time_for(Mass::parse("14 lb")?).expect("14 lb is in the table");
    /// assert_eq!(time.low, Duration::parse("3 d")?);
    /// assert_eq!(time.likely, Duration::parse("3½ d")?);
    /// assert!(rule.requirement.time_for(Mass::parse("24.1 lb")?).is_none());
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    #[inline]
    pub fn time_for(&self, mass: Mass) -> Option<TimeEstimate> {
        match self {
            Self::TimeByMass { rows, .. } => {
                let row = rows
                    .iter()
                    .rev()
                    .find(|row| row.from <= mass && mass <= row.to)?;
                Some(TimeEstimate {
                    low: row.low,
                    likely: row.between(mass),
                    high: row.high,
                })
            }
            Self::TimePerMass {
                time,
                per,
                time_high,
                plus,
                from,
                to,
                ..
            } => {
                if from.is_some_and(|from| mass < from) || to.is_some_and(|to| mass > to) {
                    return None;
                }
                let plus = plus.unwrap_or(Duration::ZERO);
                let scaled = |time: Duration| {
                    whole_minutes(
                        time.times_ratio(mass.steps() / 1000, (per.steps() / 1000).max(1))
                            .plus(plus),
                        DurationUnit::Hour,
                    )
                };
                let (low, high) = (scaled(*time), scaled(time_high.unwrap_or(*time)));
                let middle = (low.steps() + high.steps() + 1) / 2;
                Some(TimeEstimate {
                    low,
                    likely: Duration::from_steps(middle, DurationUnit::Hour),
                    high,
                })
            }
            Self::TimeRange { low, high, .. } => {
                let middle = (low.steps() + high.steps() + 1) / 2;
                Some(TimeEstimate {
                    low: *low,
                    likely: Duration::from_steps(middle, low.unit()),
                    high: *high,
                })
            }
            _ => None,
        }
    }
}
