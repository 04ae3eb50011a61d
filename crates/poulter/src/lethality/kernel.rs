//! The integral of a rate curve along many readings, in blocks that the compiler vectorises.
//!
//! Sums are taken in a fixed order, whatever the instruction set, and no operation is fused: the bits are the same
//! on every machine. [`pulp`] picks the widest instruction set at run time.

use pulp::{Arch, Simd, WithSimd};

use crate::log::{RUN, Range, Trace};
use crate::math::exp_within;

use super::curve::{Curve, FirstOrder, SMALL_H, TableCurve, index, mean_factor};

/// Segments in a block: a run, so that the range of a run is that of a block.
const BLOCK: usize = RUN;
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
    /// A range that holds the readings of a block, both ends included, where one is known.
    fn range(&self, block: usize) -> Option<Range>;
}

/// The readings of a checked log, lowered by a number of steps.
pub(crate) struct Lowered<'a> {
    pub(crate) clock: &'a [f64],
    pub(crate) steps: &'a [f64],
    pub(crate) ranges: &'a [Range],
    pub(crate) by: f64,
}

impl<'a> Lowered<'a> {
    pub(crate) const fn of(trace: Trace<'a>, by: f64) -> Self {
        Self {
            clock: trace.clock,
            steps: trace.steps,
            ranges: trace.ranges,
            by,
        }
    }
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

    fn range(&self, block: usize) -> Option<Range> {
        let range = self.ranges.get(block)?;
        Some(Range {
            lowest: range.lowest - self.by,
            highest: range.highest - self.by,
        })
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
        block.fill(curve, Reach::of(&block.x, curve.ends()));
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

    /// The kill of each segment, and what its end carries over.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn fill(&mut self, curve: &Curve, reach: Reach) {
        match curve {
            _ if reach.all_below_floor => {
                self.level(0.0);
                self.no_kill();
            }
            Curve::FirstOrder(line) if reach.all_above_cap => {
                self.level(line.rate_within(line.cap));
            }
            Curve::Table(table) if reach.all_above_cap => {
                self.level(table.rate[index(table.top)]);
                let over = self.x[BLOCK] - table.last;
                self.whole[BLOCK] = table.base[index(table.top)] + self.rate[BLOCK] * over;
                self.slot[BLOCK] = table.top;
                self.slope[BLOCK] = 0.0;
            }
            Curve::FirstOrder(line) => self.first_order(line, reach),
            Curve::Table(table) => self.table(table),
        }
    }

    /// What a block wholly below the first row or the floor carries over.
    fn no_kill(&mut self) {
        for values in [
            &mut self.rate,
            &mut self.whole,
            &mut self.slot,
            &mut self.slope,
        ] {
            values[BLOCK] = 0.0;
        }
    }

    /// A block of one rate throughout.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn level(&mut self, rate: f64) {
        let ([t0 @ .., _], [_, t1 @ ..]) = (&self.t, &self.t);
        for i in 0..BLOCK {
            self.exact[i] = (t1[i] - t0[i]) * rate;
        }
        self.trapezoid = self.exact;
        self.rate[BLOCK] = rate;
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
    fn first_order(&mut self, line: &FirstOrder, reach: Reach) {
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
        if !reach.all_inside || steep != 0 {
            for i in 0..BLOCK {
                self.exact[i] = line.segment((t0[i], t1[i]), (x0[i], x1[i]));
            }
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn table(&mut self, table: &TableCurve) {
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
        let known = readings.range((next - 1) / BLOCK);
        let known = known.map(|range| Reach::within(range, curve.ends()));
        if R::CHECKED && known.is_some_and(|reach| reach.all_below_floor) {
            let last = next + held - 1;
            readings.copy(last, &mut block.t[BLOCK..], &mut block.x[BLOCK..]);
            block.no_kill();
            block.carry_over();
            next += held;
            continue;
        }
        readings.copy(next, &mut block.t[1..=held], &mut block.x[1..=held]);
        if !R::CHECKED {
            answer.is_faulty |= block.is_faulty(held);
        }
        // A short last block is filled up with its last reading, which adds nothing.
        for i in held + 1..=BLOCK {
            block.t[i] = block.t[held];
            block.x[i] = block.x[held];
        }
        let reach = known.unwrap_or_else(|| Reach::of(&block.x, curve.ends()));
        block.fill(curve, reach);
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
#[derive(Clone, Copy)]
struct Reach {
    all_below_floor: bool,
    all_above_cap: bool,
    all_inside: bool,
}

impl Reach {
    /// What is known of readings inside a range.
    fn within(range: Range, (floor, cap): (f64, f64)) -> Self {
        Self {
            all_below_floor: range.highest < floor,
            all_above_cap: range.lowest > cap,
            all_inside: range.lowest >= floor && range.highest <= cap,
        }
    }

    /// The sign bits of the distances to floor and cap, joined over the block: whole-number operations, which are
    /// vectorised in any order.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn of(x: &[f64; BLOCK + 1], (floor, cap): (f64, f64)) -> Self {
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
    // By index: an iterator over both would be built anew for every eight values.
    for at in 0..BLOCK / LANES {
        for i in 0..LANES {
            lanes[i] += values[at * LANES + i];
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
#[path = "kernel_tests.rs"]
mod tests;
