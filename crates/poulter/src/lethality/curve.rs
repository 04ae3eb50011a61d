//! Rate of kill as a function of temperature, and its exact integral along a straight line.
//!
//! Temperatures are whole ninths of a millikelvin ("steps"), times are milliseconds, rates are log10 per
//! millisecond; every one of them an f64.

use pulp::Simd;

use crate::log::STEPS_PER_KELVIN;
use crate::math::{self, Numbers, Table, Wide};

use super::tables::HoldColumn;

/// Steps in a degree Fahrenheit, the spacing of the rows.
pub(super) const ROW_WIDTH: f64 = 5_000.0;

/// More rows than this are not taken: a slot lies below them and one above.
const MOST_ROWS: usize = 30;

/// Largest |h| for which [`mean_factor`] may be used.
pub(super) const SMALL_H: f64 = 0.25;

/// tanh(h)/h − 1 over h² on |h| ≤ ¼, lowest power first: interpolation at seven Chebyshev points in 50-digit
/// arithmetic (derived). The relative error of tanh(h)/h is 1.6·10⁻¹⁷.
const TANH: [f64; 7] = [
    -0.333_333_333_333_333_1,
    0.133_333_333_332_947_9,
    -0.053_968_253_869_450_214,
    0.021_869_479_025_947_81,
    -0.008_862_798_753_789_404,
    0.003_581_791_786_990_957,
    -0.001_333_428_757_979_776_2,
];

/// tanh(h)/h: what turns the mean of two end rates into the mean along an exponential between them.
///
/// With rates r₁, r₂ and h = ½ ln(r₂/r₁) the logarithmic mean is ½(r₁ + r₂) · tanh(h)/h. Nothing cancels, however
/// close the ends are.
#[inline(always)]
#[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
pub(super) fn mean_factor<N: Numbers>(h: N) -> N {
    let c = |at: usize| h.like(TANH[at]);
    let w = h * h;
    let w2 = w * w;
    let low = (c(0) + c(1) * w) + (c(2) + c(3) * w) * w2;
    let high = (c(4) + c(5) * w) + c(6) * w2;
    h.like(1.0) + w * (low + high * (w2 * w2))
}

/// Largest |h| for which [`mean_factor_near`] may be used.
pub(super) const TINY_H: f64 = 0.03;

/// [`mean_factor`] with its first terms only; what is left out is below 10⁻¹⁷.
#[inline(always)]
#[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
pub(super) fn mean_factor_near<N: Numbers>(h: N) -> N {
    let c = |at: usize| h.like(TANH[at]);
    let w = h * h;
    h.like(1.0) + w * ((c(0) + c(1) * w) + (c(2) + c(3) * w) * (w * w))
}

/// A rate curve with the target it belongs to.
#[derive(Clone, Debug)]
pub(crate) enum Curve {
    Table(Box<TableCurve>),
    FirstOrder(FirstOrder),
}

impl Curve {
    /// Below this nothing is killed.
    pub(super) fn floor(&self) -> f64 {
        match self {
            Self::Table(table) => table.first,
            Self::FirstOrder(line) => line.floor,
        }
    }
}

/// What a table says at one temperature, or at several side by side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading<N> {
    pub(super) slot: N,
    /// d ln(rate)/dT in the slot.
    pub(super) slope: N,
    pub(super) rate: N,
    /// Antiderivative of the rate.
    pub(super) whole: N,
    /// Rate of the row at or below, and the antiderivative of that staircase.
    pub(super) step: N,
    pub(super) stairs: N,
}

impl Reading<f64> {
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(super) fn everywhere<S: Simd>(self, simd: S) -> Reading<Wide<S>> {
        Reading {
            slot: Wide::all(simd, self.slot),
            slope: Wide::all(simd, self.slope),
            rate: Wide::all(simd, self.rate),
            whole: Wide::all(simd, self.whole),
            step: Wide::all(simd, self.step),
            stairs: Wide::all(simd, self.stairs),
        }
    }
}

