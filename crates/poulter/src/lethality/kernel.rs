//! The integral of a rate curve along many readings, in blocks whose steps stay in registers.
//!
//! Sums are taken in a fixed order, whatever the instruction set, and no operation is fused: the bits are the same
//! on every machine. [`pulp`] picks the widest instruction set at run time.

// Most functions here are part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use pulp::{Arch, Simd, WithSimd};

use crate::log::{EachRun, RUN, Range, Room, Span, Trace};
use crate::math::{NEAR, Numbers, Wide, exp_near};

use super::curve::{
    Curve, FirstOrder, Reading, SMALL_H, TINY_H, TableCurve, mean_factor, mean_factor_near,
};

/// Segments in a block: a run, so that the range of a run is that of a block.
const BLOCK: usize = RUN;
const LANES: usize = 8;

/// Rounding of the sums may leave a target short by this share; a printed hold time carries no more than four
/// digits.
const ROUNDING_SHARE: f64 = 1e-12;

/// Every third turn halves what is left, so these are enough for 20 years of milliseconds; times out of range, whose kill
/// is not used, may not hold a run up for ever.
const MOST_TURNS: usize = 3 * 40;

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

/// What a block leaves behind.
struct Block {
    /// The curve at the last reading, from which the next block goes on.
    last: Reading<f64>,
    /// Rates at the ends of the segments, where they are worked out one by one.
    rate: [f64; BLOCK],
    /// The kill of each segment.
    exact: [f64; BLOCK],
}

/// The kill of a block: exact, by the mean of end rates, and by the staircase.
#[derive(Clone, Copy)]
struct Sums {
    exact: f64,
    trapezoid: f64,
    strict: f64,
}

impl Sums {
    const fn all(kill: f64) -> Self {
        Self {
            exact: kill,
            trapezoid: kill,
            strict: kill,
        }
    }
}

impl Block {
    const EMPTY: Self = Self {
        last: Reading {
            slot: 0.0,
            slope: 0.0,
            rate: 0.0,
            whole: 0.0,
            step: 0.0,
            stairs: 0.0,
        },
        rate: [0.0; BLOCK],
        exact: [0.0; BLOCK],
    };

    /// Goes on from a reading.
    fn begin(&mut self, curve: &Curve, x: f64) {
        self.last = match curve {
            Curve::FirstOrder(line) => Reading {
                rate: line.rate_at(x),
                ..Self::EMPTY.last
            },
            Curve::Table(table) if x > table.last => table.above(x),
            Curve::Table(table) => table.at(x),
        };
    }

    /// Goes on from a block wholly below the first row or the floor.
    fn pass_over(&mut self) {
        self.last = Self::EMPTY.last;
    }

    /// Takes in the segments of a block.
    #[inline(always)]
    fn fill<S: Simd>(
        &mut self,
        simd: S,
        curve: &Curve,
        t: &Readings,
        x: &Readings,
        span: &Span,
    ) -> Sums {
        let reach = Reach::of(span.range, curve.ends());
        match curve {
            _ if reach.all_above_cap => self.level(curve, t, x),
            Curve::FirstOrder(line) => {
                self.first_order_rates(simd, line, x, reach, span.range);
                let steepest = 0.5 * line.slope * span.steepest;
                if reach.all_inside && steepest <= SMALL_H {
                    self.smooth(simd, line, t, x, steepest)
                } else {
                    self.rough(line, t, x)
                }
            }
            Curve::Table(table) => self.table(simd, table, t, x, span.steepest),
        }
    }

    /// A block of one rate throughout.
    #[inline(always)]
    fn level(&mut self, curve: &Curve, t: &Readings, x: &Readings) -> Sums {
        self.begin(curve, x[BLOCK]);
        let rate = self.last.rate;
        let ([t0 @ .., _], [_, t1 @ ..]) = (t, t);
        for i in 0..BLOCK {
            self.exact[i] = (t1[i] - t0[i]) * rate;
        }
        Sums::all((t[BLOCK] - t[0]) * rate)
    }

