//! Several numbers side by side, with the operators of one number.

// Every function here is part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use std::ops::{Add, Div, Mul, Sub};

use pulp::Simd;
#[cfg(target_arch = "x86_64")]
use pulp::x86::V4;

/// One number, or several side by side: what a formula is written for once.
pub(crate) trait Numbers:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self>
{
    /// A constant, as often as there are numbers here.
    fn like(self, value: f64) -> Self;
    /// `yes` where this is less than the other, and `no` elsewhere or where one of them is NaN.
    fn where_less(self, than: Self, yes: Self, no: Self) -> Self;
    /// The smaller of two; `than` where one of them is NaN.
    fn smaller(self, than: Self) -> Self;
    /// The larger of two; `than` where one of them is NaN.
    fn larger(self, than: Self) -> Self;
    /// The rows of a table that stand at these whole numbers. A number that is no row gives some row.
    fn row_of(self, table: &Table) -> Self;
}

/// A table with a power of two of rows, so that a masked index is always inside.
pub(crate) type Table = [f64; 32];

/// 1.5 · 2⁵²: adding it leaves a small whole number in the lowest bits.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

/// A whole number as an index.
#[inline(always)]
#[allow(clippy::cast_possible_truncation)] // masked to the rows of a table
fn index(whole: f64) -> usize {
    ((whole + ROUNDING).to_bits() as usize) & (size_of::<Table>() / size_of::<f64>() - 1)
}

impl Numbers for f64 {
    #[inline(always)]
    fn like(self, value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn where_less(self, than: Self, yes: Self, no: Self) -> Self {
        if self < than { yes } else { no }
    }

    #[inline(always)]
    fn smaller(self, than: Self) -> Self {
        if self < than { self } else { than }
    }

    #[inline(always)]
    fn larger(self, than: Self) -> Self {
        if self > than { self } else { than }
    }

    #[inline(always)]
    fn row_of(self, table: &Table) -> Self {
        table[index(self)]
    }
}

impl<S: Simd> Numbers for Wide<S> {
    #[inline(always)]
    fn like(self, value: f64) -> Self {
        Self::all(self.simd, value)
    }

    #[inline(always)]
    fn where_less(self, than: Self, yes: Self, no: Self) -> Self {
        let is_less = self.simd.less_than_f64s(self.held, than.held);
        self.with(self.simd.select_f64s(is_less, yes.held, no.held))
    }

    #[inline(always)]
    fn smaller(self, than: Self) -> Self {
        if HAS_X86_REGISTERS && S::F64_LANES > 1 {
            return self.with(self.simd.min_f64s(self.held, than.held));
        }
        self.where_less(than, self, than)
    }

    #[inline(always)]
    fn larger(self, than: Self) -> Self {
        if HAS_X86_REGISTERS && S::F64_LANES > 1 {
            return self.with(self.simd.max_f64s(self.held, than.held));
        }
        than.where_less(self, self, than)
    }

    #[inline(always)]
    fn row_of(self, table: &Table) -> Self {
        #[cfg(target_arch = "x86_64")]
        if let Some(simd) = (&self.simd as &dyn std::any::Any).downcast_ref::<V4>() {
            return self.row_in_registers(*simd, table);
        }
        // By index: an iterator would be called for each number.
        let mut numbers = [0.0; 8];
        self.store(&mut numbers, 0);
        for at in 0..S::F64_LANES {
            numbers[at] = table[index(numbers[at])];
        }
        Self::load(self.simd, &numbers, 0)
    }
}

#[cfg(target_arch = "x86_64")]
impl<S: Simd> Wide<S> {
    /// A table of four registers, of which each number picks one place.
    #[inline(always)]
    fn row_in_registers(self, simd: V4, table: &Table) -> Self {
        let index = bytemuck::cast((self + self.like(ROUNDING)).held);
        let quarter = |at: usize| Wide::<S>::load(self.simd, table, at).held;
        let half = |low, high| {
            let (low, high) = (bytemuck::cast(quarter(low)), bytemuck::cast(quarter(high)));
            let picked = simd.avx512f._mm512_permutex2var_pd(low, index, high);
            self.with(bytemuck::cast(picked))
        };
        self.where_less(self.like(16.0), half(0, 1), half(2, 3))
    }
}

/// The least and the greatest of two registers are one instruction on x86, which gives the second where one is NaN: the
/// same as the comparison that it stands for. Other machines have other rules for NaN.
const HAS_X86_REGISTERS: bool = cfg!(any(target_arch = "x86", target_arch = "x86_64"));

/// As many numbers as one register of `S` holds. No operation is fused, so each number has the bits that it would have
/// by itself.
#[derive(Clone, Copy)]
pub(crate) struct Wide<S: Simd> {
    simd: S,
    held: S::f64s,
}

macro_rules! operator {
    ($name:ident, $function:ident, $operation:ident) => {
        impl<S: Simd> $name for Wide<S> {
            type Output = Self;

            #[inline(always)]
            fn $function(self, other: Self) -> Self {
                self.with(self.simd.$operation(self.held, other.held))
            }
        }
    };
}

operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

impl<S: Simd> Wide<S> {
    #[inline(always)]
    fn new(simd: S, held: S::f64s) -> Self {
        Self { simd, held }
    }

    #[inline(always)]
    fn with(self, held: S::f64s) -> Self {
        Self { held, ..self }
    }

    /// One number in every place.
    #[inline(always)]
    pub(crate) fn all(simd: S, value: f64) -> Self {
        Self::new(simd, simd.splat_f64s(value))
    }

    /// How many registers so many values fill.
    #[inline(always)]
    pub(crate) const fn registers(values: usize) -> usize {
        values / S::F64_LANES
    }

