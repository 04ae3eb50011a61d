//! The integral of a rate curve along many readings, in blocks that the compiler vectorises.
//!
//! Sums are taken in a fixed order, whatever the instruction set, and no operation is fused: the bits are the same
//! on every machine. [`pulp`] picks the widest instruction set at run time.

use pulp::{Arch, Simd, WithSimd};

use crate::log::Trace;
use crate::math::exp_within;

use super::curve::{Curve, FirstOrder, SMALL_H, TableCurve, index, mean_factor};

/// Segments in a block.
const BLOCK: usize = 64;
const LANES: usize = 8;

/// Rounding of the sums may leave a target short by this share; a printed hold time carries no more than four
/// digits.
const ROUNDING_SHARE: f64 = 1e-12;

/// Readings in whole steps over whole milliseconds.
pub(crate) trait Readings: Sync {
    /// True when every reading is known to be in range and later than the one before.
    const CHECKED: bool;
    /// How many there are.
    fn count(&self) -> usize;
    /// Copies those from `start` into `t` and `x`, which fit inside the count.
    fn copy(&self, start: usize, t: &mut [f64], x: &mut [f64]);
}

/// The readings of a checked log, lowered by a number of steps.
pub(crate) struct Lowered<'a> {
    pub(crate) clock: &'a [f64],
    pub(crate) steps: &'a [f64],
    pub(crate) by: f64,
}

impl Readings for Lowered<'_> {
    const CHECKED: bool = true;

    fn count(&self) -> usize {
        self.clock.len().min(self.steps.len())
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn copy(&self, start: usize, t: &mut [f64], x: &mut [f64]) {
        let end = start + t.len();
        if let (Some(clock), Some(steps)) = (self.clock.get(start..end), self.steps.get(start..end))
        {
            t.copy_from_slice(clock);
            for (to, from) in x.iter_mut().zip(steps) {
                *to = *from - self.by;
            }
        }
    }
}

/// What one pass over the readings gives.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Integral {
    /// log10 reduction, exact for straight lines between readings.
    pub(crate) exact: f64,
    /// The same by the mean of the end rates of each step.
    pub(crate) trapezoid: f64,
    /// When the target was reached, in milliseconds rounded up.
    pub(crate) reached_ms: Option<f64>,
    /// True when a reading was missing, out of range or not later than the one before.
    pub(crate) is_faulty: bool,
}

/// Arrays of one block; element 0 carries over from the block before. Loops run over arrays of fixed length, the
/// beginnings and the ends of the segments, so that they are vectorised without remainders.
struct Block {
    t: [f64; BLOCK + 1],
    x: [f64; BLOCK + 1],
    rate: [f64; BLOCK + 1],
    /// Antiderivative at each reading, for tables.
    whole: [f64; BLOCK + 1],
    slot: [f64; BLOCK + 1],
    slope: [f64; BLOCK + 1],
    exact: [f64; BLOCK],
    trapezoid: [f64; BLOCK],
}

impl Block {
    fn starting_at(t: f64, x: f64, curve: &Curve) -> Self {
        let mut block = Self {
            t: [t; BLOCK + 1],
            x: [x; BLOCK + 1],
            rate: [0.0; BLOCK + 1],
            whole: [0.0; BLOCK + 1],
            slot: [0.0; BLOCK + 1],
            slope: [0.0; BLOCK + 1],
            exact: [0.0; BLOCK],
            trapezoid: [0.0; BLOCK],
        };
        // Every reading of this block is the first one, so its end is the beginning of the next.
        match curve {
            Curve::FirstOrder(line) => block.first_order(line),
            Curve::Table(table) => block.table(table),
        }
        block.carry_over();
        block
    }

