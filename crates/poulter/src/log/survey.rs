//! What one pass over the readings of a place tells, so that later questions look at a few of them only.

use pulp::{Arch, Simd, WithSimd};

use crate::math::{Numbers, Wide};
use crate::units::TemperatureUnit;

use super::build::{elapsed_ms, reading_steps};
use super::trace::RawColumn;
use super::values::Values;

/// Segments in a run.
pub(crate) const RUN: usize = 64;
/// Readings that are surveyed at a time, just after they were snapped. Few, so that the next ones come from memory while
/// these are worked on.
pub(super) const PART: usize = 2 * RUN;
/// Segments that are surveyed together: as many as the widest register holds, or a few of a narrower one.
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
            fn with_simd<S: Simd>(self, simd: S) -> Survey {
                let (mut survey, mut lanes) = (Survey::EMPTY, Lanes::new(simd));
                survey.runs(&mut lanes, self.0, self.1);
                lanes.add_to(&mut survey);
                survey
            }
        }
        Arch::new().dispatch(Pass(clock, steps))
    }

    /// The largest change between two readings.
    pub(super) fn steepest(&self) -> f64 {
        let changes = self.spans.iter().map(|span| span.steepest);
        changes.fold(0.0, f64::max)
    }

    /// The range of all readings.
    pub(super) fn range(&self) -> Range {
        let ranges = self.spans.iter().map(|span| span.range);
        ranges.fold(Range::EMPTY, Range::joined)
    }

    /// Takes in the segment that ends in `row`, counted from 0.
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
        self.spacing_ms.add(dt);
        self.unchanged_ms += if change == 0.0 { dt } else { 0.0 };
        self.is_complete &= dt.is_finite() && change.is_finite();
    }

    /// Takes in the runs of some rows, which follow the whole runs before them.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's instruction set is used
    fn runs<S: Simd>(&mut self, lanes: &mut Lanes<S>, clock: &[f64], steps: &[f64]) {
        let mut rows = clock.len().min(steps.len());
        let (mut clock, mut steps) = (clock, steps);
        while rows > 1 {
            let held = RUN.min(rows - 1);
            let (Some(t), Some(x)) = (clock.get(..=held), steps.get(..=held)) else {
                return;
            };
            self.run(lanes, t, x);
            rows -= held;
            clock = clock.get(held..).unwrap_or_default();
            steps = steps.get(held..).unwrap_or_default();
        }
    }

    /// Takes in a run, which may be a short one at the end.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's instruction set is used
    fn run<S: Simd>(&mut self, lanes: &mut Lanes<S>, t: &[f64], x: &[f64]) {
        let first_row = self.spans.len() * RUN;
        if let (Some(t), Some(x)) = (whole_run(t), whole_run(x)) {
            self.spans.extend(lanes.run(t, x));
            return;
        }
        let segments = t.len().min(x.len()).saturating_sub(1);
        let together = segments - segments % LANES;
        if let (true, Some(t), Some(x)) = (together > 0, t.get(..=together), x.get(..=together)) {
            self.spans.extend(lanes.run(t, x));
        }
        let rest = t.windows(2).zip(x.windows(2)).enumerate().skip(together);
        for (row, (t, x)) in rest {
            self.push(first_row + row + 1, (t[0], t[1]), (x[0], x[1]));
        }
    }
}

/// The readings, where they are those of a whole run.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn whole_run(readings: &[f64]) -> Option<&[f64; RUN + 1]> {
    readings.try_into().ok()
}

/// A [`Survey`] under way, in the places of a register.
struct Lanes<S: Simd> {
    simd: S,
    shortest: Wide<S>,
    longest: Wide<S>,
    unchanged: Wide<S>,
    /// Infinite or NaN once a time or a reading is missing.
    all: Wide<S>,
}

impl<S: Simd> Lanes<S> {
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn new(simd: S) -> Self {
        let nought = Wide::all(simd, 0.0);
        Self {
            simd,
            shortest: Wide::all(simd, f64::INFINITY),
            longest: Wide::all(simd, f64::NEG_INFINITY),
            unchanged: nought,
            all: nought,
        }
    }

    /// Takes in some eights of segments, and tells of them.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn run(&mut self, t: &[f64], x: &[f64]) -> Option<Span> {
        let simd = self.simd;
        let (mut low, mut high) = (
            Wide::all(simd, f64::INFINITY),
            Wide::all(simd, f64::NEG_INFINITY),
        );
        let nought = Wide::all(simd, 0.0);
        let mut steepest = nought;
        let mut range = Range::EMPTY;
        let ([began, t1 @ ..], [first, x1 @ ..]) = (t, x) else {
            return None;
        };
        // Beginnings and ends of the segments.
        for at in 0..Wide::<S>::registers(t1.len().min(x1.len())) {
            let dt = Wide::load(simd, t1, at) - Wide::load(simd, t, at);
            let x1 = Wide::load(simd, x1, at);
            let change = (x1 - Wide::load(simd, x, at)).abs();
            self.all = self.all + (dt + change);
            // Whole milliseconds: the sum is exact in any order.
            self.unchanged = self.unchanged + change.where_equal(nought, dt, nought);
            steepest = change.larger(steepest);
            self.shortest = dt.smaller(self.shortest);
            self.longest = dt.larger(self.longest);
            low = x1.smaller(low);
            high = x1.larger(high);
        }
        range.lowest = low.fold(|a, b| b.smaller(a));
        range.highest = high.fold(|a, b| b.larger(a));
        range.add(*first);
        Some(Span {
            began_ms: *began,
            ended_ms: *t1.last()?,
            range,
            steepest: steepest.fold(|a, b| b.larger(a)),
        })
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's instruction set is used
    fn add_to(self, survey: &mut Survey) {
        let (least, most) = (|a: f64, b: f64| b.smaller(a), |a: f64, b: f64| b.larger(a));
        let spacing = &mut survey.spacing_ms;
        spacing.lowest = self.shortest.fold(least).smaller(spacing.lowest);
        spacing.highest = self.longest.fold(most).larger(spacing.highest);
        survey.unchanged_ms += self.unchanged.fold(|a, b| a + b);
        survey.is_complete &= self.all.fold(|a, b| a + b).is_finite();
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
        let mut clock = Values::noughts(self.elapsed_s.len());
        snap(self.elapsed_s, &mut clock, elapsed_ms);
        clock
    }
}

