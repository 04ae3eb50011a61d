//! The cardinal rate added up along many readings, in blocks whose steps stay in registers.
//!
//! The rate is a cubic over a straight line, so its mean along a segment has a closed form. With s = T − T₀, T₀ the
//! pole of the rate, µ = k [s² − (h + 2l) s + (l² + 2hl) − h l²/s], where h and l are Tmax and Tmin less T₀. Over a
//! segment with middle m and half width d the mean of s² is m² + d²/3 and that of 1/s is atanh(w)/(w m), w = d/m.
//! Nothing cancels, however short the segment. A long one is cut at Tmin and Tmax and takes atanh from a logarithm.

// Most functions here are part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use pulp::{Arch, Simd, WithSimd};

use crate::log::{RUN, Range, Room, STEPS_PER_KELVIN, Span, Trace};
use crate::math::{self, Numbers, Wide};

use super::rate::{CardinalRate, celsius, celsius_of_steps};

/// Segments in a block: a run, so that the range of a run is that of a block.
const BLOCK: usize = RUN;
const LANES: usize = 8;

/// Largest |w| for which [`atanh_over`] may be used.
const SMALL_W: f64 = 0.1;

/// Largest |w| for which [`atanh_over_near`] may be used.
const TINY_W: f64 = 0.01;

/// The mean of a cardinal rate along a straight line.
#[derive(Clone, Copy)]
pub(super) struct MeanRate {
    lowest: f64,
    highest: f64,
    pole: f64,
    scale: f64,
    linear: f64,
    constant: f64,
    inverse: f64,
}

/// A straight line: its middle less the pole, half its width, and their quotient w.
#[derive(Clone, Copy)]
struct Line<N> {
    middle: N,
    half: N,
    one_over: N,
    w: N,
}

/// atanh(w)/w for |w| ≤ 0.1 from its series; what is left out is below 10⁻¹⁷.
#[inline(always)]
fn atanh_over<N: Numbers>(w: N) -> N {
    let c = |value: f64| w.like(value);
    let w2 = w * w;
    let w4 = w2 * w2;
    let low = (c(1.0) + w2 * c(1.0 / 3.0)) + (c(1.0 / 5.0) + w2 * c(1.0 / 7.0)) * w4;
    let high = (c(1.0 / 9.0) + w2 * c(1.0 / 11.0)) + (c(1.0 / 13.0) + w2 * c(1.0 / 15.0)) * w4;
    low + high * (w4 * w4)
}

/// The same for |w| ≤ 0.01.
#[inline(always)]
fn atanh_over_near<N: Numbers>(w: N) -> N {
    let c = |value: f64| w.like(value);
    let w2 = w * w;
    (c(1.0) + w2 * c(1.0 / 3.0)) + (c(1.0 / 5.0) + w2 * c(1.0 / 7.0)) * (w2 * w2)
}

impl MeanRate {
    /// Nothing where the pole lies so far off that the terms would cancel.
    pub(super) fn of(rate: &CardinalRate) -> Option<Self> {
        let (low, best, high) = (
            celsius(rate.lowest),
            celsius(rate.best),
            celsius(rate.highest),
        );
        let (above, below) = (best - low, best - high);
        let gradient = above + 2.0 * below;
        if gradient.abs() < 0.25 * above {
            return None;
        }
        let pole = (above * best + below * (best + low)) / gradient;
        let (h, l) = (high - pole, low - pole);
        Some(Self {
            lowest: low,
            highest: high,
            pole,
            scale: rate.best_rate_per_h / (above * gradient),
            linear: h + 2.0 * l,
            constant: l * l + 2.0 * h * l,
            inverse: h * l * l,
        })
    }

    /// The line between two temperatures inside Tmin and Tmax.
    #[inline(always)]
    fn line<N: Numbers>(&self, from: N, to: N) -> Line<N> {
        let middle = from.like(0.5) * (from + to) - from.like(self.pole);
        let half = from.like(0.5) * (to - from);
        let one_over = from.like(1.0) / middle;
        Line {
            middle,
            half,
            one_over,
            w: half * one_over,
        }
    }

    /// The mean along a line, given atanh(w)/w.
    #[inline(always)]
    fn mean<N: Numbers>(&self, line: Line<N>, atanh_over: N) -> N {
        let Line {
            middle: m,
            half: d,
            one_over,
            ..
        } = line;
        let c = |value: f64| m.like(value);
        let squares = m * m + d * d * c(1.0 / 3.0);
        let sum = squares - c(self.linear) * m + c(self.constant);
        let mean = c(self.scale) * (sum - c(self.inverse) * (one_over * atanh_over));
        // Rounding may leave a rate just inside the ends below nought.
        mean.larger(c(0.0))
    }