    /// What the register numbered `at` takes of `values`.
    #[inline(always)]
    pub(crate) fn load(simd: S, values: &[f64], at: usize) -> Self {
        Self::new(simd, S::as_simd_f64s(values).0[at])
    }

    /// Writes to where [`Wide::load`] reads.
    #[inline(always)]
    pub(crate) fn store(self, values: &mut [f64], at: usize) {
        S::as_mut_simd_f64s(values).0[at] = self.held;
    }

    #[inline(always)]
    pub(crate) fn abs(self) -> Self {
        let all_but_sign = self.simd.splat_f64s(f64::from_bits(!(1 << 63)));
        self.with(self.simd.and_f64s(all_but_sign, self.held))
    }

    /// `yes` where two numbers are the same, and `no` elsewhere.
    #[inline(always)]
    pub(crate) fn where_equal(self, other: Self, yes: Self, no: Self) -> Self {
        let is_equal = self.simd.equal_f64s(self.held, other.held);
        self.with(self.simd.select_f64s(is_equal, yes.held, no.held))
    }

    /// Each number one place on, and the last of them first.
    #[inline(always)]
    pub(crate) fn turned(self) -> Self {
        self.with(self.simd.rotate_right_f64s(self.held, 1))
    }

    /// Of turned numbers, what stands before each of them: first the last of those before, which are turned as well.
    #[inline(always)]
    pub(crate) fn after(self, before: Self) -> Self {
        const PLACES: [f64; 8] = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0];
        let places = Self::load(self.simd, &PLACES, 0);
        places.where_less(self.like(0.5), before, self)
    }

    /// The last of the numbers.
    #[inline(always)]
    pub(crate) fn last(self) -> f64 {
        let numbers: &[f64] = bytemuck::cast_slice(std::slice::from_ref(&self.held));
        numbers[S::F64_LANES - 1]
    }

    /// The least of the numbers, none of which may be NaN.
    #[inline(always)]
    pub(crate) fn least(self) -> f64 {
        self.simd.reduce_min_f64s(self.held)
    }

    /// The greatest of the numbers, none of which may be NaN.
    #[inline(always)]
    pub(crate) fn greatest(self) -> f64 {
        self.simd.reduce_max_f64s(self.held)
    }
}

#[cfg(test)]
mod tests {
    use pulp::{Arch, WithSimd};

    use super::*;

    const VALUES: [f64; 16] = [
        3.0,
        -0.5,
        0.0,
        31.0,
        16.0,
        15.0,
        1.0,
        7.5,
        -3.0,
        f64::INFINITY,
        8.0,
        2.0,
        17.0,
        30.0,
        9.0,
        4.0,
    ];

    /// What registers make of two columns, one number after another.
    struct All<'a>(&'a [f64; 16], &'a [f64; 16]);

    impl WithSimd for All<'_> {
        type Output = Vec<u64>;

        #[inline(always)]
        fn with_simd<S: Simd>(self, simd: S) -> Vec<u64> {
            let table: Table = std::array::from_fn(|row| row as f64 * 1.25 + 0.1);
            let mut before = Wide::all(simd, -7.0);
            let mut columns = [[0.0; 16]; 8];
            let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
            for at in 0..Wide::<S>::registers(16) {
                let (a, b) = (Wide::load(simd, self.0, at), Wide::load(simd, self.1, at));
                let turned = a.turned();
                let of = [
                    a.smaller(b),
                    a.larger(b),
                    a.where_less(b, a * b, a - b),
                    a.where_equal(b, a + b, a / b),
                    a.abs(),
                    turned.after(before),
                    b.where_less(b.like(32.0), b, b.like(0.0))
                        .larger(b.like(0.0))
                        .row_of(&table),
                    Wide::all(simd, a.last()),
                ];
                before = turned;
                for (column, values) in columns.iter_mut().zip(of) {
                    values.store(column, at);
                }
                least = least.min(b.least());
                greatest = greatest.max(b.greatest());
            }
            // The last of a register depends on how many numbers it holds.
            columns[7] = [columns[7][15]; 16];
            let values = columns.into_iter().flatten().chain([least, greatest]);
            values.map(f64::to_bits).collect()
        }
    }

    #[test]
    fn registers_of_every_width_do_what_one_number_does() {
        let mut odd = VALUES;
        odd.rotate_left(5);
        odd[3] = f64::NAN;
        odd[12] = VALUES[12];
        let whole: [f64; 16] = std::array::from_fn(|i| (i * 7 % 32) as f64);
        for (a, b) in [(VALUES, whole), (whole, whole), (odd, whole)] {
            let all = || All(&a, &b);
            let plain = Arch::Scalar.dispatch(all());
            let mut archs = vec![Arch::new()];
            #[cfg(target_arch = "x86_64")]
            {
                archs.extend(pulp::x86::V3::try_new().map(Arch::V3));
                archs.extend(V4::try_new().map(Arch::V4));
            }
            for arch in archs {
                assert_eq!(arch.dispatch(all()), plain);
            }
            assert_eq!(f64::from_bits(plain[5 * 16]), -7.0);
            assert_eq!(plain[5 * 16 + 1..6 * 16], a.map(f64::to_bits)[..15]);
            assert_eq!(f64::from_bits(plain[6 * 16 + 9]), b[9] * 1.25 + 0.1);
            assert_eq!(
                f64::from_bits(plain[8 * 16 + 1]),
                b.into_iter().fold(0.0, f64::max)
            );
        }
        // Where a number is NaN the other stands; where the other is, it does.
        assert_eq!(f64::NAN.smaller(1.0), 1.0);
        assert!(1.0.larger(f64::NAN).is_nan());
    }
}
