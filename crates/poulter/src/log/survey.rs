//! What one pass over the readings of a place tells, so that later questions look at a few of them only.

use pulp::{Arch, Simd, WithSimd};

use crate::units::TemperatureUnit;

use super::build::{elapsed_ms, reading_steps, whole};
use super::values::Values;

/// Segments in a run.
pub(crate) const RUN: usize = 64;
/// Readings that are surveyed at a time, just after they were snapped.
const PART: usize = 16 * RUN;
const LANES: usize = 8;

/// The lowest and the highest of some readings; those that are missing are passed over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Range {
    pub(crate) lowest: f64,
    pub(crate) highest: f64,
}

impl Range {
    pub(super) const EMPTY: Self = Self {
        lowest: f64::INFINITY,
        highest: f64::NEG_INFINITY,
    };

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn add(&mut self, x: f64) {
        self.lowest = smaller(x, self.lowest);
        self.highest = larger(x, self.highest);
    }

    pub(super) fn joined(self, other: Self) -> Self {
        let mut both = self;
        both.add(other.lowest);
        both.add(other.highest);
        both
    }
}

/// One pass over the readings of a place and their clock.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Survey {
    /// The range of each run of [`RUN`] segments, the readings at both of its ends included.
    pub(super) ranges: Vec<Range>,
    /// The largest change between two readings.
    pub(super) steepest: f64,
    /// The shortest and the longest time between two rows.
    pub(super) spacing_ms: Range,
    /// The whole time over which the reading did not change.
    pub(super) unchanged_ms: f64,
    /// True when no time and no reading is missing.
    pub(super) is_complete: bool,
}

impl Survey {
    pub(super) const EMPTY: Self = Self {
        ranges: Vec::new(),
        steepest: 0.0,
        spacing_ms: Range::EMPTY,
        unchanged_ms: 0.0,
        is_complete: true,
    };

    pub(super) fn of(clock: &[f64], steps: &[f64]) -> Self {
        struct Pass<'a>(&'a [f64], &'a [f64]);
        impl WithSimd for Pass<'_> {
            type Output = Survey;

            #[inline(always)]
            #[allow(clippy::inline_always)] // compiled once for each instruction set
            fn with_simd<S: Simd>(self, _: S) -> Survey {
                let (mut survey, mut lanes) = (Survey::EMPTY, Lanes::EMPTY);
                survey.runs(&mut lanes, self.0, self.1);
                survey.finish(lanes, self.0, self.1);
                survey
            }
        }
        Arch::new().dispatch(Pass(clock, steps))
    }

    /// The range of all readings.
    pub(super) fn range(&self) -> Range {
        self.ranges
            .iter()
            .copied()
            .fold(Range::EMPTY, Range::joined)
    }

    /// Takes in the segment that ends in `row`, counted from 0.
    pub(super) fn push(&mut self, row: usize, t: (f64, f64), x: (f64, f64)) {
        if (row - 1).is_multiple_of(RUN) {
            self.ranges.push(Range::EMPTY);
        }
        if let Some(range) = self.ranges.last_mut() {
            range.add(x.0);
            range.add(x.1);
        }
        let (dt, change) = (t.1 - t.0, (x.1 - x.0).abs());
        self.spacing_ms.add(dt);
        self.steepest = self.steepest.max(change);
        self.unchanged_ms += if change == 0.0 { dt } else { 0.0 };
        self.is_complete &= dt.is_finite() && change.is_finite();
    }

    /// Takes in the whole runs that are not yet in.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's instruction set is used
    fn runs(&mut self, lanes: &mut Lanes, clock: &[f64], steps: &[f64]) {
        let mut next = self.ranges.len() * RUN;
        while let (Some(t), Some(x)) = (run_at(clock, next), run_at(steps, next)) {
            self.ranges.push(lanes.run(t, x));
            next += RUN;
        }
    }

    /// Takes in what is left after the last whole run.
    fn finish(&mut self, mut lanes: Lanes, clock: &[f64], steps: &[f64]) {
        let from = self.ranges.len() * RUN;
        let left = clock.len().min(steps.len()).saturating_sub(from + 1);
        let to = from + left - left % LANES;
        if from < to
            && let (Some(t), Some(x)) = (clock.get(from..=to), steps.get(from..=to))
        {
            self.ranges.push(lanes.run(t, x));
        }
        lanes.add_to(self);
        let rest = clock.windows(2).zip(steps.windows(2)).enumerate().skip(to);
        for (row, (t, x)) in rest {
            self.push(row + 1, (t[0], t[1]), (x[0], x[1]));
        }
    }
}

