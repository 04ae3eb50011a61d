//! What one pass over the readings of a place tells, so that later questions look at a few of them only.

// Every function here is part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use pulp::{Arch, Simd, WithSimd};

use crate::math::{Numbers, Wide};

use super::snap::{Scale, any_ms, elapsed_ms, snap};
use super::trace::RawColumn;
use super::values::Values;

/// Segments in a run.
pub(crate) const RUN: usize = 64;
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
        Arch::new().dispatch(Pass(Snapped { clock, steps }))
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

/// A survey of all rows of a source.
struct Pass<R>(R);

impl<R: Source> WithSimd for Pass<R> {
    type Output = Survey;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Survey {
        let mut rows = self.0;
        let count = rows.count();
        let mut survey = Survey::EMPTY;
        if count == 0 {
            return survey;
        }
        survey.spans.reserve_exact((count - 1).div_ceil(RUN));
        let mut lanes = Lanes::new(simd);
        let mut before = rows.one(0);
        for begin in (1..count).step_by(RUN) {
            let end = (begin + RUN).min(count);
            let registers = Wide::<S>::registers(end - begin);
            let mut row = begin;
            if registers > 0 {
                let began_ms = before.0;
                let mut run = OneRun::new(simd, before);
                for _ in 0..registers {
                    let (t, x) = rows.several(simd, row);
                    lanes.take(&mut run, t, x);
                    row += S::F64_LANES;
                }
                before = (run.t.last(), run.x.last());
                survey.add_span(run.span(began_ms, before.0));
            }
            for row in row..end {
                let here = rows.one(row);
                survey.push(row, (before.0, here.0), (before.1, here.1));
                before = here;
            }
            rows.end_run(end - begin, survey.spans.last());
        }
        lanes.add_to(&mut survey);
        survey
    }
}

/// What a [`Survey`] adds up, in the places of a register.
struct Lanes<S: Simd> {
    shortest: Wide<S>,
    longest: Wide<S>,
    unchanged: Wide<S>,
    /// Infinite or NaN once a time or a reading is missing.
    all: Wide<S>,
}

/// A run under way, in the places of a register.
struct OneRun<S: Simd> {
    /// The rows that were taken last.
    t: Wide<S>,
    x: Wide<S>,
    lowest: Wide<S>,
    highest: Wide<S>,
    steepest: Wide<S>,
}

impl<S: Simd> OneRun<S> {
    #[inline(always)]
    fn new(simd: S, (t, x): (f64, f64)) -> Self {
        let x = Wide::all(simd, x);
        let empty = |end: f64| Wide::all(simd, end);
        Self {
            t: Wide::all(simd, t),
            x,
            lowest: x.smaller(empty(f64::INFINITY)),
            highest: x.larger(empty(f64::NEG_INFINITY)),
            steepest: empty(0.0),
        }
    }

    #[inline(always)]
    fn span(&self, began_ms: f64, ended_ms: f64) -> Span {
        Span {
            began_ms,
            ended_ms,
            range: Range {
                lowest: self.lowest.least(),
                highest: self.highest.greatest(),
            },
            steepest: self.steepest.greatest(),
        }
    }
}

impl<S: Simd> Lanes<S> {
    #[inline(always)]
    fn new(simd: S) -> Self {
        let nought = Wide::all(simd, 0.0);
        Self {
            shortest: Wide::all(simd, f64::INFINITY),
            longest: Wide::all(simd, f64::NEG_INFINITY),
            unchanged: nought,
            all: nought,
        }
    }