    /// True when one of the first `held` segments does not go forward or does not end in range.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn is_faulty(&self, held: usize) -> bool {
        let ([t0 @ .., _], [_, t1 @ ..]) = (&self.t, &self.t);
        let [_, x1 @ ..] = &self.x;
        let mut rough = 0_u64;
        for ((t0, t1), x1) in t0.iter().zip(t1).zip(x1).take(held) {
            // Neither holds for NaN.
            let (forward, in_range) = (*t1 > *t0, *x1 < f64::INFINITY);
            rough |= u64::from(!forward) | u64::from(!in_range);
        }
        rough != 0
    }

    /// A block wholly below the first row or the floor.
    fn no_kill(&mut self) {
        self.exact = [0.0; BLOCK];
        self.trapezoid = [0.0; BLOCK];
        for values in [
            &mut self.rate,
            &mut self.whole,
            &mut self.slot,
            &mut self.slope,
        ] {
            values[BLOCK] = 0.0;
        }
    }

    fn carry_over(&mut self) {
        for values in [
            &mut self.t,
            &mut self.x,
            &mut self.rate,
            &mut self.whole,
            &mut self.slot,
            &mut self.slope,
        ] {
            values[0] = values[BLOCK];
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn first_order(&mut self, line: &FirstOrder) {
        let reach = Reach::of(&self.x, line.floor, line.cap);
        if reach.all_below_floor {
            self.no_kill();
            return;
        }
        {
            let [_, rate @ ..] = &mut self.rate;
            let [_, x @ ..] = &self.x;
            if reach.all_inside {
                for i in 0..BLOCK {
                    rate[i] = line.rate_within(x[i]);
                }
            } else {
                for i in 0..BLOCK {
                    rate[i] = line.rate_at(x[i]);
                }
            }
        }
        let ([t0 @ .., _], [_, t1 @ ..]) = (&self.t, &self.t);
        let ([x0 @ .., _], [_, x1 @ ..]) = (&self.x, &self.x);
        let ([r0 @ .., _], [_, r1 @ ..]) = (&self.rate, &self.rate);
        let half_slope = 0.5 * line.slope;
        let mut steep = 0_u64;
        for i in 0..BLOCK {
            let h = half_slope * (x1[i] - x0[i]);
            let mean = 0.5 * (t1[i] - t0[i]) * (r0[i] + r1[i]);
            self.trapezoid[i] = mean;
            self.exact[i] = mean * mean_factor(h);
            steep |= u64::from(h.abs() > SMALL_H);
        }
        if reach.all_above_cap {
            self.exact = self.trapezoid;
        } else if !reach.all_inside || steep != 0 {
            for i in 0..BLOCK {
                self.exact[i] = line.segment((t0[i], t1[i]), (x0[i], x1[i]));
            }
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn table(&mut self, table: &TableCurve) {
        if Reach::of(&self.x, table.first, table.last).all_below_floor {
            self.no_kill();
            return;
        }
        {
            let [_, x @ ..] = &self.x;
            let [_, slot @ ..] = &mut self.slot;
            let [_, slope @ ..] = &mut self.slope;
            let [_, rate @ ..] = &mut self.rate;
            let [_, whole @ ..] = &mut self.whole;
            let mut inverse = [0.0; BLOCK];
            for i in 0..BLOCK {
                slot[i] = table.slot(x[i]);
            }
            for i in 0..BLOCK {
                let k = index(slot[i]);
                rate[i] = table.rate[k];
                slope[i] = table.slope[k];
                whole[i] = table.base[k];
                inverse[i] = table.inverse_slope[k];
            }
            let cap = table.rate[index(table.top)];
            for i in 0..BLOCK {
                let over = x[i] - table.last;
                let over = if over > 0.0 { over } else { 0.0 };
                // Inside a slot the argument is below 0.5; outside the rows the slope is nought.
                rate[i] *= exp_within(slope[i] * (x[i] - table.row(slot[i])));
                whole[i] += rate[i] * inverse[i] + cap * over;
            }
        }
        let ([t0 @ .., _], [_, t1 @ ..]) = (&self.t, &self.t);
        let ([x0 @ .., _], [_, x1 @ ..]) = (&self.x, &self.x);
        let ([r0 @ .., _], [_, r1 @ ..]) = (&self.rate, &self.rate);
        let ([g0 @ .., _], [_, g1 @ ..]) = (&self.whole, &self.whole);
        let ([k0 @ .., _], [_, k1 @ ..]) = (&self.slot, &self.slot);
        for i in 0..BLOCK {
            let (dt, dx) = (t1[i] - t0[i], x1[i] - x0[i]);
            let mean = dt * 0.5 * (r0[i] + r1[i]);
            let within = mean * mean_factor(self.slope[i] * dx * 0.5);
            let across = dt * (g1[i] - g0[i]) / dx;
            let same = k0[i].to_bits() == k1[i].to_bits();
            self.trapezoid[i] = mean;
            self.exact[i] = if same { within } else { across };
        }
    }
}

struct Pass<'a, R> {
    curve: &'a Curve,
    readings: &'a R,
    target: f64,
}

impl<R: Readings> WithSimd for Pass<'_, R> {
    type Output = Integral;

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, _: S) -> Integral {
        run(self.curve, self.readings, self.target)
    }
}

