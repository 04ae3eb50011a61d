//! What one pass over the readings of a place tells, so that later questions look at a few of them only.

// Every function here is part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use pulp::{Arch, Simd, WithSimd};

use crate::math::{Numbers, Wide};

use super::snap::{Scale, any_ms, elapsed_ms};
use super::trace::RawColumn;

/// Segments in a run.
pub(crate) const RUN: usize = 64;
/// As many segments as the widest register holds.
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

    /// The range of some readings.
    #[inline]
    pub(crate) fn of(readings: &[f64]) -> Self {
        let mut range = Self::EMPTY;
        for x in readings {
            range.add(*x);
        }
        range
    }

    #[inline(always)]
    fn add(&mut self, x: f64) {
        self.lowest = x.smaller(self.lowest);
        self.highest = x.larger(self.highest);
    }

    pub(super) fn joined(self, other: Self) -> Self {
        let mut both = self;
        both.add(other.lowest);
        both.add(other.highest);
        both
    }
}

/// A run of segments: its first time and its last, the range of its readings, both ends included, and the largest change
/// between two of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Span {
    pub(crate) began_ms: f64,
    pub(crate) ended_ms: f64,
    pub(crate) range: Range,
    pub(crate) steepest: f64,
}

/// One pass over the readings of a place and their clock.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Survey {
    /// Each run of [`RUN`] segments.
    pub(super) spans: Vec<Span>,
    /// The range of all readings, and the largest change between two of them.
    pub(super) range: Range,
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
        spans: Vec::new(),
        range: Range::EMPTY,
        steepest: 0.0,
        spacing_ms: Range::EMPTY,
        unchanged_ms: 0.0,
        is_complete: true,
    };

    pub(super) fn of(clock: &[f64], steps: &[f64]) -> Self {
        survey(Arch::new(), Snapped { clock, steps }, Vec::new())
    }

    /// Takes in the segment that ends in `row`, counted from 0.
    #[inline(always)]
    pub(super) fn push(&mut self, row: usize, t: (f64, f64), x: (f64, f64)) {
        if (row - 1).is_multiple_of(RUN) {
            self.spans.push(Span {
                began_ms: t.0,
                ended_ms: t.1,
                range: Range::EMPTY,
                steepest: 0.0,
            });
        }
        let (dt, change) = (t.1 - t.0, (x.1 - x.0).abs());
        if let Some(span) = self.spans.last_mut() {
            span.ended_ms = t.1;
            span.steepest = change.larger(span.steepest);
            span.range.add(x.0);
            span.range.add(x.1);
        }
        self.range.add(x.0);
        self.range.add(x.1);
        self.steepest = change.larger(self.steepest);
        self.spacing_ms.add(dt);
        self.unchanged_ms += if change == 0.0 { dt } else { 0.0 };
        self.is_complete &= dt.is_finite() && change.is_finite();
    }

    #[inline(always)]
    fn add_span(&mut self, span: Span) {
        self.range = self.range.joined(span.range);
        self.steepest = span.steepest.larger(self.steepest);
        self.spans.push(span);
    }
}

/// Rows in order, each of which is taken once.
trait Source {
    fn count(&self) -> usize;
    /// The time and the reading of one row.
    fn one(&mut self, row: usize) -> (f64, f64);
    /// The times and the readings of as many rows as a register holds.
    fn several<S: Simd>(&mut self, simd: S, row: usize) -> (Wide<S>, Wide<S>);
    /// A run of so many segments was taken.
    #[inline(always)]
    fn end_run(&mut self, _segments: usize, _span: Option<&Span>) {}
}

/// Surveys all rows of a source.
fn survey<R: Source>(arch: Arch, mut rows: R, mut spans: Vec<Span>) -> Survey {
    let count = rows.count();
    spans.clear();
    let mut survey = Survey {
        spans,
        ..Survey::EMPTY
    };
    if count == 0 {
        return survey;
    }
    survey.spans.reserve_exact((count - 1).div_ceil(RUN));
    let mut sums = Sums::NONE;
    let mut before = rows.one(0);
    for begin in (1..count).step_by(RUN) {
        let end = (begin + RUN).min(count);
        // The instruction set is chosen run by run: what the registers hold is then all that a run has to do with.
        let run = OneRun {
            rows: &mut rows,
            sums: &mut sums,
            before,
            begin,
            end,
        };
        let (taken, span) = arch.dispatch(run);
        if let Some((span, last)) = span {
            survey.add_span(span);
            before = last;
        }
        for row in begin + taken..end {
            let here = rows.one(row);
            survey.push(row, (before.0, here.0), (before.1, here.1));
            before = here;
        }
        rows.end_run(end - begin, survey.spans.last());
    }
    sums.add_to(&mut survey);
    survey
}