    /// The integral over any straight line that takes `time`.
    pub(super) fn integral(&self, time: f64, from: f64, to: f64) -> f64 {
        let low = from.min(to).max(self.lowest);
        let high = from.max(to).min(self.highest);
        if low > high || (low == high && from != to) {
            return 0.0;
        }
        // Only the share of the line between Tmin and Tmax counts.
        let share = if from == to {
            1.0
        } else {
            (high - low) / (to - from).abs()
        };
        let line = self.line(low, high);
        let w = line.w;
        let ratio = if w.abs() <= SMALL_W {
            atanh_over(w)
        } else {
            0.5 * (math::ln_1p(w) - math::ln_1p(-w)) / w
        };
        time * share * self.mean(line, ratio)
    }
}

/// The rate times milliseconds of the runs so far.
struct Sum {
    mean: MeanRate,
    lanes: [f64; LANES],
}

impl Sum {
    fn new(rate: &CardinalRate) -> Option<Self> {
        let (mean, lanes) = (MeanRate::of(rate)?, [0.0; LANES]);
        Some(Self { mean, lanes })
    }

    fn total(&self) -> f64 {
        let [a, b, c, d, e, f, g, h] = self.lanes;
        ((a + b) + (c + d)) + ((e + f) + (g + h))
    }

    #[inline(always)]
    fn add<S: Simd>(&mut self, simd: S, clock: &[f64], steps: &[f64], reach: Reach) {
        let mut room = Room::EMPTY;
        let (t, x) = room.whole(clock, steps);
        self.block(simd, t, x, reach);
    }
}

struct TracePass<'a> {
    sum: Sum,
    trace: Trace<'a>,
}

impl WithSimd for TracePass<'_> {
    type Output = f64;

    #[inline(always)]
    fn with_simd<S: Simd>(mut self, simd: S) -> f64 {
        let mut room = Room::EMPTY;
        for run in self.trace.runs() {
            if let Some(reach) = self.sum.mean.reach(&run.span) {
                let (clock, steps) = run.read(&mut room);
                self.sum.add(simd, clock, steps, reach);
            }
        }
        self.sum.total()
    }
}

struct Pass<'a> {
    sum: Sum,
    clock: &'a [f64],
    steps: &'a [f64],
}

impl WithSimd for Pass<'_> {
    type Output = f64;

    #[inline(always)]
    fn with_simd<S: Simd>(mut self, simd: S) -> f64 {
        let count = self.clock.len().min(self.steps.len());
        for from in (0..count).step_by(BLOCK) {
            let rows = from..(from + BLOCK + 1).min(count);
            if let (Some(clock), Some(steps)) = (self.clock.get(rows.clone()), self.steps.get(rows))
            {
                let changes = steps.windows(2).map(|x| (x[1] - x[0]).abs());
                let steepest = changes.fold(0.0, f64::max);
                let reach = Reach {
                    inside: false,
                    tiny: self.sum.mean.is_tiny(Range::of(steps), steepest),
                };
                self.sum.add(simd, clock, steps, reach);
            }
        }
        self.sum.total()
    }
}

/// What is known of the readings of a block.
#[derive(Clone, Copy)]
struct Reach {
    /// They lie between Tmin and Tmax.
    inside: bool,
    /// No |w| is above [`TINY_W`].
    tiny: bool,
}

impl MeanRate {
    /// Nothing where a run lies wholly at or below Tmin, or wholly at or above Tmax.
    fn reach(&self, span: &Span) -> Option<Reach> {
        let low = celsius_of_steps(span.range.lowest);
        let high = celsius_of_steps(span.range.highest);
        if high <= self.lowest || low >= self.highest {
            return None;
        }
        Some(Reach {
            inside: low >= self.lowest && high <= self.highest,
            tiny: self.is_tiny(span.range, span.steepest),
        })
    }

    /// Whether no |w| between Tmin and Tmax is above [`TINY_W`].
    fn is_tiny(&self, range: Range, steepest: f64) -> bool {
        let low = celsius_of_steps(range.lowest);
        let high = celsius_of_steps(range.highest);
        // The pole lies outside Tmin and Tmax, so what lies between them comes nearest to it at an end.
        let to_pole = |celsius: f64| (celsius - self.pole).abs();
        let nearest = to_pole(low.max(self.lowest)).min(to_pole(high.min(self.highest)));
        0.5 * steepest <= TINY_W * STEPS_PER_KELVIN * nearest
    }
}