#[inline(always)]
#[allow(clippy::inline_always)] // compiled once for each instruction set
fn run<R: Readings>(curve: &Curve, readings: &R, target: f64) -> Integral {
    let count = readings.count();
    let mut answer = Integral::default();
    if count < 2 {
        return answer;
    }
    let (mut t, mut x) = ([0.0], [0.0]);
    readings.copy(0, &mut t, &mut x);
    answer.is_faulty = !(t[0].is_finite() && x[0].is_finite());
    let mut block = Block::starting_at(t[0], x[0], curve);
    let needed = target * (1.0 - ROUNDING_SHARE);
    let mut next = 1;
    while next < count {
        let held = BLOCK.min(count - next);
        readings.copy(next, &mut block.t[1..=held], &mut block.x[1..=held]);
        if !R::CHECKED {
            answer.is_faulty |= block.is_faulty(held);
        }
        // A short last block is filled up with its last reading, which adds nothing.
        for i in held + 1..=BLOCK {
            block.t[i] = block.t[held];
            block.x[i] = block.x[held];
        }
        match curve {
            Curve::FirstOrder(line) => block.first_order(line),
            Curve::Table(table) => block.table(table),
        }
        let sum = in_lanes(&block.exact);
        if answer.reached_ms.is_none() && answer.exact + sum >= needed {
            answer.reached_ms = reached(curve, &block, answer.exact, needed);
        }
        answer.exact += sum;
        answer.trapezoid += in_lanes(&block.trapezoid);
        block.carry_over();
        next += held;
    }
    answer
}

/// Where the readings of a block lie.
struct Reach {
    all_below_floor: bool,
    all_above_cap: bool,
    all_inside: bool,
}

impl Reach {
    /// The sign bits of the distances to floor and cap, joined over the block: whole-number operations, which are
    /// vectorised in any order.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn of(x: &[f64; BLOCK + 1], floor: f64, cap: f64) -> Self {
        let sign = |distance: f64| distance.to_bits();
        let [first, rest @ ..] = x;
        let (below, above) = (sign(first - floor), sign(cap - first));
        let (mut some, mut all_below, mut all_above) = (below | above, below, above);
        for x in rest {
            let (below, above) = (sign(x - floor), sign(cap - x));
            some |= below | above;
            all_below &= below;
            all_above &= above;
        }
        Self {
            all_below_floor: all_below >> 63 != 0,
            all_above_cap: all_above >> 63 != 0,
            all_inside: some >> 63 == 0,
        }
    }
}

/// The sum of a block in one order for every instruction set.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
fn in_lanes(values: &[f64; BLOCK]) -> f64 {
    let mut lanes = [0.0; LANES];
    for part in values.chunks_exact(LANES) {
        for (lane, value) in lanes.iter_mut().zip(part) {
            *lane += *value;
        }
    }
    let [a, b, c, d, e, f, g, h] = lanes;
    ((a + b) + (c + d)) + ((e + f) + (g + h))
}

