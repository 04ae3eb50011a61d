//! Times by mass and amounts of salt as straight lines: what a rule gives, without a division.
//!
//! Both give exactly what [`Requirement::time_for`] and the functions of `brine` give, or nothing, and are compared
//! with them.

use crate::answer::TimeEstimate;
use crate::rules::Requirement;
use crate::units::{Duration, DurationUnit, Mass, MassUnit};

/// Milliseconds in a minute: times are rounded up to it.
const MINUTE: i64 = 60_000;

/// Nanograms in a microgram: lines run along whole micrograms, so that their products fit 64 bits.
const MICROGRAM: i64 = 1_000;

/// Whole minutes on a line, rounded up: `(start + rise × micrograms) ÷ width`.
#[derive(Clone, Copy, Debug)]
struct Line {
    start: i64,
    rise: i64,
    width: i64,
    inverse: f64,
}

impl Line {
    /// From milliseconds, more of them for each `run` micrograms; none where the products to `furthest` do not fit.
    fn new(start: Duration, rise: Duration, run: i64, furthest: i64) -> Option<Self> {
        let start = start.steps().checked_mul(run)?;
        rise.steps().checked_mul(furthest)?.checked_add(start)?;
        let width = run.checked_mul(MINUTE)?;
        Some(Self {
            start,
            rise: rise.steps(),
            width,
            inverse: 1.0 / width as f64,
        })
    }

    /// The float is off by one at most, and the remainder tells.
    #[inline]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a quotient of two numbers of 64 bits"
    )]
    fn at(&self, micrograms: i64, unit: DurationUnit) -> Duration {
        let above = self.start + self.rise * micrograms;
        let guess = (above as f64 * self.inverse) as i64;
        let rest = above - guess * self.width;
        let minutes = guess + i64::from(rest > 0) + i64::from(rest > self.width);
        Duration::from_steps(minutes * MINUTE, unit)
    }
}

#[derive(Clone, Copy, Debug)]
enum Times {
    /// Two printed times and the line between them.
    Row {
        low: Duration,
        likely: Line,
        high: Duration,
    },
    /// So long for each unit of mass.
    Rate { low: Line, high: Line },
}

/// The times of a stretch of masses, both ends within.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    from: i64,
    to: i64,
    times: Times,
}

/// The times of a rule by mass.
#[derive(Debug)]
pub(super) struct TimeTable(Vec<Stretch>);

impl TimeTable {
    /// None for a rule that gives no time by mass.
    pub(super) fn of(rule: &Requirement) -> Option<Self> {
        match rule {
            Requirement::TimeByMass { rows, .. } => {
                // A mass on the edge of two rows takes the upper one.
                let rows = rows.iter().rev().map(|row| {
                    let width = row.to.steps() - row.from.steps();
                    let rise = row.high.minus(row.low);
                    let run = (width / MICROGRAM).max(1);
                    Some(Stretch {
                        from: row.from.steps(),
                        to: row.to.steps(),
                        times: Times::Row {
                            low: row.low,
                            likely: Line::new(row.low, rise, run, width.max(0) / MICROGRAM)?,
                            high: row.high,
                        },
                    })
                });
                rows.collect::<Option<_>>().map(Self)
            }
            Requirement::TimePerMass {
                time,
                per,
                time_high,
                plus,
                from,
                to,
                ..
            } => {
                let to = to.map_or(HEAVIEST, Mass::steps);
                let run = (per.steps() / MICROGRAM).max(1);
                let line =
                    |time| Line::new(plus.unwrap_or(Duration::ZERO), time, run, to / MICROGRAM);
                Some(Self(vec![Stretch {
                    from: from.map_or(0, Mass::steps),
                    to,
                    times: Times::Rate {
                        low: line(*time)?,
                        high: line(time_high.unwrap_or(*time))?,
                    },
                }]))
            }
            _ => None,
        }
    }

    /// The time for a mass; none where no row has it.
    #[inline]
    pub(super) fn at(&self, mass: Mass) -> Option<TimeEstimate> {
        let steps = mass.steps();
        let row = self
            .0
            .iter()
            .find(|row| row.from <= steps && steps <= row.to)?;
        Some(match row.times {
            Times::Row { low, likely, high } => TimeEstimate {
                low,
                likely: likely.at((steps - row.from) / MICROGRAM, low.unit()),
                high,
            },
            Times::Rate { low, high } => {
                let unit = DurationUnit::Hour;
                let (low, high) = (
                    low.at(steps / MICROGRAM, unit),
                    high.at(steps / MICROGRAM, unit),
                );
                TimeEstimate {
                    low,
                    likely: Duration::from_steps(i64::midpoint(low.steps(), high.steps()), unit),
                    high,
                }
            }
        })
    }
}

/// The largest mass that a quantity holds.
const HEAVIEST: i64 = 1_000_000_000_000_000;

/// Nanograms in the tenth of a gram that salt is weighed in.
const TENTH: i64 = 100_000_000;

/// Salt in proportion to a mass or a volume, to the nearest tenth of a gram, from 10 g to 100 kg.
#[derive(Clone, Copy, Debug)]
pub(super) struct SaltLine {
    tenths_per_step: f64,
}

impl SaltLine {
    /// From grams for each step of the mass or volume.
    pub(super) const fn new(grams_per_step: f64) -> Self {
        Self {
            tenths_per_step: grams_per_step * 10.0,
        }
    }

    /// None near the half of a tenth: the roundings on the way, each to a step of its quantity, decide there.
    #[inline]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a number beyond the range of whole numbers stops at its end"
    )]
    pub(super) fn at(self, steps: i64) -> Option<Mass> {
        let exact = steps as f64 * self.tenths_per_step;
        let tenths = (exact + 0.5) as i64;
        let certain = (exact - tenths as f64).abs() < 0.499;
        (certain && (100..=1_000_000).contains(&tenths))
            .then(|| Mass::from_steps(tenths * TENTH, MassUnit::Gram))
    }
}