// Field by field: a function that is handed over is called and not inlined, and then knows no instruction set.
impl<S: Simd> Reading<Wide<S>> {
    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(super) fn turned(self) -> Self {
        Self {
            slot: self.slot.turned(),
            slope: self.slope.turned(),
            rate: self.rate.turned(),
            whole: self.whole.turned(),
            step: self.step.turned(),
            stairs: self.stairs.turned(),
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(super) fn after(self, before: Self) -> Self {
        Self {
            slot: self.slot.after(before.slot),
            slope: self.slope.after(before.slope),
            rate: self.rate.after(before.rate),
            whole: self.whole.after(before.whole),
            step: self.step.after(before.step),
            stairs: self.stairs.after(before.stairs),
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // part of the vectorised loop
    pub(super) fn last(self) -> Reading<f64> {
        Reading {
            slot: self.slot.last(),
            slope: self.slope.last(),
            rate: self.rate.last(),
            whole: self.whole.last(),
            step: self.step.last(),
            stairs: self.stairs.last(),
        }
    }
}

/// The rows of a table with the logarithm of time linear in temperature between them, no kill below the first row
/// and the rate of the last row above it.
#[derive(Clone, Debug)]
pub(crate) struct TableCurve {
    /// The first row.
    pub(super) first: f64,
    /// The last row.
    pub(super) last: f64,
    /// The rate of that row.
    pub(super) last_rate: f64,
    /// The slot above the last row.
    pub(super) top: f64,
    /// Slots are below the first row, one between each two rows, and above the last. The rate at the lower row of each:
    pub(super) rate: Table,
    /// d ln(rate)/dT in each slot.
    pub(super) slope: Table,
    /// Antiderivative of the rate in each slot: `base` + rate · `inverse_slope`.
    pub(super) base: Table,
    pub(super) inverse_slope: Table,
    /// The largest of the slopes.
    pub(super) steepest: f64,
    /// Antiderivative at the lower row when each row's rate holds up to the next: the staircase.
    pub(super) stairs: Table,
}

impl TableCurve {
    /// The curve of whole-degree rows from `first_f` °F, each giving `target` log10 in its hold.
    pub(super) fn new(first_f: i64, holds_ms: &[i64], target: f64) -> Self {
        let first = ((first_f * 1000 + 459_670) * 5) as f64;
        let rows = holds_ms.len().min(MOST_ROWS);
        let mut curve = Self {
            first,
            last: first + ROW_WIDTH * (rows as f64 - 1.0),
            last_rate: 0.0,
            top: rows as f64,
            rate: [0.0; 32],
            slope: [0.0; 32],
            base: [0.0; 32],
            inverse_slope: [0.0; 32],
            steepest: 0.0,
            stairs: [0.0; 32],
        };
        let mut integral = 0.0;
        for (row, &hold) in holds_ms.iter().take(rows).enumerate() {
            let slot = row + 1;
            let rate = target / hold as f64;
            curve.rate[slot] = rate;
            curve.last_rate = rate;
            let Some(&next) = holds_ms.get(row + 1).filter(|_| slot < rows) else {
                curve.base[slot] = integral;
                break;
            };
            let slope = math::ln(hold as f64 / next as f64) / ROW_WIDTH;
            curve.slope[slot] = slope;
            curve.steepest = slope.larger(curve.steepest);
            curve.inverse_slope[slot] = 1.0 / slope;
            curve.base[slot] = integral - rate / slope;
            integral += (target / next as f64 - rate) / slope;
            curve.stairs[slot + 1] = curve.stairs[slot] + rate * ROW_WIDTH;
        }
        curve
    }

    pub(super) fn of(column: &HoldColumn) -> Self {
        Self::new(column.first_f, column.holds_ms, column.target)
    }

    /// The slot of a temperature, as a whole number.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn slot<N: Numbers>(&self, x: N) -> N {
        // Temperatures are whole steps, so half a step more never reaches the next row, and the sum is never
        // half-way between two whole numbers.
        let place = (x - x.like(self.first) + x.like(0.5)) * x.like(1.0 / ROW_WIDTH) + x.like(0.5);
        let place = place.larger(x.like(0.0)).smaller(x.like(self.top));
        (place + x.like(ROUNDING)) - x.like(ROUNDING)
    }

    /// What the curve says at a temperature.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn at<N: Numbers>(&self, x: N) -> Reading<N> {
        let slot = self.slot(x);
        let (step, slope) = (slot.row_of(&self.rate), slot.row_of(&self.slope));
        let above_row = x - self.row(slot);
        // Inside a slot the argument is at most 0.5; outside the rows the slope is nought.
        let rate = step * math::exp_near(slope * above_row);
        let above_last = (x - x.like(self.last)).larger(x.like(0.0));
        let under = slot.row_of(&self.base) + rate * slot.row_of(&self.inverse_slope);
        Reading {
            slot,
            slope,
            rate,
            whole: under + x.like(self.last_rate) * above_last,
            step,
            stairs: slot.row_of(&self.stairs) + step * above_row,
        }
    }

    /// The same at a temperature above the last row.
    pub(super) fn above(&self, x: f64) -> Reading<f64> {
        let over = self.last_rate * (x - self.last);
        Reading {
            slot: self.top,
            slope: 0.0,
            rate: self.last_rate,
            whole: self.top.row_of(&self.base) + over,
            step: self.last_rate,
            stairs: self.top.row_of(&self.stairs) + over,
        }
    }

    /// The lower row of a slot.
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn row<N: Numbers>(&self, slot: N) -> N {
        slot.like(self.first) + (slot - slot.like(1.0)) * slot.like(ROW_WIDTH)
    }

    fn segment(&self, t: (f64, f64), x: (f64, f64)) -> f64 {
        let (dt, dx) = (t.1 - t.0, x.1 - x.0);
        let (from, to) = (self.at(x.0), self.at(x.1));
        if from.slot.to_bits() == to.slot.to_bits() {
            dt * 0.5 * (from.rate + to.rate) * mean_factor(from.slope * dx * 0.5)
        } else {
            dt * (to.whole - from.whole) / dx
        }
    }
}

/// 1.5 · 2⁵²: adding it rounds a small number to a whole one and leaves that number in the lowest bits.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

/// A first-order model: D(T) = `D_ref` · 10^((`T_ref` − T)/z), with no kill below `floor` and the rate of `cap` above
/// it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FirstOrder {
    /// 1/`D_ref`.
    pub(super) rate: f64,
    pub(super) reference: f64,
    /// ln 10/z.
    pub(super) slope: f64,
    pub(super) floor: f64,
    pub(super) cap: f64,
}

impl FirstOrder {
    /// From D in milliseconds, z in kelvin and temperatures in steps.
    pub(super) fn new(d_ms: f64, z_kelvin: f64, reference: f64, floor: f64, cap: f64) -> Self {
        Self {
            rate: 1.0 / d_ms,
            reference,
            slope: std::f64::consts::LN_10 / (z_kelvin * STEPS_PER_KELVIN),
            floor,
            cap,
        }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn capped(&self, x: f64) -> f64 {
        if x > self.cap { self.cap } else { x }
    }

    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn rate_at(&self, x: f64) -> f64 {
        let rate = self.rate_within(self.capped(x));
        if x < self.floor { 0.0 } else { rate }
    }

    /// The rate between floor and cap. With z of 3 kelvin or more no temperature in range leaves the domain of
    /// [`math::exp_within`].
    #[inline(always)]
    #[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
    pub(super) fn rate_within(&self, x: f64) -> f64 {
        self.rate * math::exp_within(self.slope * (x - self.reference))
    }

    /// True when the rates at the ends are the ends of one exponential that [`mean_factor`] can average.
    fn is_smooth(&self, x: (f64, f64), h: f64) -> bool {
        (x.0 < self.floor) == (x.1 < self.floor)
            && (x.0 > self.cap) == (x.1 > self.cap)
            && h.abs() <= SMALL_H
    }

    fn integral_to(&self, x: f64) -> f64 {
        if x < self.floor {
            return 0.0;
        }
        let from = if self.floor.is_finite() {
            self.rate_at(self.floor)
        } else {
            0.0
        };
        let over = if x > self.cap {
            self.rate_at(self.cap) * (x - self.cap)
        } else {
            0.0
        };
        (self.rate_at(x) - from) / self.slope + over
    }

    pub(super) fn segment(&self, t: (f64, f64), x: (f64, f64)) -> f64 {
        let (dt, dx) = (t.1 - t.0, x.1 - x.0);
        let h = self.slope * (self.capped(x.1) - self.capped(x.0)) * 0.5;
        if self.is_smooth(x, h) {
            dt * 0.5 * (self.rate_at(x.0) + self.rate_at(x.1)) * mean_factor(h)
        } else {
            dt * (self.integral_to(x.1) - self.integral_to(x.0)) / dx
        }
    }
}

impl Curve {
    /// Below the first there is no kill; above the second the rate stays as it is.
    pub(super) const fn ends(&self) -> (f64, f64) {
        match self {
            Self::Table(table) => (table.first, table.last),
            Self::FirstOrder(line) => (line.floor, line.cap),
        }
    }