/// The first whole millisecond inside the block by which `needed` was collected.
#[inline(never)]
fn reached(curve: &Curve, block: &Block, before: f64, needed: f64) -> Option<f64> {
    let mut sum = before;
    for i in 0..BLOCK {
        let last = i + 1 == BLOCK;
        if sum + block.exact[i] < needed && !last {
            sum += block.exact[i];
            continue;
        }
        let (t, x) = ((block.t[i], block.t[i + 1]), (block.x[i], block.x[i + 1]));
        let slope = if t.1 > t.0 {
            (x.1 - x.0) / (t.1 - t.0)
        } else {
            0.0
        };
        let (mut early, mut late) = (t.0, t.1);
        // Halving whole milliseconds: 40 turns are enough for 20 years.
        while late - early > 1.0 {
            let middle = (0.5 * (early + late)).floor();
            let there = x.0 + slope * (middle - t.0);
            if sum + curve.segment((t.0, middle), (x.0, there)) >= needed {
                late = middle;
            } else {
                early = middle;
            }
        }
        return Some(late);
    }
    None
}

/// The integral of `curve` over the readings, and when it came to `target`.
pub(crate) fn integrate<R: Readings>(curve: &Curve, readings: &R, target: f64) -> Integral {
    Arch::new().dispatch(Pass {
        curve,
        readings,
        target,
    })
}

/// The integral of the staircase reading.
pub(crate) fn integrate_stairs(table: &TableCurve, trace: Trace<'_>, by: f64) -> f64 {
    let hot = trace
        .runs()
        .filter(|(.., range)| range.highest - by >= table.first);
    let of_run = |(clock, steps, _): (&[f64], &[f64], _)| -> f64 {
        let segments = clock.windows(2).zip(steps.windows(2));
        segments
            .map(|(t, x)| table.stair_segment((t[0], t[1]), (x[0] - by, x[1] - by)))
            .sum()
    };
    hot.map(of_run).sum()
}

#[cfg(test)]
mod tests {
    use super::super::tables::{CHICKEN_12_FAT, MEAT, TURKEY_12_FAT};
    use super::*;
    use crate::log::{ColumnSlice, ElapsedSlice, LogChecks, Place, TemperatureLog};
    use crate::units::{Duration, TemperatureUnit};

    /// Steps of degrees Celsius.
    fn c(celsius: f64) -> f64 {
        ((celsius + 273.15) * 9e3).round()
    }

    /// The longer-of-both list at 12 % fat with the nineteen rows of an incomplete copy; a missing row is the
    /// geometric mean of its neighbours, which leaves the curve between them as it was.
    #[allow(clippy::cast_possible_truncation)] // whole numbers below 2⁵³
    fn nineteen_rows() -> Curve {
        let mut holds: Vec<i64> = [
            81.4, 65.5, 52.9, 43.0, 35.0, 28.7, 23.7, 19.8, 16.6, 13.8, 11.5, 0.0, 7.7, 0.0, 4.9,
            0.0, 2.8, 0.0, 1.6, 0.0, 1.0, 0.0,
        ]
        .iter()
        .map(|minutes: &f64| (minutes * 60e3).round() as i64)
        .collect();
        holds.extend([40_900, 0, 26_900, 0, 17_700]);
        // A thousand times longer, so that the filled rows lose nothing by being whole numbers.
        let mut holds: Vec<i64> = holds.iter().map(|hold| hold * 1_000_000).collect();
        for row in 1..holds.len() - 1 {
            if holds[row] == 0 {
                holds[row] = (holds[row - 1] as f64 * holds[row + 1] as f64)
                    .sqrt()
                    .round() as i64;
            }
        }
        Curve::Table(Box::new(TableCurve::new(136, &holds, 7e6)))
    }