impl Sum {
    /// Adds rate times milliseconds of one block.
    #[inline(always)]
    fn block<S: Simd>(
        &mut self,
        simd: S,
        t: &[f64; BLOCK + 1],
        steps: &[f64; BLOCK + 1],
        reach: Reach,
    ) {
        let mut part = [0.0; BLOCK];
        let all = |value: f64| Wide::all(simd, value);
        let (mut t_before, mut x_before) = (all(t[0]), all(celsius_of_steps(steps[0])));
        let mut widest = all(0.0);
        for at in 0..Wide::<S>::registers(BLOCK) {
            let t1 = Wide::load(simd, &t[1..], at);
            let x1 = celsius_of_steps(Wide::load(simd, &steps[1..], at));
            let turned = (t1.turned(), x1.turned());
            let (t0, x0) = (turned.0.after(t_before), turned.1.after(x_before));
            (t_before, x_before) = turned;
            let line = self.mean.line(x0, x1);
            let ratio = if reach.tiny {
                atanh_over_near(line.w)
            } else {
                atanh_over(line.w)
            };
            widest = line.w.abs().larger(widest);
            (self.mean.mean(line, ratio) * (t1 - t0)).store(&mut part, at);
        }
        if !reach.inside || widest.greatest() > SMALL_W {
            self.mend(simd, &mut part, t, steps);
        }
        for at in 0..BLOCK / LANES {
            for i in 0..LANES {
                self.lanes[i] += part[at * LANES + i];
            }
        }
    }

    /// Leaves out what lies at or outside Tmin and Tmax, and works out one by one what the closed form of a short line
    /// inside does not fit.
    #[inline(always)]
    fn mend<S: Simd>(
        &self,
        simd: S,
        part: &mut [f64; BLOCK],
        t: &[f64; BLOCK + 1],
        steps: &[f64; BLOCK + 1],
    ) {
        let all = |value: f64| Wide::all(simd, value);
        let (lowest, highest) = (all(self.mean.lowest), all(self.mean.highest));
        let (yes, no) = (all(1.0), all(0.0));
        for at in 0..Wide::<S>::registers(BLOCK) {
            let x0 = celsius_of_steps(Wide::load(simd, &steps[..BLOCK], at));
            let x1 = celsius_of_steps(Wide::load(simd, &steps[1..], at));
            let w = self.mean.line(x0, x1).w.abs();
            let (low, high) = (x0.smaller(x1), x0.larger(x1));
            let fits = low.where_less(lowest, no, highest.where_less(high, no, yes));
            let fits = all(SMALL_W).where_less(w, no, fits);
            let grows = lowest.where_less(high, low.where_less(highest, yes, no), no);
            let known = Wide::load(simd, part, at);
            no.where_less(grows, known, no).store(part, at);
            if (grows - fits).greatest() > 0.0 {
                let first = at * S::F64_LANES;
                for i in first..first + S::F64_LANES {
                    self.mend_one(part, i, t, steps);
                }
            }
        }
    }

    #[inline(never)]
    fn mend_one(
        &self,
        part: &mut [f64; BLOCK],
        i: usize,
        t: &[f64; BLOCK + 1],
        steps: &[f64; BLOCK + 1],
    ) {
        let (from, to) = (celsius_of_steps(steps[i]), celsius_of_steps(steps[i + 1]));
        let inside = from.min(to) >= self.mean.lowest && from.max(to) <= self.mean.highest;
        if !inside || self.mean.line(from, to).w.abs() > SMALL_W {
            part[i] = self.mean.integral(t[i + 1] - t[i], from, to);
        }
    }
}

/// ∫ µ dt along a trace, in rate times milliseconds; nothing where the rate has no closed form that holds.
pub(super) fn integrate_trace(rate: &CardinalRate, trace: Trace<'_>) -> Option<f64> {
    let sum = Sum::new(rate)?;
    Some(Arch::new().dispatch(TracePass { sum, trace }))
}

