//! The integral of a rate curve along many readings, in blocks that the compiler vectorises.
//!
//! Sums are taken in a fixed order, whatever the instruction set, and no operation is fused: the bits are the same
//! on every machine. [`pulp`] picks the widest instruction set at run time.

use pulp::{Arch, Simd, WithSimd};

use crate::log::{EachRun, RUN, Range, Room, Span, Trace};
use crate::math::{NEAR, Numbers, Wide, exp_near};

use super::curve::{
    Curve, FirstOrder, SMALL_H, TINY_H, TableCurve, index, mean_factor, mean_factor_near,
};

/// Segments in a block: a run, so that the range of a run is that of a block.
const BLOCK: usize = RUN;
const LANES: usize = 8;

/// Rounding of the sums may leave a target short by this share; a printed hold time carries no more than four
/// digits.
const ROUNDING_SHARE: f64 = 1e-12;

/// The readings at the beginnings and ends of a block's segments.
type Readings = [f64; BLOCK + 1];

/// What one pass over the readings gives.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Integral {
    /// log10 reduction, exact for straight lines between readings.
    pub(crate) exact: f64,
    /// The same by the mean of the end rates of each step.
    pub(crate) trapezoid: f64,
    /// The same by the strict staircase of a table; the exact one for a line.
    pub(crate) strict: f64,
    /// When the target was reached, in milliseconds rounded up.
    pub(crate) reached_ms: Option<f64>,
}

/// Arrays of one block; element 0 carries over from the block before. Loops run over arrays of fixed length, the
/// beginnings and the ends of the segments, so that they are vectorised without remainders.
struct Block {
    rate: Readings,
    /// Antiderivative at each reading, for tables.
    whole: Readings,
    slot: Readings,
    slope: Readings,
    /// Rate of the row at or below each reading, and the antiderivative of that staircase.
    step: Readings,
    stairs: Readings,
    exact: [f64; BLOCK],
    trapezoid: [f64; BLOCK],
    strict: [f64; BLOCK],
}

impl Block {
    const EMPTY: Self = Self {
        rate: [0.0; BLOCK + 1],
        whole: [0.0; BLOCK + 1],
        slot: [0.0; BLOCK + 1],
        slope: [0.0; BLOCK + 1],
        step: [0.0; BLOCK + 1],
        stairs: [0.0; BLOCK + 1],
        exact: [0.0; BLOCK],
        trapezoid: [0.0; BLOCK],
        strict: [0.0; BLOCK],
    };

    /// What the first reading carries over.
    fn begin(&mut self, curve: &Curve, x: f64) {
        match curve {
            Curve::FirstOrder(line) => self.rate[0] = line.rate_at(x),
            Curve::Table(table) => {
                let (rate, whole, k) = table.at(x);
                self.rate[0] = rate;
                self.whole[0] = whole;
                self.slot[0] = k as f64;
                self.slope[0] = table.slope[k];
                self.step[0] = table.rate[k];
                self.stairs[0] = table.stairs_at(k as f64, x);
            }
        }
    }