    fn kill(curve: &Curve, clock: &[f64], steps: &[f64]) -> f64 {
        let readings = Lowered {
            clock,
            steps,
            by: 0.0,
        };
        integrate(curve, &readings, 7.0).exact
    }

    #[test]
    fn a_ramp_through_the_table_agrees_with_adaptive_quadrature() {
        // 60 to 70 degC in 10 min; mpmath 1.3 quad, 30 digits, split at the rows.
        let (clock, steps) = ([0.0, 600_000.0], [c(60.0), c(70.0)]);
        let curves = [
            Curve::Table(Box::new(TableCurve::of(&MEAT))),
            Curve::Table(Box::new(TableCurve::of(&TURKEY_12_FAT))),
            nineteen_rows(),
        ];
        let quadrature = [
            82.903_756_352_273_77,
            24.698_457_165_218_86,
            24.876_225_436_523_5,
        ];
        for (curve, expected) in curves.iter().zip(quadrature) {
            let ours = kill(curve, &clock, &steps);
            assert!((ours / expected - 1.0).abs() < 1e-9, "{ours}");
        }
    }

    #[test]
    fn holds_over_floor_rows_and_cap() {
        // Ten minutes each: 7 log10 times 10 min over the printed hold, by hand; nothing below 136 degF.
        for (celsius, expected) in [
            (57.0, 0.0),
            (57.778, 0.86),
            (60.0, 2.0),
            (62.778, 5.0725),
            (65.556, 14.2857),
            (70.0, 102.69),
            (80.0, 237.288),
        ] {
            let ours = kill(
                &nineteen_rows(),
                &[0.0, 600_000.0],
                &[c(celsius), c(celsius)],
            );
            // 57.778 degC lies 0.0002 degC above the row, and the printed figures carry six digits.
            assert!(
                (ours - expected).abs() < 3e-4 * expected.max(1.0),
                "{celsius}: {ours}"
            );
        }
    }