    /// log10 reduction along a straight line from (t₀, x₀) to (t₁, x₁).
    pub(crate) fn segment(&self, t: (f64, f64), x: (f64, f64)) -> f64 {
        match self {
            Self::Table(table) => table.segment(t, x),
            Self::FirstOrder(line) => line.segment(t, x),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tables::{CHICKEN_12_FAT, MEAT, TURKEY_12_FAT};
    use super::*;

    #[test]
    fn one_cell_is_narrow_enough_for_the_mean_factor() {
        for column in [&CHICKEN_12_FAT, &TURKEY_12_FAT, &MEAT] {
            let curve = TableCurve::of(column);
            let widest = curve.slope.iter().fold(0.0_f64, |a, &b| a.max(b));
            assert!(widest * ROW_WIDTH / 2.0 <= SMALL_H);
        }
    }

    #[test]
    fn the_first_terms_are_enough_near_nought() {
        for i in -1000..=1000 {
            let h = TINY_H * f64::from(i) / 1000.0;
            assert!(
                (mean_factor_near(h) - mean_factor(h)).abs() <= 2.3e-16,
                "{h}"
            );
        }
    }

    #[test]
    fn the_mean_factor_is_tanh_h_over_h() {
        // mpmath 1.3, 50 digits.
        for (h, expected) in [
            (0.0, 1.0),
            (0.1, 0.996_679_946_249_558_1),
            (-0.25, 0.979_674_649_614_836_5),
            (1e-9, 1.0),
        ] {
            assert!((mean_factor(h) - expected).abs() <= 2.3e-16, "{h}");
        }
    }

    #[test]
    fn above_the_last_row_there_is_one_rate() {
        let curve = TableCurve::of(&TURKEY_12_FAT);
        for steps in [0.0, 1.0, 12_345.0, 900_000.0] {
            let x = curve.last + steps;
            let (plain, all) = (curve.above(x), curve.at(x));
            for (a, b) in [
                (plain.slot, all.slot),
                (plain.slope, all.slope),
                (plain.rate, all.rate),
                (plain.whole, all.whole),
                (plain.step, all.step),
                (plain.stairs, all.stairs),
            ] {
                assert_eq!(a.to_bits(), b.to_bits(), "{steps}");
            }
        }
    }

    #[test]
    fn a_row_is_entered_at_its_own_step_and_not_before() {
        let curve = TableCurve::of(&MEAT);
        let row = (141_000.0 + 459_670.0) * 5.0;
        assert_eq!(curve.slot(row - 1.0), 11.0);
        assert_eq!(curve.slot(row), 12.0);
        assert_eq!(curve.slot(row + 1.0), 12.0);
        assert_eq!(curve.slot(curve.first - 1.0), 0.0);
        assert_eq!(curve.slot(curve.last), 28.0);
        assert_eq!(curve.slot(7_858_350.0), 28.0);
    }
}