/// What a [`Survey`] adds up, in the places of a register; what the register has no place for stays empty.
struct Sums {
    shortest: [f64; LANES],
    longest: [f64; LANES],
    unchanged: [f64; LANES],
    /// Infinite or NaN once a time or a reading is missing.
    all: [f64; LANES],
}

impl Sums {
    const NONE: Self = Self {
        shortest: [f64::INFINITY; LANES],
        longest: [f64::NEG_INFINITY; LANES],
        unchanged: [0.0; LANES],
        all: [0.0; LANES],
    };

    fn add_to(&self, survey: &mut Survey) {
        let spacing = &mut survey.spacing_ms;
        for at in 0..LANES {
            spacing.lowest = self.shortest[at].smaller(spacing.lowest);
            spacing.highest = self.longest[at].larger(spacing.highest);
            survey.unchanged_ms += self.unchanged[at];
            survey.is_complete &= self.all[at].is_finite();
        }
    }
}

/// The part of a run that fills registers.
struct OneRun<'a, R> {
    rows: &'a mut R,
    sums: &'a mut Sums,
    /// The time and the reading before the first row.
    before: (f64, f64),
    begin: usize,
    end: usize,
}

impl<R: Source> WithSimd for OneRun<'_, R> {
    /// How many rows were taken; what is known of them, and the last.
    type Output = (usize, Option<(Span, (f64, f64))>);

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let Self {
            rows,
            sums,
            before,
            begin,
            end,
        } = self;
        let registers = Wide::<S>::registers(end - begin);
        if registers == 0 {
            return (0, None);
        }
        let all = |value: f64| Wide::all(simd, value);
        let nought = all(0.0);
        let began_ms = before.0;
        let mut before = (all(before.0), all(before.1));
        let mut last = before;
        let mut lowest = before.1.smaller(all(f64::INFINITY));
        let mut highest = before.1.larger(all(f64::NEG_INFINITY));
        let mut steepest = nought;
        let mut shortest = Wide::load(simd, &sums.shortest, 0);
        let mut longest = Wide::load(simd, &sums.longest, 0);
        let mut unchanged = Wide::load(simd, &sums.unchanged, 0);
        let mut total = Wide::load(simd, &sums.all, 0);
        for at in 0..registers {
            let (t, x) = rows.several(simd, begin + at * S::F64_LANES);
            let turned = (t.turned(), x.turned());
            let dt = t - turned.0.after(before.0);
            let change = (x - turned.1.after(before.1)).abs();
            (before, last) = (turned, (t, x));
            total = total + (dt + change);
            // Whole milliseconds: the sum is exact in any order.
            unchanged = unchanged + change.where_equal(nought, dt, nought);
            shortest = dt.smaller(shortest);
            longest = dt.larger(longest);
            steepest = change.larger(steepest);
            lowest = x.smaller(lowest);
            highest = x.larger(highest);
        }
        shortest.store(&mut sums.shortest, 0);
        longest.store(&mut sums.longest, 0);
        unchanged.store(&mut sums.unchanged, 0);
        total.store(&mut sums.all, 0);
        let last = (last.0.last(), last.1.last());
        let span = Span {
            began_ms,
            ended_ms: last.0,
            range: Range {
                lowest: lowest.least(),
                highest: highest.greatest(),
            },
            steepest: steepest.greatest(),
        };
        (registers * S::F64_LANES, Some((span, last)))
    }
}

/// The values from `row` on that fill a register.
#[inline(always)]
fn register<S: Simd>(simd: S, values: &[f64], row: usize) -> Wide<S> {
    Wide::load(simd, &values[row..row + S::F64_LANES], 0)
}

/// Rows in whole milliseconds and steps.
struct Snapped<'a> {
    clock: &'a [f64],
    steps: &'a [f64],
}