    /// The kill of each segment, and what its end carries over.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn fill<S: Simd>(&mut self, simd: S, curve: &Curve, t: &Readings, x: &Readings, span: &Span) {
        let reach = Reach::of(span.range, curve.ends());
        match curve {
            Curve::FirstOrder(line) if reach.all_above_cap => {
                self.level(t, line.rate_within(line.cap));
            }
            Curve::Table(table) if reach.all_above_cap => {
                self.level(t, table.rate[index(table.top)]);
                let over = x[BLOCK] - table.last;
                self.whole[0] = table.base[index(table.top)] + self.rate[0] * over;
                self.slot[0] = table.top;
                self.slope[0] = 0.0;
                self.step[0] = self.rate[0];
                self.stairs[0] = table.stairs_at(table.top, x[BLOCK]);
            }
            Curve::FirstOrder(line) => {
                self.first_order_rates(simd, line, x, reach, span.range);
                self.first_order(simd, line, t, x, reach, span.steepest);
                self.rate[0] = self.rate[BLOCK];
            }
            Curve::Table(table) => {
                self.table(simd, table, t, x, span.steepest);
                for values in self.carried() {
                    values[0] = values[BLOCK];
                }
            }
        }
    }

    /// What a block wholly below the first row or the floor carries over.
    fn pass_over(&mut self) {
        for values in self.carried() {
            values[0] = 0.0;
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn carried(&mut self) -> [&mut Readings; 6] {
        [
            &mut self.rate,
            &mut self.whole,
            &mut self.slot,
            &mut self.slope,
            &mut self.step,
            &mut self.stairs,
        ]
    }

    /// A block of one rate throughout.
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn level(&mut self, t: &Readings, rate: f64) {
        let ([t0 @ .., _], [_, t1 @ ..]) = (t, t);
        for i in 0..BLOCK {
            self.exact[i] = (t1[i] - t0[i]) * rate;
        }
        self.trapezoid = self.exact;
        self.strict = self.exact;
        self.rate[0] = rate;
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn first_order_rates<S: Simd>(
        &mut self,
        simd: S,
        line: &FirstOrder,
        x: &Readings,
        reach: Reach,
        range: Range,
    ) {
        let [_, rate @ ..] = &mut self.rate;
        let [_, x @ ..] = x;
        let half_width = 0.5 * line.slope * (range.highest - range.lowest);
        if reach.all_inside && half_width <= NEAR {
            // One exponential for the middle, and a polynomial for what the readings lie off it.
            let middle = 0.5 * (range.lowest + range.highest);
            let at_middle = Wide::all(simd, line.rate_within(middle));
            let (slope, middle) = (Wide::all(simd, line.slope), Wide::all(simd, middle));
            for at in 0..Wide::<S>::registers(BLOCK) {
                let off = slope * (Wide::load(simd, x, at) - middle);
                (at_middle * exp_near(off)).store(rate, at);
            }
        } else if reach.all_inside {
            for i in 0..BLOCK {
                rate[i] = line.rate_within(x[i]);
            }
        } else {
            for i in 0..BLOCK {
                rate[i] = line.rate_at(x[i]);
            }
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn first_order<S: Simd>(
        &mut self,
        simd: S,
        line: &FirstOrder,
        t: &Readings,
        x: &Readings,
        reach: Reach,
        steepest: f64,
    ) {
        let ([t0 @ .., _], [_, t1 @ ..]) = (t, t);
        let ([x0 @ .., _], [_, x1 @ ..]) = (x, x);
        let ([r0 @ .., _], [_, r1 @ ..]) = (&self.rate, &self.rate);
        let (half, half_slope) = (Wide::all(simd, 0.5), Wide::all(simd, 0.5 * line.slope));
        let steepest = 0.5 * line.slope * steepest;
        for at in 0..Wide::<S>::registers(BLOCK) {
            let dt = Wide::load(simd, t1, at) - Wide::load(simd, t0, at);
            let dx = Wide::load(simd, x1, at) - Wide::load(simd, x0, at);
            let ends = Wide::load(simd, r0, at) + Wide::load(simd, r1, at);
            let (h, mean) = (half_slope * dx, half * dt * ends);
            let factor = if steepest <= TINY_H {
                mean_factor_near(h)
            } else {
                mean_factor(h)
            };
            mean.store(&mut self.trapezoid, at);
            (mean * factor).store(&mut self.exact, at);
        }
        if !reach.all_inside || steepest > SMALL_H {
            for i in 0..BLOCK {
                self.exact[i] = line.segment((t0[i], t1[i]), (x0[i], x1[i]));
            }
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    fn table<S: Simd>(
        &mut self,
        simd: S,
        table: &TableCurve,
        t: &Readings,
        x: &Readings,
        steepest: f64,
    ) {
        let mut inverse = [0.0; BLOCK];
        {
            let [_, x @ ..] = x;
            let [_, slot @ ..] = &mut self.slot;
            let [_, slope @ ..] = &mut self.slope;
            let [_, rate @ ..] = &mut self.rate;
            let [_, whole @ ..] = &mut self.whole;
            let [_, step @ ..] = &mut self.step;
            let [_, stairs @ ..] = &mut self.stairs;
            for at in 0..Wide::<S>::registers(BLOCK) {
                table.slot(Wide::load(simd, x, at)).store(slot, at);
            }
            for i in 0..BLOCK {
                let k = index(slot[i]);
                step[i] = table.rate[k];
                slope[i] = table.slope[k];
                whole[i] = table.base[k];
                stairs[i] = table.stairs[k];
                inverse[i] = table.inverse_slope[k];
            }
            let all = |value: f64| Wide::all(simd, value);
            let (last, nought, cap) =
                (all(table.last), all(0.0), all(table.rate[index(table.top)]));
            for at in 0..Wide::<S>::registers(BLOCK) {
                let (x, slot) = (Wide::load(simd, x, at), Wide::load(simd, slot, at));
                let (above_last, above_row) = ((x - last).larger(nought), x - table.row(slot));
                // Inside a slot the argument is at most 0.5; outside the rows the slope is nought.
                let climb = exp_near(Wide::load(simd, slope, at) * above_row);
                let level = Wide::load(simd, step, at);
                let here = level * climb;
                let under = Wide::load(simd, whole, at) + here * Wide::load(simd, &inverse, at);
                here.store(rate, at);
                (under + cap * above_last).store(whole, at);
                (Wide::load(simd, stairs, at) + level * above_row).store(stairs, at);
            }
        }
        let half = Wide::all(simd, 0.5);
        let is_gentle = 0.5 * table.steepest * steepest <= TINY_H;
        for at in 0..Wide::<S>::registers(BLOCK) {
            let begin = |values: &Readings| Wide::load(simd, &values[..BLOCK], at);
            let end = |values: &Readings| Wide::load(simd, &values[1..], at);
            let (dt, dx) = (end(t) - begin(t), end(x) - begin(x));
            let mean = dt * half * (begin(&self.rate) + end(&self.rate));
            let h = begin(&self.slope) * dx * half;
            let factor = if is_gentle {
                mean_factor_near(h)
            } else {
                mean_factor(h)
            };
            let within = mean * factor;
            // Milliseconds a step; read only where the line leaves its slot.
            let pace = dt / dx;
            let across = pace * (end(&self.whole) - begin(&self.whole));
            let up_stairs = pace * (end(&self.stairs) - begin(&self.stairs));
            let (from, to) = (begin(&self.slot), end(&self.slot));
            let on_step = dt * begin(&self.step);
            mean.store(&mut self.trapezoid, at);
            from.where_equal(to, within, across)
                .store(&mut self.exact, at);
            from.where_equal(to, on_step, up_stairs)
                .store(&mut self.strict, at);
        }
    }
}

/// A curve, a target and what the runs so far add up to. Runs follow one another.
pub(crate) struct Integrator<'a> {
    curve: &'a Curve,
    arch: Arch,
    needed: f64,
    begun: bool,
    block: Block,
    room: Room,
    answer: Integral,
}

impl<'a> Integrator<'a> {
    pub(crate) fn new(curve: &'a Curve, target: f64) -> Self {
        Self {
            curve,
            arch: Arch::new(),
            needed: target * (1.0 - ROUNDING_SHARE),
            begun: false,
            block: Block::EMPTY,
            room: Room::EMPTY,
            answer: Integral::default(),
        }
    }

    pub(crate) fn answer(&self) -> Integral {
        self.answer
    }

    /// Passes over a run in which nothing is killed, and tells whether it is one.
    fn passes_over(&mut self, range: Range) -> bool {
        let nothing = range.highest < self.curve.floor();
        if nothing {
            self.block.pass_over();
            self.begun = true;
        }
        nothing
    }

    fn add(&mut self, t: &[f64], x: &[f64], span: &Span) {
        if !self.begun {
            self.begun = true;
            self.block
                .begin(self.curve, x.first().copied().unwrap_or(f64::NAN));
        }
        let (t, x) = self.room.whole(t, x);
        // The instruction set is chosen block by block, so that the code of a block stands once for each of them.
        let fill = Fill {
            block: &mut self.block,
            curve: self.curve,
            t,
            x,
            span,
        };
        let [exact, trapezoid, strict] = self.arch.dispatch(fill);
        if self.answer.reached_ms.is_none() && self.answer.exact + exact >= self.needed {
            let so_far = self.answer.exact;
            let segments = (t, x, &self.block.exact);
            self.answer.reached_ms = reached(self.curve, segments, so_far, self.needed);
        }
        self.answer.exact += exact;
        self.answer.trapezoid += trapezoid;
        self.answer.strict += strict;
    }
}

struct Fill<'a> {
    block: &'a mut Block,
    curve: &'a Curve,
    t: &'a Readings,
    x: &'a Readings,
    span: &'a Span,
}

impl WithSimd for Fill<'_> {
    /// The sums of the block: exact, of the mean of end rates, and of the staircase.
    type Output = [f64; 3];

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, simd: S) -> [f64; 3] {
        let block = self.block;
        block.fill(simd, self.curve, self.t, self.x, self.span);
        let exact = in_lanes(&block.exact);
        let strict = match self.curve {
            Curve::Table(_) => in_lanes(&block.strict),
            Curve::FirstOrder(_) => exact,
        };
        [exact, in_lanes(&block.trapezoid), strict]
    }
}

impl EachRun for Integrator<'_> {
    fn take(&mut self, t: &[f64], x: &[f64], span: &Span) {
        if !self.passes_over(span.range) {
            self.add(t, x, span);
        }
    }
}

/// The integral of `curve` over the readings of a trace, lowered by some steps, and when it came to `target`.
pub(crate) fn integrate(curve: &Curve, trace: Trace<'_>, by: f64, target: f64) -> Integral {
    Integrator::new(curve, target).over(trace, by)
}

impl Integrator<'_> {
    fn over(mut self, trace: Trace<'_>, by: f64) -> Integral {
        let (mut room, mut lowered) = (Room::EMPTY, [0.0; BLOCK + 1]);
        for run in trace.runs() {
            let Range { lowest, highest } = run.span.range;
            let span = Span {
                range: Range {
                    lowest: lowest - by,
                    highest: highest - by,
                },
                ..run.span
            };
            if self.passes_over(span.range) {
                continue;
            }
            let (t, mut x) = run.read(&mut room);
            if by != 0.0 {
                for (to, from) in lowered.iter_mut().zip(x) {
                    *to = *from - by;
                }
                x = &lowered[..x.len()];
            }
            self.add(t, x, &span);
        }
        self.answer
    }
}

/// Where the readings of a block lie.
#[derive(Clone, Copy)]
struct Reach {
    all_above_cap: bool,
    all_inside: bool,
}

impl Reach {
    fn of(range: Range, (floor, cap): (f64, f64)) -> Self {
        Self {
            all_above_cap: range.lowest > cap,
            all_inside: range.lowest >= floor && range.highest <= cap,
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
fn reached(
    curve: &Curve,
    (t, x, exact): (&Readings, &Readings, &[f64; BLOCK]),
    before: f64,
    needed: f64,
) -> Option<f64> {
    let mut sum = before;
    for i in 0..BLOCK {
        let last = i + 1 == BLOCK;
        if sum + exact[i] < needed && !last {
            sum += exact[i];
            continue;
        }
        let (t, x) = ((t[i], t[i + 1]), (x[i], x[i + 1]));
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

#[cfg(test)]
#[path = "kernel_tests.rs"]
mod tests;
