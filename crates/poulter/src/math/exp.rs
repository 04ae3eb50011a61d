//! An exponential of our own, written so that the compiler can work on several numbers at once.
//!
//! Only multiplications, additions, comparisons and shifts, in a fixed order and never fused, so every
//! instruction set gives the same bits.

use super::Numbers;

/// 1/ln 2, rounded to 64 bits.
const LOG2_E: f64 = std::f64::consts::LOG2_E;

/// The upper part of ln 2, with enough trailing noughts that its product with a whole number below 2048 is exact.
const LN_2_UPPER: f64 = f64::from_bits(0x3fe6_2e42_fee0_0000);

/// ln 2 less [`LN_2_UPPER`].
const LN_2_LOWER: f64 = f64::from_bits(0x3dea_39ef_3579_3c76);

/// 1.5 · 2⁵²: adding it rounds a small number to a whole one and leaves that number in the lowest bits.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

/// (eʳ − 1 − r)/r² on |r| ≤ ½ ln 2, lowest power first: interpolation at ten Chebyshev points in 50-digit
/// arithmetic (derived). The polynomial's own relative error in eʳ is 1.6·10⁻¹⁷.
const REST: [f64; 10] = [
    0.500_000_000_000_000_1,
    0.166_666_666_666_666_69,
    0.041_666_666_666_624_08,
    0.008_333_333_333_330_058,
    0.001_388_888_891_723_823_3,
    0.000_198_412_698_630_724_7,
    2.480_152_125_786_665e-5,
    2.755_726_843_070_71e-6,
    2.762_010_655_951_416_4e-7,
    2.510_039_942_545_198_5e-8,
];

/// The same on |r| ≤ ½ at eleven Chebyshev points (derived). The polynomial's own relative error in eʳ is 3.3·10⁻¹⁷.
const REST_NEAR: [f64; 11] = [
    0.5,
    0.166_666_666_666_668_35,
    0.041_666_666_666_666_79,
    0.008_333_333_333_198_127,
    0.001_388_888_888_879_235_2,
    0.000_198_412_701_440_866_35,
    2.480_158_751_780_227e-5,
    2.755_704_244_819_296e-6,
    2.755_712_159_501_279e-7,
    2.516_274_462_646_017_8e-8,
    2.095_576_228_949_440_8e-9,
];

/// How far from nought [`exp_near`] reaches.
pub(crate) const NEAR: f64 = 0.5;

/// e to the power `r`, within 2 units in the last place, for |r| ≤ [`NEAR`]. NaN stays NaN.
#[inline(always)]
#[must_use]
#[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
pub(crate) fn exp_near<N: Numbers>(r: N) -> N {
    let c = |at: usize| r.like(REST_NEAR[at]);
    let r2 = r * r;
    let r4 = r2 * r2;
    let low = (c(0) + c(1) * r) + (c(2) + c(3) * r) * r2;
    let middle = (c(4) + c(5) * r) + (c(6) + c(7) * r) * r2;
    let high = (c(8) + c(9) * r) + c(10) * r2;
    let p = low + (middle + high * r4) * r4;
    r.like(1.0) + (r + r2 * p)
}

/// e to the power `x`, within 2 units in the last place, for `x` on −708 … 709; nonsense outside.
///
/// x = n ln 2 + r with whole n and |r| ≤ ½ ln 2; eˣ = 2ⁿ (1 + (r + r² p(r))). NaN stays NaN. Nothing here checks
/// the range: callers prove it, so that the loop has no branch.
#[inline(always)]
#[must_use]
#[allow(clippy::inline_always)] // the caller's loop is only vectorised when this is inside it
pub(crate) fn exp_within(x: f64) -> f64 {
    let shifted = x * LOG2_E + ROUNDING;
    let n = shifted - ROUNDING;
    let r = (x - n * LN_2_UPPER) - n * LN_2_LOWER;
    // Pairs first, then pairs of pairs: the steps do not wait for one another.
    let r2 = r * r;
    let r4 = r2 * r2;
    let low = (REST[0] + REST[1] * r) + (REST[2] + REST[3] * r) * r2;
    let middle = (REST[4] + REST[5] * r) + (REST[6] + REST[7] * r) * r2;
    let high = REST[8] + REST[9] * r;
    let p = low + (middle + high * r4) * r4;
    let mantissa = 1.0 + (r + r2 * p);
    let power = f64::from_bits(shifted.to_bits().wrapping_add(1023) << 52);
    mantissa * power
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ulps_apart(a: f64, b: f64) -> u64 {
        a.to_bits().abs_diff(b.to_bits())
    }

    #[test]
    fn within_two_ulps_of_libm_on_a_dense_grid() {
        // libm's own exp is within 1 ulp (its documentation), and the grid steps by an odd amount so that every
        // residue of ln 2 is met: 3 million points over the whole range, 1 million around nought.
        let mut worst = 0;
        for i in 0..3_000_000_i32 {
            let x = -708.0 + f64::from(i) * (1417.0 / 3e6);
            worst = worst.max(ulps_apart(exp_within(x), libm::exp(x)));
        }
        for i in -500_000..500_000_i32 {
            let x = f64::from(i) * 3.1e-6;
            worst = worst.max(ulps_apart(exp_within(x), libm::exp(x)));
        }
        assert!(worst <= 2, "{worst} ulp");
        let mut worst = 0;
        for i in -1_000_000..=1_000_000_i32 {
            let r = f64::from(i) * (NEAR / 1e6);
            worst = worst.max(ulps_apart(exp_near(r), libm::exp(r)));
        }
        assert!(worst <= 2, "{worst} ulp near nought");
    }

    #[test]
    fn nought_the_ends_and_nan() {
        assert_eq!(exp_within(0.0), 1.0);
        assert_eq!(exp_within(-0.0), 1.0);
        assert_eq!((exp_near(0.0), exp_near(-0.0)), (1.0, 1.0));
        assert!(exp_within(f64::NAN).is_nan() && exp_near(f64::NAN).is_nan());
        for end in [-708.0, 709.0] {
            assert!(ulps_apart(exp_within(end), libm::exp(end)) <= 2);
        }
    }

    #[test]
    fn agrees_with_fifty_digit_values() {
        // mpmath 1.3, 50 digits, rounded to the nearest f64.
        for (x, expected) in [
            (1.0, std::f64::consts::E),
            (-1.0, 0.367_879_441_171_442_33),
            (10.0, 22_026.465_794_806_718),
            (-100.0, 3.720_075_976_020_836e-44),
            (0.5, 1.648_721_270_700_128_2),
        ] {
            assert!(ulps_apart(exp_within(x), expected) <= 2, "{x}");
            if x.abs() <= NEAR {
                assert!(ulps_apart(exp_near(x), expected) <= 2, "{x}");
            }
        }
    }
}