    #[test]
    fn the_floor_is_tested_under_at_and_over() {
        let chicken = Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT)));
        let row = 5.0 * (136_000.0 + 459_670.0);
        let held = |x: f64| kill(&chicken, &[0.0, 4_884_000.0], &[x, x]);
        assert_eq!(held(row - 1.0), 0.0);
        assert!((held(row) - 7.0).abs() < 1e-12);
        assert!(held(row + 1.0) > 7.0);
        let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
        let held = |x: f64| kill(&line, &[0.0, 120_000.0], &[x, x]);
        assert_eq!(held(c(60.0) - 1.0), 0.0);
        assert!(held(c(60.0)) > 0.0 && held(c(60.0) + 1.0) > held(c(60.0)));
        assert!(held(c(80.0) - 1.0) < held(c(80.0)));
        assert_eq!(held(c(80.0)), held(c(80.0) + 1.0));
    }

    #[test]
    fn a_first_order_ramp_is_exact_and_the_mean_of_ends_is_not() {
        // F = 3.1060223829 min by the analytic integral, 5.2321 min by the mean of the end rates; D is 20 s.
        let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
        let (clock, steps) = ([0.0, 600_000.0], [c(60.0), c(70.0)]);
        let readings = Lowered {
            clock: &clock,
            steps: &steps,
            by: 0.0,
        };
        let sum = integrate(&line, &readings, 6.0);
        assert!((sum.exact / 3.0 - 3.106_022_382_9).abs() < 1e-9);
        assert!((sum.trapezoid / 3.0 - 5.2321).abs() < 1e-4);
    }

    /// A log that crosses floor, rows and cap, long enough for several blocks and a short one.
    fn roast() -> (Vec<f64>, Vec<f64>) {
        let clock: Vec<f64> = (0..1000).map(|i| f64::from(i) * 7_000.0).collect();
        let steps = clock
            .iter()
            .map(|t| c(85.0 - 80.0 * crate::math::exp(-t / 2.4e6)))
            .collect();
        (clock, steps)
    }

    #[test]
    fn every_instruction_set_gives_the_same_bits() {
        let (clock, steps) = roast();
        let readings = Lowered {
            clock: &clock,
            steps: &steps,
            by: 4_500.0,
        };
        for curve in [
            Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
            Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0))),
        ] {
            let pass = Pass {
                curve: &curve,
                readings: &readings,
                target: 7.0,
            };
            let plain = pass.with_simd(pulp::Scalar::new());
            let widest = integrate(&curve, &readings, 7.0);
            assert_eq!(plain.exact.to_bits(), widest.exact.to_bits());
            assert_eq!(plain.trapezoid.to_bits(), widest.trapezoid.to_bits());
            assert_eq!(plain.reached_ms, widest.reached_ms);
        }
    }

    #[test]
    fn blocks_agree_with_one_segment_after_another() {
        let (clock, steps) = roast();
        for curve in [
            Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
            Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0))),
            Curve::FirstOrder(FirstOrder::new(
                20e3,
                5.0,
                c(70.0),
                f64::NEG_INFINITY,
                f64::INFINITY,
            )),
        ] {
            let one_by_one: f64 = clock
                .windows(2)
                .zip(steps.windows(2))
                .map(|(t, x)| curve.segment((t[0], t[1]), (x[0], x[1])))
                .sum();
            let ours = kill(&curve, &clock, &steps);
            assert!((ours / one_by_one - 1.0).abs() < 1e-13);
        }
    }

    #[test]
    fn the_staircase_is_the_rate_of_the_row_below() {
        let stairs = |clock: &[f64], degf: &[f64]| {
            let log = TemperatureLog::from_slices(
                ElapsedSlice { elapsed_s: clock },
                &[ColumnSlice {
                    place: Place::CORE,
                    unit: TemperatureUnit::Fahrenheit,
                    temperatures: degf,
                }],
            );
            let checks = LogChecks {
                longest_gap: Duration::parse("1 h").unwrap(),
                flat_line: Duration::parse("1 h").unwrap(),
                ..LogChecks::default()
            };
            let log = log.unwrap();
            let sound = log.sound(&checks).unwrap();
            let (_, trace) = sound.inside().next().unwrap();
            integrate_stairs(&TableCurve::of(&CHICKEN_12_FAT), trace, 0.0)
        };
        // 140.5 degF held 35 min is the 140 degF row held 35 min.
        let strict = stairs(&[0.0, 2100.0], &[140.5, 140.5]);
        assert!((strict - 7.0).abs() < 1e-12);
        // 139.5 to 140.5 degF: half the time at each row, 43.0 and 35.0 min.
        let strict = stairs(&[0.0, 2100.0], &[139.5, 140.5]);
        assert!((strict - 7.0 * (17.5 / 43.0 + 17.5 / 35.0)).abs() < 1e-12);
        // The first row is 136 degF.
        assert_eq!(stairs(&[0.0, 1000.0], &[40.0, 135.999]), 0.0);
        // A row of 0.1 s a reading: 21 s at 140 degF after two hundred cold readings, with a step of a reading each way.
        let seconds: Vec<f64> = (0..600).map(|i| f64::from(i) * 0.1).collect();
        let hot = |i: &u32| (200..=410).contains(i);
        let degf: Vec<f64> = (0..600)
            .map(|i| if hot(&i) { 140.0 } else { 139.0 })
            .collect();
        let expected = 7.0 * (21.0 / 35.0 + 38.9 / 43.0) / 60.0;
        assert!((stairs(&seconds, &degf) - expected).abs() < 1e-12);
    }

    #[test]
    fn too_few_readings_give_no_kill() {
        let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
        assert_eq!(kill(&line, &[], &[]), 0.0);
        assert_eq!(kill(&line, &[0.0], &[c(70.0)]), 0.0);
    }
}