impl Source for Snapped<'_> {
    #[inline(always)]
    fn count(&self) -> usize {
        self.clock.len().min(self.steps.len())
    }

    #[inline(always)]
    fn one(&mut self, row: usize) -> (f64, f64) {
        (self.clock[row], self.steps[row])
    }

    #[inline(always)]
    fn several<S: Simd>(&mut self, simd: S, row: usize) -> (Wide<S>, Wide<S>) {
        (
            register(simd, self.clock, row),
            register(simd, self.steps, row),
        )
    }
}

/// A column of temperatures on a clock, whose whole steps are written as they are taken.
pub(super) struct Column<'a> {
    pub(super) clock: Clock<'a>,
    pub(super) values: &'a [f64],
    pub(super) scale: Scale,
    pub(super) steps: &'a mut [f64],
}

/// A clock of whole milliseconds.
pub(super) enum Clock<'a> {
    Snapped(&'a [f64]),
    /// One that is written as its seconds are taken.
    Snapping {
        elapsed_s: &'a [f64],
        clock: &'a mut [f64],
    },
}

impl Column<'_> {
    /// Surveys the column; `spans` is memory that is no longer needed.
    pub(super) fn survey(self, spans: Vec<Span>) -> Survey {
        survey(Arch::new(), self, spans)
    }
}

impl Source for Column<'_> {
    #[inline(always)]
    fn count(&self) -> usize {
        let times = match &self.clock {
            Clock::Snapped(clock) => clock.len(),
            Clock::Snapping { elapsed_s, .. } => elapsed_s.len(),
        };
        times.min(self.values.len())
    }

    #[inline(always)]
    fn one(&mut self, row: usize) -> (f64, f64) {
        let x = self.scale.steps(self.values[row]);
        self.steps[row] = x;
        let t = match &mut self.clock {
            Clock::Snapped(clock) => clock[row],
            Clock::Snapping { elapsed_s, clock } => {
                clock[row] = elapsed_ms(elapsed_s[row]);
                clock[row]
            }
        };
        (t, x)
    }

    #[inline(always)]
    fn several<S: Simd>(&mut self, simd: S, row: usize) -> (Wide<S>, Wide<S>) {
        let x = self.scale.steps(register(simd, self.values, row));
        x.store(&mut self.steps[row..row + S::F64_LANES], 0);
        let t = match &mut self.clock {
            Clock::Snapped(clock) => register(simd, clock, row),
            Clock::Snapping { elapsed_s, clock } => {
                let t = elapsed_ms(register(simd, elapsed_s, row));
                t.store(&mut clock[row..row + S::F64_LANES], 0);
                t
            }
        };
        (t, x)
    }
}

/// What is done with every run of a column while it lies in the cache.
pub(crate) trait EachRun {
    /// Takes milliseconds, steps and what is known of them. Where a value is missing or out of range they mean nothing.
    fn take(&mut self, t: &[f64], x: &[f64], span: &Span);
}

impl RawColumn<'_> {
    /// Surveys the column and hands its runs over, without keeping what was snapped. Values out of range stay what they
    /// are.
    pub(super) fn survey_with(self, each: &mut dyn EachRun) -> Survey {
        survey(Arch::new(), Raw::new(self, each), Vec::new())
    }
}

/// A column of the caller's, whose runs are handed over one by one.
struct Raw<'a> {
    column: RawColumn<'a>,
    scale: Scale,
    each: &'a mut dyn EachRun,
    /// The run under way.
    t: [f64; RUN + 1],
    x: [f64; RUN + 1],
}

impl<'a> Raw<'a> {
    fn new(column: RawColumn<'a>, each: &'a mut dyn EachRun) -> Self {
        Self {
            column,
            scale: Scale::of(column.unit),
            each,
            t: [0.0; RUN + 1],
            x: [0.0; RUN + 1],
        }
    }

    /// Where a row has its place in its run; the first row of all begins the first run.
    #[inline(always)]
    fn place(row: usize) -> usize {
        if row == 0 { 0 } else { (row - 1) % RUN + 1 }
    }
}