    #[inline(always)]
    fn first_order_rates<S: Simd>(
        &mut self,
        simd: S,
        line: &FirstOrder,
        x: &Readings,
        reach: Reach,
        range: Range,
    ) {
        let rate = &mut self.rate;
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

    /// Short steps between floor and cap.
    #[inline(always)]
    fn smooth<S: Simd>(
        &mut self,
        simd: S,
        line: &FirstOrder,
        t: &Readings,
        x: &Readings,
        steepest: f64,
    ) -> Sums {
        let mut before = Before::new(simd, t, x);
        let mut rate = Wide::all(simd, self.last.rate);
        let mut rate_before = rate;
        let (half, half_slope) = (Wide::all(simd, 0.5), Wide::all(simd, 0.5 * line.slope));
        let (mut exact, mut trapezoid) = (Lanes::new(simd), Lanes::new(simd));
        for at in 0..Wide::<S>::registers(BLOCK) {
            let (dt, dx) = before.step(simd, t, x, at);
            rate = Wide::load(simd, &self.rate, at);
            let turned = rate.turned();
            let mean = half * dt * (turned.after(rate_before) + rate);
            rate_before = turned;
            let h = half_slope * dx;
            let factor = if steepest <= TINY_H {
                mean_factor_near(h)
            } else {
                mean_factor(h)
            };
            let kill = mean * factor;
            kill.store(&mut self.exact, at);
            exact.add(at, kill);
            trapezoid.add(at, mean);
        }
        self.last.rate = rate.last();
        let exact = exact.total();
        Sums {
            exact,
            trapezoid: trapezoid.total(),
            strict: exact,
        }
    }

    /// Long steps, or some that meet the floor or the cap.
    fn rough(&mut self, line: &FirstOrder, t: &Readings, x: &Readings) -> Sums {
        let mut means = [0.0; BLOCK];
        let mut rate = self.last.rate;
        for i in 0..BLOCK {
            let (t, x) = ((t[i], t[i + 1]), (x[i], x[i + 1]));
            self.exact[i] = line.segment(t, x);
            means[i] = 0.5 * (t.1 - t.0) * (rate + self.rate[i]);
            rate = self.rate[i];
        }
        self.last.rate = rate;
        let exact = in_lanes(&self.exact);
        Sums {
            exact,
            trapezoid: in_lanes(&means),
            strict: exact,
        }
    }

    #[inline(always)]
    fn table<S: Simd>(
        &mut self,
        simd: S,
        table: &TableCurve,
        t: &Readings,
        x: &Readings,
        steepest: f64,
    ) -> Sums {
        let mut before = Before::new(simd, t, x);
        let mut to = self.last.everywhere(simd);
        let mut last = to;
        let half = Wide::all(simd, 0.5);
        let is_gentle = 0.5 * table.steepest * steepest <= TINY_H;
        let [mut exact, mut trapezoid, mut strict] = [Lanes::new(simd); 3];
        for at in 0..Wide::<S>::registers(BLOCK) {
            let (dt, dx) = before.step(simd, t, x, at);
            to = table.at(Wide::load(simd, &x[1..], at));
            let turned = to.turned();
            let from = turned.after(last);
            last = turned;
            let mean = dt * half * (from.rate + to.rate);
            let h = from.slope * dx * half;
            let factor = if is_gentle {
                mean_factor_near(h)
            } else {
                mean_factor(h)
            };
            // Milliseconds a step; used only where the line leaves its slot.
            let pace = dt / dx;
            let across = pace * (to.whole - from.whole);
            let up_stairs = pace * (to.stairs - from.stairs);
            let kill = from.slot.where_equal(to.slot, mean * factor, across);
            kill.store(&mut self.exact, at);
            exact.add(at, kill);
            trapezoid.add(at, mean);
            strict.add(
                at,
                from.slot.where_equal(to.slot, dt * from.step, up_stairs),
            );
        }
        self.last = to.last();
        Sums {
            exact: exact.total(),
            trapezoid: trapezoid.total(),
            strict: strict.total(),
        }
    }
}

/// The readings before those of a register, turned.
struct Before<S: Simd> {
    t: Wide<S>,
    x: Wide<S>,
}

impl<S: Simd> Before<S> {
    #[inline(always)]
    fn new(simd: S, t: &Readings, x: &Readings) -> Self {
        Self {
            t: Wide::all(simd, t[0]),
            x: Wide::all(simd, x[0]),
        }
    }