/// The readings of the whole run that begins at `row`, or nothing.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn run_at(values: &[f64], row: usize) -> Option<&[f64; RUN + 1]> {
    values.get(row..)?.first_chunk()
}

type Lane = [f64; LANES];

/// A [`Survey`] under way, a lane for each place of a vector.
struct Lanes {
    steepest: Lane,
    shortest: Lane,
    longest: Lane,
    unchanged: Lane,
    missing: [u64; LANES],
}

impl Lanes {
    const EMPTY: Self = Self {
        steepest: [0.0; LANES],
        shortest: [f64::INFINITY; LANES],
        longest: [f64::NEG_INFINITY; LANES],
        unchanged: [0.0; LANES],
        missing: [0; LANES],
    };

    /// Takes in some eights of segments, and gives the range of their readings.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn run(&mut self, t: &[f64], x: &[f64]) -> Range {
        // Beginnings and ends of the segments, eight at a time.
        let eights = t.len().min(x.len()).saturating_sub(1) / LANES;
        let (mut low, mut high) = ([f64::INFINITY; LANES], [f64::NEG_INFINITY; LANES]);
        for at in (0..eights).map(|nth| nth * LANES) {
            let (Some(t0), Some(t1)) = (eight(t, at), eight(t, at + 1)) else {
                continue;
            };
            let (Some(x0), Some(x1)) = (eight(x, at), eight(x, at + 1)) else {
                continue;
            };
            for i in 0..LANES {
                let (dt, change) = (t1[i] - t0[i], (x1[i] - x0[i]).abs());
                // Neither comparison holds for NaN.
                let (read, timed) = (change < f64::INFINITY, dt < f64::INFINITY);
                self.missing[i] |= u64::from(!read) | u64::from(!timed);
                // Whole milliseconds: the sum is exact in any order.
                self.unchanged[i] += if change == 0.0 { dt } else { 0.0 };
                self.steepest[i] = larger(change, self.steepest[i]);
                self.shortest[i] = smaller(dt, self.shortest[i]);
                self.longest[i] = larger(dt, self.longest[i]);
                low[i] = smaller(x1[i], low[i]);
                high[i] = larger(x1[i], high[i]);
            }
        }
        for width in [LANES / 2, LANES / 4, 1] {
            for i in 0..width {
                low[i] = smaller(low[i + width], low[i]);
                high[i] = larger(high[i + width], high[i]);
            }
        }
        let mut range = Range {
            lowest: low[0],
            highest: high[0],
        };
        if let Some(first) = x.first() {
            range.add(*first);
        }
        range
    }

    fn add_to(self, survey: &mut Survey) {
        for i in 0..LANES {
            survey.steepest = survey.steepest.max(self.steepest[i]);
            survey.spacing_ms.add(self.shortest[i]);
            survey.spacing_ms.add(self.longest[i]);
        }
        survey.unchanged_ms += self.unchanged.iter().sum::<f64>();
        survey.is_complete &= self.missing == [0; LANES];
    }
}

#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn smaller(x: f64, than: f64) -> f64 {
    if x < than { x } else { than }
}

#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn larger(x: f64, than: f64) -> f64 {
    if x > than { x } else { than }
}