impl Source for Raw<'_> {
    #[inline(always)]
    fn count(&self) -> usize {
        let RawColumn {
            elapsed_s,
            temperatures,
            ..
        } = self.column;
        elapsed_s.len().min(temperatures.len())
    }

    #[inline(always)]
    fn one(&mut self, row: usize) -> (f64, f64) {
        let t = any_ms(self.column.elapsed_s[row]);
        let x = self.scale.any_steps(self.column.temperatures[row]);
        let place = Self::place(row);
        (self.t[place], self.x[place]) = (t, x);
        (t, x)
    }

    #[inline(always)]
    fn several<S: Simd>(&mut self, simd: S, row: usize) -> (Wide<S>, Wide<S>) {
        let t = any_ms(register(simd, self.column.elapsed_s, row));
        let x = register(simd, self.column.temperatures, row);
        let x = self.scale.any_steps(x);
        let place = Self::place(row);
        t.store(&mut self.t[place..place + S::F64_LANES], 0);
        x.store(&mut self.x[place..place + S::F64_LANES], 0);
        (t, x)
    }

    #[inline(always)]
    fn end_run(&mut self, segments: usize, span: Option<&Span>) {
        if let Some(span) = span {
            let (t, x) = (&self.t[..=segments], &self.x[..=segments]);
            self.each.take(t, x, span);
        }
        (self.t[0], self.x[0]) = (self.t[segments], self.x[segments]);
    }
}

/// The runs of readings in whole milliseconds and steps.
#[cfg(test)]
pub(crate) fn spans_of(clock: &[f64], steps: &[f64]) -> Vec<Span> {
    Survey::of(clock, steps).spans
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::TemperatureUnit;

    /// Notes every run.
    #[derive(Default)]
    struct Noted(Vec<(Vec<u64>, Span)>);

    impl EachRun for Noted {
        fn take(&mut self, t: &[f64], x: &[f64], span: &Span) {
            let bits = t.iter().chain(x).map(|value| value.to_bits());
            self.0.push((bits.collect(), *span));
        }
    }

    fn raw<'a>(elapsed_s: &'a [f64], temperatures: &'a [f64]) -> RawColumn<'a> {
        RawColumn {
            elapsed_s,
            temperatures,
            unit: TemperatureUnit::Fahrenheit,
        }
    }

    #[test]
    fn every_instruction_set_sees_the_same_whatever_the_readings() {
        let strange = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300];
        for rows in [1_usize, 2, 8, 9, 10, 64, 65, 66, 128, 129, 130, 1030, 3000] {
            let times: Vec<f64> = (0..rows).map(|i| i as f64 * 0.7).collect();
            let temps: Vec<f64> = (0..rows).map(|i| 40.0 + (i * 37 % 101) as f64).collect();
            for (at, value) in strange.iter().copied().map(Some).chain([None]).enumerate() {
                let (mut times, mut temps) = (times.clone(), temps.clone());
                if let Some(value) = value {
                    temps[(rows - 1) * at / 5] = value;
                    times[(rows - 1) / (at + 1)] = value;
                }
                let column = raw(&times, &temps);
                let mut plain = Noted::default();
                let known = survey(Arch::Scalar, Raw::new(column, &mut plain), Vec::new());
                let mut archs = vec![Arch::new()];
                #[cfg(target_arch = "x86_64")]
                {
                    use pulp::x86::{V3, V4};
                    archs.extend(V3::try_new().map(Arch::V3));
                    archs.extend(V4::try_new().map(Arch::V4));
                }
                // As text, in which NaN is itself.
                let shown = format!("{known:?} {:?}", plain.0);
                for arch in archs {
                    let mut noted = Noted::default();
                    let found = survey(arch, Raw::new(column, &mut noted), Vec::new());
                    let found = format!("{found:?} {:?}", noted.0);
                    assert_eq!(found, shown, "{rows} {value:?}");
                }
            }
        }
    }

    #[test]
    fn a_survey_tells_what_one_reading_after_another_tells() {
        for rows in [2_usize, 7, 64, 65, 66, 100, 129, 130, 2000] {
            let t: Vec<f64> = (0..rows).map(|i| (i * i % 1009) as f64 * 100.0).collect();
            let x: Vec<f64> = (0..rows).map(|i| (i * 31 % 97 / 3) as f64 * 9e3).collect();
            let mut one_by_one = Survey::EMPTY;
            for row in 1..rows {
                one_by_one.push(row, (t[row - 1], t[row]), (x[row - 1], x[row]));
            }
            assert_eq!(Survey::of(&t, &x), one_by_one, "{rows}");
        }
    }
}