    /// The time and the change of the segments that end in a register.
    #[inline(always)]
    fn step(&mut self, simd: S, t: &Readings, x: &Readings, at: usize) -> (Wide<S>, Wide<S>) {
        let (t, x) = (Wide::load(simd, &t[1..], at), Wide::load(simd, &x[1..], at));
        let turned = (t.turned(), x.turned());
        let step = (t - turned.0.after(self.t), x - turned.1.after(self.x));
        (self.t, self.x) = turned;
        step
    }
}

/// Sums of every eighth value, in one order for every instruction set.
#[derive(Clone, Copy)]
struct Lanes<S: Simd>([Wide<S>; LANES]);

impl<S: Simd> Lanes<S> {
    #[inline(always)]
    fn new(simd: S) -> Self {
        Self([Wide::all(simd, 0.0); LANES])
    }

    /// Adds the register numbered `at`.
    #[inline(always)]
    fn add(&mut self, at: usize, values: Wide<S>) {
        let lane = at % Wide::<S>::registers(LANES);
        self.0[lane] = self.0[lane] + values;
    }

    #[inline(always)]
    fn total(&self) -> f64 {
        let mut lanes = [0.0; LANES];
        for at in 0..Wide::<S>::registers(LANES) {
            self.0[at].store(&mut lanes, at);
        }
        total(&lanes)
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
        let sums = self.arch.dispatch(fill);
        if self.answer.reached_ms.is_none() && self.answer.exact + sums.exact >= self.needed {
            let so_far = self.answer.exact;
            let segments = (t, x, &self.block.exact);
            self.answer.reached_ms = reached(self.curve, segments, so_far, self.needed);
        }
        self.answer.exact += sums.exact;
        self.answer.trapezoid += sums.trapezoid;
        self.answer.strict += sums.strict;
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
    type Output = Sums;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Sums {
        self.block.fill(simd, self.curve, self.t, self.x, self.span)
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

/// The sum of a block in the order of [`Lanes`].
#[inline(always)]
fn in_lanes(values: &[f64; BLOCK]) -> f64 {
    let mut lanes = [0.0; LANES];
    // By index: an iterator over both would be built anew for every eight values.
    for at in 0..BLOCK / LANES {
        for i in 0..LANES {
            lanes[i] += values[at * LANES + i];
        }
    }
    total(&lanes)
}

#[inline(always)]
fn total(lanes: &[f64; LANES]) -> f64 {
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
        return Some(whole_ms(curve, t, x, needed - sum, exact[i]));
    }
    None
}

/// The first whole millisecond of a segment by which it has collected `wanted`, or its end. It collects `all`.
fn whole_ms(curve: &Curve, t: (f64, f64), x: (f64, f64), wanted: f64, all: f64) -> f64 {
    let slope = if t.1 > t.0 {
        (x.1 - x.0) / (t.1 - t.0)
    } else {
        0.0
    };
    let (mut early, mut late) = (t.0, t.1);
    let (mut below, mut above) = (0.0, all);
    let mut slow = 0;
    for _ in 0..MOST_TURNS {
        if late - early <= 1.0 {
            break;
        }
        let width = late - early;
        // Kill grows almost in proportion to time; where twice that did not help, the middle does.
        let share = if slow < 2 {
            (wanted - below) / (above - below)
        } else {
            0.5
        };
        let at = (early + share * width).floor();
        let at = at.larger(early + 1.0).smaller(late - 1.0);
        let so_far = curve.segment((t.0, at), (x.0, x.0 + slope * (at - t.0)));
        if so_far >= wanted {
            (late, above) = (at, so_far);
        } else {
            (early, below) = (at, so_far);
        }
        slow = if late - early > 0.5 * width {
            slow + 1
        } else {
            0
        };
    }
    late
}

#[cfg(test)]
#[path = "kernel_tests.rs"]
mod tests;
