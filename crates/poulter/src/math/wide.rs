//! Several numbers side by side, with the operators of one number.

// Every function here is part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use std::ops::{Add, Div, Mul, Sub};

use pulp::Simd;

/// One number, or several side by side: what a formula is written for once.
pub(crate) trait Numbers:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self>
{
    /// A constant, as often as there are numbers here.
    fn like(self, value: f64) -> Self;
    /// The smaller of two; `than` where one of them is NaN.
    fn smaller(self, than: Self) -> Self;
    /// The larger of two; `than` where one of them is NaN.
    fn larger(self, than: Self) -> Self;
}

impl Numbers for f64 {
    #[inline(always)]
    fn like(self, value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn smaller(self, than: Self) -> Self {
        if self < than { self } else { than }
    }

    #[inline(always)]
    fn larger(self, than: Self) -> Self {
        if self > than { self } else { than }
    }
}

impl<S: Simd> Numbers for Wide<S> {
    #[inline(always)]
    fn like(self, value: f64) -> Self {
        Self::all(self.simd, value)
    }

    #[inline(always)]
    fn smaller(self, than: Self) -> Self {
        self.where_less(than, self, than)
    }

    #[inline(always)]
    fn larger(self, than: Self) -> Self {
        than.where_less(self, self, than)
    }
}

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
                Self {
                    held: self.simd.$operation(self.held, other.held),
                    ..self
                }
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
        Self::new(self.simd, self.simd.and_f64s(all_but_sign, self.held))
    }

    #[inline(always)]
    fn where_less(self, other: Self, yes: Self, no: Self) -> Self {
        let is_less = self.simd.less_than_f64s(self.held, other.held);
        Self::new(self.simd, self.simd.select_f64s(is_less, yes.held, no.held))
    }

    /// `yes` where two numbers are the same, and `no` elsewhere.
    #[inline(always)]
    pub(crate) fn where_equal(self, other: Self, yes: Self, no: Self) -> Self {
        let is_equal = self.simd.equal_f64s(self.held, other.held);
        Self::new(
            self.simd,
            self.simd.select_f64s(is_equal, yes.held, no.held),
        )
    }

    /// All the numbers, joined one after another.
    #[inline(always)]
    pub(crate) fn fold(self, join: impl Fn(f64, f64) -> f64) -> f64 {
        let numbers: &[f64] = bytemuck::cast_slice(std::slice::from_ref(&self.held));
        let mut joined = numbers[0];
        for number in &numbers[1..] {
            joined = join(joined, *number);
        }
        joined
    }
}
