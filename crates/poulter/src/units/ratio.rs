//! Multiplying and dividing whole numbers without loss, quickly.

/// `amount × above ÷ below`, rounded up, exactly; the largest number that fits where it does not.
///
/// A 64-bit float gives a quotient that is off by a few units at most, and the exact remainder corrects it; that is
/// several times as fast as a division of 128-bit numbers, and gives the same number.
#[inline]
pub(super) fn ceil_ratio(amount: i64, above: i64, below: i64) -> i64 {
    let below = below.max(1);
    let product = i128::from(amount) * i128::from(above);
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a guess outside the range stops at its end and is not used"
    )]
    let guess = (amount as f64 * above as f64 / below as f64) as i64;
    let rest = product - i128::from(guess) * i128::from(below);
    // The remainder is small wherever the guess is good, which is everywhere that the quotient fits.
    if let Ok(rest) = i64::try_from(rest) {
        if rest <= 0 && rest > -below {
            return guess;
        }
        if rest > 0 && rest <= below {
            return guess.saturating_add(1);
        }
        let whole = rest.div_euclid(below);
        let up = i64::from(rest != whole * below);
        return guess.saturating_add(whole + up);
    }
    let below = i128::from(below);
    let steps = product.div_euclid(below) + i128::from(product.rem_euclid(below) != 0);
    i64::try_from(steps).unwrap_or(i64::MAX)
}

/// The whole number of steps nearest to `value × scale`, where a float decides it beyond doubt.
///
/// `value` stands for the shortest decimal number that reads back as it. It, and the product, are each off by half a
/// unit in the last place at most; where that could move the answer to its neighbour there is none, and the decimal
/// number has to be read digit by digit.
#[inline]
pub(super) fn nearest_step(value: f64, scale: i64) -> Option<i64> {
    let product = value * scale as f64;
    // Each error is half of `EPSILON × product` at most, and an eighth covers the rounding of this line; then what lies
    // beyond the fifteenth decimal place, which a reader of the text drops.
    let doubt = product.abs() * (1.125 * f64::EPSILON) + scale as f64 * 1e-15;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a product beyond the range of whole numbers has a doubt above one half"
    )]
    let nearest = (product + 0.5_f64.copysign(product)) as i64;
    if (product - nearest as f64).abs() + doubt < 0.5 {
        return Some(nearest);
    }
    short_decimal(value, product, scale)
}

/// A litre has so many steps that a float's doubt is above one half from 16 L on. A number with up to eight decimal
/// places is a multiple of a million steps, and it is the one that was written if it reads back as the float: no two
/// decimal numbers of fifteen digits do.
#[inline]
fn short_decimal(value: f64, product: f64, scale: i64) -> Option<i64> {
    const LITRE: i64 = 100_000_000_000_000;
    const MILLION: f64 = 1e6;
    if scale != LITRE || product.is_nan() || product.abs() >= 1e17 {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "below 10^17")]
    let millions = (product / MILLION + 0.5_f64.copysign(product)) as i64 * 1_000_000;
    // A guess that is off by one does not read back.
    (millions as f64 / scale as f64 == value).then_some(millions)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Long division.
    fn divided(amount: i64, above: i64, below: i64) -> i64 {
        let (product, below) = (
            i128::from(amount) * i128::from(above),
            i128::from(below.max(1)),
        );
        let down = product / below;
        let up = down + i128::from(product % below > 0);
        i64::try_from(up).unwrap_or(i64::MAX)
    }

    proptest! {
        #[test]
        fn a_ratio_is_that_of_long_division(
            amount in 0..i64::MAX, above in 0..i64::MAX, below in 0..i64::MAX, cut in 0_u32..60
        ) {
            prop_assert_eq!(ceil_ratio(amount >> cut, above >> (cut / 2), below >> (60 - cut)),
                divided(amount >> cut, above >> (cut / 2), below >> (60 - cut)));
        }

        #[test]
        fn a_ratio_at_a_whole_number_is_not_raised(quotient in 0_i64..1 << 40, below in 1_i64..1 << 22) {
            let product = quotient * below;
            prop_assert_eq!(ceil_ratio(product, 1, below), quotient);
            prop_assert_eq!(ceil_ratio(product + 1, 1, below), divided(product + 1, 1, below));
        }

        #[test]
        fn a_step_is_that_of_the_decimal_text(thousandths in -2_000_000_000_i64..2_000_000_000, scale in 1_i64..1_000_000_000) {
            let value = thousandths as f64 / 1000.0;
            if let Some(found) = nearest_step(value, scale) {
                let read = super::super::decimal::Decimal::read(&format!("{value}")).unwrap().0;
                prop_assert_eq!(Some(found), read.times(scale));
            }
        }
    }

    /// A number with a text of any length, whose product may lie anywhere between two steps.
    fn read(value: f64, scale: i64) -> Option<i64> {
        let text = format!("{value}");
        super::super::decimal::Decimal::read(&text)?.0.times(scale)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        #[test]
        fn a_step_of_any_float_is_that_of_its_text(value in -1000.0_f64..1000.0, cut in 0_u32..12, scale in prop_oneof![
            Just(1_000), Just(5_000), Just(453_592_370_000), Just(1_000_000_000_000), Just(100_000_000_000_000), 1_i64..1 << 47
        ]) {
            let value = value / f64::from(1 << cut);
            if let Some(found) = nearest_step(value, scale) {
                prop_assert_eq!(Some(found), read(value, scale));
            }
        }

        #[test]
        fn a_step_close_to_a_tie_is_that_of_its_text(steps in 1_i64..1 << 50, ulps in -3_i64..4, scale in prop_oneof![
            Just(1_000), Just(453_592_370_000), Just(1_000_000_000_000), Just(100_000_000_000_000)
        ]) {
            let tie = (steps as f64 + 0.5) / scale as f64;
            let value = f64::from_bits(tie.to_bits().wrapping_add_signed(ulps));
            if let Some(found) = nearest_step(value, scale) {
                prop_assert_eq!(Some(found), read(value, scale));
            }
        }
    }

    proptest! {
        #[test]
        fn litres_are_those_of_the_decimal_text(hundred_millionths in 0_i64..100_000_000_000) {
            let value = hundred_millionths as f64 / 1e8;
            if let Some(found) = nearest_step(value, 100_000_000_000_000) {
                prop_assert_eq!(found, hundred_millionths * 1_000_000);
            }
        }
    }

    #[test]
    fn a_tie_or_a_number_beyond_the_range_is_left_to_the_text() {
        for (value, scale) in [
            (0.5, 1),
            (-2.5, 1),
            (1e19, 1),
            (f64::NAN, 1000),
            (f64::INFINITY, 1000),
        ] {
            assert_eq!(nearest_step(value, scale), None, "{value}");
        }
        assert_eq!(
            nearest_step(5.443_108_44, 1_000_000_000_000),
            Some(5_443_108_440_000)
        );
        assert_eq!(nearest_step(-12.7, 1000), Some(-12_700));
    }
}