/// The same along readings in steps.
pub(super) fn integrate(rate: &CardinalRate, clock: &[f64], steps: &[f64]) -> Option<f64> {
    let sum = Sum::new(rate)?;
    Some(Arch::new().dispatch(Pass { sum, clock, steps }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::spans_of;
    use crate::units::Temperature;

    fn rate(best: &str) -> CardinalRate {
        CardinalRate {
            lowest: Temperature::parse("8.8 °C").unwrap(),
            best: Temperature::parse(best).unwrap(),
            highest: Temperature::parse("51.5 °C").unwrap(),
            best_rate_per_h: 6.06,
        }
    }

    /// The closed form where it holds, as `GrowthModel::over` takes it.
    fn integral(rate: &CardinalRate, clock: &[f64], steps: &[f64]) -> f64 {
        let segments = clock.windows(2).zip(steps.windows(2));
        let of = |(t, x): (&[f64], &[f64])| {
            rate.integral(t[1] - t[0], celsius_of_steps(x[0]), celsius_of_steps(x[1]))
        };
        integrate(rate, clock, steps).unwrap_or_else(|| segments.map(of).sum())
    }

    /// From 55 °C down to 5 °C in `rows` steps, and back.
    fn log(rows: u32) -> (Vec<f64>, Vec<f64>) {
        (0..=2 * rows)
            .map(|i| {
                let down = f64::from(i.min(2 * rows - i)) / f64::from(rows);
                let steps = ((55.0 - 50.0 * down + 273.15) * 9e3).round();
                (f64::from(i) * 10_000.0, steps)
            })
            .unzip()
    }

    #[test]
    fn one_hour_along_a_line_is_what_mpmath_finds() {
        // mpmath 1.4, quad of 40 digits in parts. The pole is near at 51.4 °C and 31 °C, far off at 39.7 °C and 37 °C.
        for (best, across, inside, short) in [
            (
                "46.4 °C",
                2.279_630_145_367_84,
                2.748_328_957_433_864_5,
                5.955_047_819_133_571,
            ),
            (
                "51.4 °C",
                1.740_791_780_436_826,
                1.955_087_073_103_551_2,
                4.397_368_974_435_252,
            ),
            (
                "39.7 °C",
                2.760_269_292_654_677_5,
                3.416_562_075_016_636,
                5.109_171_011_024_401,
            ),
            (
                "37 °C",
                2.927_436_718_559_063_5,
                3.633_919_332_830_420_7,
                4.396_415_771_109_726_5,
            ),
            (
                "32 °C",
                3.260_716_751_206_805_6,
                4.057_167_985_229_85,
                3.376_969_037_716_553_8,
            ),
            (
                "31 °C",
                3.349_056_810_537_676,
                4.167_045_653_277_73,
                3.232_187_482_240_173,
            ),
        ] {
            let rate = rate(best);
            for (from, to, expected) in [
                (5.0, 55.0, across),
                (10.0, 50.0, inside),
                (44.0, 46.0, short),
            ] {
                for (from, to) in [(from, to), (to, from)] {
                    let clock = [0.0, 3_600_000.0];
                    let steps = [from, to].map(|t: f64| ((t + 273.15) * 9e3).round());
                    let ours = integral(&rate, &clock, &steps) / 3_600_000.0;
                    assert!(
                        (ours / expected - 1.0).abs() < 1e-12,
                        "{best} {from}: {ours} {expected}"
                    );
                }
            }
        }
    }

    #[test]
    fn many_short_lines_are_one_long_one() {
        for best in ["46.4 °C", "40 °C", "37 °C", "32 °C"] {
            let rate = rate(best);
            let (clock, steps) = log(1);
            let whole = integral(&rate, &clock, &steps);
            for rows in [10, 50, 1000] {
                let (clock, steps) = log(rows);
                let ours = integral(&rate, &clock, &steps) / f64::from(rows);
                assert!(
                    (ours / whole - 1.0).abs() < 1e-12,
                    "{best} {rows}: {ours} {whole}"
                );
            }
        }
    }

    #[test]
    fn every_series_holds_up_to_its_limit_and_past_it() {
        // Two readings by turns, so that |w| is a millionth under, at and over the limit of a series.
        let rate = rate("46.4 °C");
        let mean = MeanRate::of(&rate).unwrap();
        let clock: Vec<f64> = (0..=BLOCK).map(|i| i as f64 * 1e3).collect();
        for limit in [TINY_W, SMALL_W] {
            for share in [1.0 - 1e-6, 1.0, 1.0 + 1e-6] {
                let (from, m) = (20.0, 20.0 - mean.pole);
                let w = limit * share;
                let to = mean.pole + m * (1.0 + w) / (1.0 - w);
                let steps =
                    |i: usize| ((if i.is_multiple_of(2) { from } else { to }) + 273.15) * 9e3;
                let steps: Vec<f64> = (0..=BLOCK).map(steps).collect();
                let spans = spans_of(&clock, &steps);
                let trace = Trace::snapped(&clock, &steps, &spans);
                let ours = integrate_trace(&rate, trace).unwrap();
                let one = mean.integral(1e3, from, to) * BLOCK as f64;
                assert!(
                    (ours / one - 1.0).abs() < 1e-14,
                    "{limit} {share}: {ours} {one}"
                );
            }
        }
    }

    #[test]
    fn a_run_across_the_pole_is_as_near_to_it_as_the_limit() {
        // Half a step over what lies between 51.5 °C and the pole is a share of the limit of the short series.
        let mean = MeanRate::of(&rate("46.4 °C")).unwrap();
        let gap = mean.pole - mean.highest;
        for (share, tiny) in [(1.0 - 1e-6, true), (1.0 + 1e-6, false)] {
            let span = Span {
                began_ms: 0.0,
                ended_ms: 64e3,
                range: Range {
                    lowest: (45.0 + 273.15) * 9e3,
                    highest: (62.0 + 273.15) * 9e3,
                },
                steepest: 2.0 * TINY_W * share * gap * 9e3,
            };
            let reach = mean.reach(&span).unwrap();
            assert_eq!((reach.inside, reach.tiny), (false, tiny), "{share}");
        }
    }

    #[test]
    fn runs_that_meet_a_limit_are_the_sum_of_their_segments() {
        let rate = rate("46.4 °C");
        for (rows, width) in [(500_u32, 3.0), (500, 0.2), (70, 20.0), (9, 60.0)] {
            for middle in [8.8, 30.0, 51.5, 53.4] {
                let clock: Vec<f64> = (0..rows).map(|i| f64::from(i) * 1e3).collect();
                let at = |i: u32| middle + width * (f64::from(i * 37 % 101) / 101.0 - 0.5);
                let steps: Vec<f64> = (0..rows)
                    .map(|i| ((at(i) + 273.15) * 9e3).round())
                    .collect();
                let spans = spans_of(&clock, &steps);
                let trace = Trace::snapped(&clock, &steps, &spans);
                let ours = integrate_trace(&rate, trace).unwrap();
                let segments = clock.windows(2).zip(steps.windows(2));
                let mean = MeanRate::of(&rate).unwrap();
                let of = |(t, x): (&[f64], &[f64])| {
                    mean.integral(t[1] - t[0], celsius_of_steps(x[0]), celsius_of_steps(x[1]))
                };
                let one_by_one: f64 = segments.map(of).sum();
                assert!(
                    (ours - one_by_one).abs() <= 1e-13 * one_by_one,
                    "{rows} {width} {middle}: {ours} {one_by_one}"
                );
            }
        }
    }

    #[test]
    fn lines_outside_the_range_do_not_grow() {
        let rate = MeanRate::of(&rate("46.4 °C")).unwrap();
        for (from, to, grows) in [
            (8.8, 8.8, false),
            (5.0, 8.8, false),
            (5.0, 8.81, true),
            (51.5, 60.0, false),
            (51.49, 60.0, true),
            (30.0, 30.0, true),
        ] {
            assert_eq!(rate.integral(1.0, from, to) > 0.0, grows, "{from} {to}");
        }
    }

    #[test]
    fn every_instruction_set_gives_the_same_bits() {
        let rate = rate("46.4 °C");
        let (clock, steps) = log(500);
        let pass = || Pass {
            sum: Sum::new(&rate).unwrap(),
            clock: &clock,
            steps: &steps,
        };
        let plain = pass().with_simd(pulp::Scalar::new());
        let mut others = vec![integral(&rate, &clock, &steps)];
        #[cfg(target_arch = "x86_64")]
        {
            use pulp::x86::{V3, V4};
            others.extend(V3::try_new().map(|avx2| pulp::Simd::vectorize(avx2, pass())));
            others.extend(V4::try_new().map(|avx512| pulp::Simd::vectorize(avx512, pass())));
        }
        for other in others {
            assert_eq!(plain.to_bits(), other.to_bits());
        }
    }

    #[test]
    fn what_the_ranges_leave_out_changes_no_bit() {
        let rate = rate("46.4 °C");
        for rows in [1, 2, 31, 32, 33, 100, 500, 2000] {
            let (clock, steps) = log(rows);
            let spans = spans_of(&clock, &steps);
            let trace = Trace::snapped(&clock, &steps, &spans);
            let known = integrate_trace(&rate, trace).unwrap();
            let blind = integral(&rate, &clock, &steps);
            assert_eq!(known.to_bits(), blind.to_bits(), "{rows}");
        }
    }
}