/// Writes the values as `whole` makes them.
#[inline(always)]
#[allow(clippy::inline_always)] // the loop is vectorised with the caller's instruction set
pub(super) fn snap(values: &[f64], to: &mut [f64], whole: impl Fn(f64) -> f64) {
    for (to, from) in to.iter_mut().zip(values) {
        *to = whole(*from);
    }
}

/// Writes the readings as whole steps.
#[inline(always)]
#[allow(clippy::inline_always)] // the loop is vectorised with the caller's instruction set
pub(super) fn snap_readings(values: &[f64], to: &mut [f64], unit: TemperatureUnit) {
    // One loop a unit, so that each is vectorised.
    match unit {
        TemperatureUnit::Celsius => {
            snap(values, to, |v| reading_steps(v, TemperatureUnit::Celsius));
        }
        TemperatureUnit::Fahrenheit => {
            snap(values, to, |v| {
                reading_steps(v, TemperatureUnit::Fahrenheit)
            });
        }
        TemperatureUnit::Kelvin => {
            snap(values, to, |v| reading_steps(v, TemperatureUnit::Kelvin));
        }
    }
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
    fn with_simd<S: Simd>(self, simd: S) -> (Values, Survey) {
        let mut steps = Values::noughts(self.values.len());
        let mut survey = Survey::EMPTY;
        let mut lanes = Lanes::new(simd);
        // Each part is surveyed while it lies in the cache; the last reading of a part begins the next.
        for from in (0..steps.len()).step_by(PART) {
            let to = (from + PART + 1).min(steps.len());
            let rows = from..to;
            if let (Some(values), Some(part)) =
                (self.values.get(rows.clone()), steps.get_mut(rows.clone()))
            {
                snap_readings(values, part, self.unit);
            }
            if let (Some(clock), Some(part)) = (self.clock.get(rows.clone()), steps.get(rows)) {
                survey.runs(&mut lanes, clock, part);
            }
        }
        lanes.add_to(&mut survey);
        (steps, survey)
    }
}

/// What is done with every run of a column while it lies in the cache.
pub(crate) trait EachRun {
    /// Takes milliseconds, steps and what is known of them.
    fn take(&mut self, t: &[f64], x: &[f64], span: &Span);
}

impl RawColumn<'_> {
    /// Surveys the column and hands its runs over, without keeping what was snapped.
    pub(super) fn survey_with(self, each: &mut dyn EachRun) -> Survey {
        Arch::new().dispatch(RawPass { raw: self, each })
    }
}

struct RawPass<'a> {
    raw: RawColumn<'a>,
    each: &'a mut dyn EachRun,
}

impl WithSimd for RawPass<'_> {
    type Output = Survey;

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, simd: S) -> Survey {
        let Self { raw, each } = self;
        let count = raw.elapsed_s.len().min(raw.temperatures.len());
        let (mut survey, mut lanes) = (Survey::EMPTY, Lanes::new(simd));
        let (mut t, mut x) = ([0.0; PART + 1], [0.0; PART + 1]);
        for from in (0..count).step_by(PART) {
            let rows = from..(from + PART + 1).min(count);
            let (Some(times), Some(values)) =
                (raw.elapsed_s.get(rows.clone()), raw.temperatures.get(rows))
            else {
                return survey;
            };
            snap(times, &mut t, elapsed_ms);
            snap_readings(values, &mut x, raw.unit);
            let (t, x) = (&t[..times.len()], &x[..values.len()]);
            let known = survey.spans.len();
            survey.runs(&mut lanes, t, x);
            let spans = survey.spans.get(known..).unwrap_or_default();
            for (run, span) in spans.iter().enumerate() {
                let rows = run * RUN..((run + 1) * RUN + 1).min(t.len());
                if let (Some(t), Some(x)) = (t.get(rows.clone()), x.get(rows)) {
                    each.take(t, x, span);
                }
            }
        }
        lanes.add_to(&mut survey);
        survey
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
                let known = RawPass {
                    raw: column,
                    each: &mut plain,
                }
                .with_simd(pulp::Scalar::new());
                let mut others = vec![Noted::default()];
                let mut found = vec![column.survey_with(&mut others[0])];
                #[cfg(target_arch = "x86_64")]
                {
                    use pulp::x86::{V3, V4};
                    let mut noted = Noted::default();
                    let pass = RawPass {
                        raw: column,
                        each: &mut noted,
                    };
                    found.extend(V3::try_new().map(|avx2| Simd::vectorize(avx2, pass)));
                    let mut noted_wide = Noted::default();
                    let pass = RawPass {
                        raw: column,
                        each: &mut noted_wide,
                    };
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