    /// Takes in the segments that end in these rows.
    #[inline(always)]
    fn take(&mut self, run: &mut OneRun<S>, t: Wide<S>, x: Wide<S>) {
        let nought = t.like(0.0);
        let dt = t - t.after(run.t);
        let change = (x - x.after(run.x)).abs();
        self.all = self.all + (dt + change);
        // Whole milliseconds: the sum is exact in any order.
        self.unchanged = self.unchanged + change.where_equal(nought, dt, nought);
        self.shortest = dt.smaller(self.shortest);
        self.longest = dt.larger(self.longest);
        run.steepest = change.larger(run.steepest);
        run.lowest = x.smaller(run.lowest);
        run.highest = x.larger(run.highest);
        (run.t, run.x) = (t, x);
    }

    #[inline(always)]
    fn add_to(self, survey: &mut Survey) {
        let spacing = &mut survey.spacing_ms;
        spacing.lowest = self.shortest.least().smaller(spacing.lowest);
        spacing.highest = self.longest.greatest().larger(spacing.highest);
        survey.unchanged_ms += self.unchanged.sum_of_whole();
        survey.is_complete &= self.all.sum_of_whole().is_finite();
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

/// Whole milliseconds of a column of seconds.
pub(super) struct Clock<'a> {
    pub(super) elapsed_s: &'a [f64],
}

impl WithSimd for Clock<'_> {
    type Output = Values;

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> Values {
        let mut clock = Values::noughts(self.elapsed_s.len());
        snap(self.elapsed_s, &mut clock, elapsed_ms);
        clock
    }
}

/// A column of temperatures on a clock of whole milliseconds.
pub(super) struct Column<'a> {
    pub(super) clock: &'a [f64],
    pub(super) values: &'a [f64],
    pub(super) scale: Scale,
}

impl Column<'_> {
    /// Whole steps, with their survey.
    pub(super) fn snapped(self) -> (Values, Survey) {
        let mut steps = Values::noughts(self.values.len());
        let survey = Arch::new().dispatch(Pass(Snapping {
            column: self,
            steps: &mut steps,
        }));
        (steps, survey)
    }
}

/// A column whose steps are written as they are taken.
struct Snapping<'a> {
    column: Column<'a>,
    steps: &'a mut [f64],
}

impl Source for Snapping<'_> {
    #[inline(always)]
    fn count(&self) -> usize {
        self.column.clock.len().min(self.column.values.len())
    }

    #[inline(always)]
    fn one(&mut self, row: usize) -> (f64, f64) {
        let x = self.column.scale.steps(self.column.values[row]);
        self.steps[row] = x;
        (self.column.clock[row], x)
    }

    #[inline(always)]
    fn several<S: Simd>(&mut self, simd: S, row: usize) -> (Wide<S>, Wide<S>) {
        let Column {
            clock,
            values,
            scale,
        } = self.column;
        let x = scale.steps(register(simd, values, row));
        x.store(&mut self.steps[row..row + S::F64_LANES], 0);
        (register(simd, clock, row), x)
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
        Arch::new().dispatch(Pass(Raw::new(self, each)))
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
                let pass = Pass(Raw::new(column, &mut plain));
                let known = pass.with_simd(pulp::Scalar::new());
                let mut others = vec![Noted::default()];
                let mut found = vec![column.survey_with(&mut others[0])];
                #[cfg(target_arch = "x86_64")]
                {
                    use pulp::x86::{V3, V4};
                    let mut noted = Noted::default();
                    let pass = Pass(Raw::new(column, &mut noted));
                    found.extend(V3::try_new().map(|avx2| Simd::vectorize(avx2, pass)));
                    let mut noted_wide = Noted::default();
                    let pass = Pass(Raw::new(column, &mut noted_wide));
                    found.extend(V4::try_new().map(|avx512| Simd::vectorize(avx512, pass)));
                    let ran = found.len() - 1;
                    others.extend([noted, noted_wide].into_iter().take(ran));
                }
                // As text, in which NaN is itself.
                let shown = format!("{known:?} {:?}", plain.0);
                for (survey, noted) in found.iter().zip(&others) {
                    assert_eq!(
                        format!("{survey:?} {:?}", noted.0),
                        shown,
                        "{rows} {value:?}"
                    );
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