/// The eight values from `at` on.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn eight(values: &[f64], at: usize) -> Option<&Lane> {
    values.get(at..)?.first_chunk()
}

/// One place of a log on its clock.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Trace<'a> {
    /// Whole milliseconds.
    pub(crate) clock: &'a [f64],
    /// Whole steps.
    pub(crate) steps: &'a [f64],
    /// The range of each run of [`RUN`] segments.
    pub(crate) ranges: &'a [Range],
}

impl<'a> Trace<'a> {
    /// The first rows alone.
    pub(crate) fn until(self, rows: usize) -> Self {
        Self {
            clock: self.clock.get(..rows).unwrap_or(self.clock),
            ..self
        }
    }

    /// The segments run by run: each run's readings, both ends included, and a range that holds them.
    pub(crate) fn runs(self) -> impl Iterator<Item = (&'a [f64], &'a [f64], Range)> {
        let rows = self.clock.len().min(self.steps.len());
        self.ranges
            .iter()
            .enumerate()
            .filter_map(move |(run, range)| {
                let (from, to) = (run * RUN, ((run + 1) * RUN + 1).min(rows));
                Some((self.clock.get(from..to)?, self.steps.get(from..to)?, *range))
            })
    }

    /// The last time of the clock.
    pub(super) fn ends_ms(self) -> Option<i64> {
        self.clock.last().map(|&t| whole(t))
    }
}

/// Whole milliseconds of a column of seconds.
pub(super) struct Clock<'a> {
    pub(super) elapsed_s: &'a [f64],
}

impl WithSimd for Clock<'_> {
    type Output = Values;

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, _: S) -> Values {
        let mut clock = Values::with_capacity(self.elapsed_s.len());
        for times in self.elapsed_s.chunks(RUN) {
            snap(&mut clock, times, elapsed_ms);
        }
        clock
    }
}

/// Adds up to [`RUN`] values as `whole` makes them. An array of fixed length is filled first, so that the loop is
/// vectorised with the caller's instruction set.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn snap(to: &mut Values, values: &[f64], whole: impl Fn(f64) -> f64) {
    let mut snapped = [0.0; RUN];
    if let Some(values) = values.first_chunk::<RUN>() {
        for i in 0..RUN {
            snapped[i] = whole(values[i]);
        }
    } else {
        for (to, from) in snapped.iter_mut().zip(values) {
            *to = whole(*from);
        }
    }
    to.extend_from_slice(snapped.get(..values.len()).unwrap_or(&snapped));
}

/// Whole steps of a column of temperatures, with their survey.
pub(super) struct Column<'a> {
    pub(super) clock: &'a [f64],
    pub(super) values: &'a [f64],
    pub(super) unit: TemperatureUnit,
}

impl WithSimd for Column<'_> {
    type Output = (Values, Survey);

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, _: S) -> (Values, Survey) {
        let mut steps = Values::with_capacity(self.values.len());
        let mut survey = Survey::EMPTY;
        let mut lanes = Lanes::EMPTY;
        // Each part is surveyed while it lies in the cache.
        for part in self.values.chunks(PART) {
            for values in part.chunks(RUN) {
                // One loop a unit, so that each is vectorised.
                match self.unit {
                    TemperatureUnit::Celsius => {
                        snap(&mut steps, values, |v| {
                            reading_steps(v, TemperatureUnit::Celsius)
                        });
                    }
                    TemperatureUnit::Fahrenheit => {
                        snap(&mut steps, values, |v| {
                            reading_steps(v, TemperatureUnit::Fahrenheit)
                        });
                    }
                    TemperatureUnit::Kelvin => {
                        snap(&mut steps, values, |v| {
                            reading_steps(v, TemperatureUnit::Kelvin)
                        });
                    }
                }
            }
            survey.runs(&mut lanes, self.clock, &steps);
        }
        survey.finish(lanes, self.clock, &steps);
        (steps, survey)
    }
}
