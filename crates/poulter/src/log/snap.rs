//! Times and readings as whole numbers: milliseconds, and ninths of a millikelvin.

// Every function here is part of a loop that is compiled once for each instruction set.
#![allow(clippy::inline_always)]

use crate::math::Numbers;
use crate::units::{ExactTemperature, TemperatureUnit};

pub(super) const COLDEST: f64 = steps_of(ExactTemperature::from_millicelsius(-200_000));
pub(super) const HOTTEST: f64 = steps_of(ExactTemperature::from_millicelsius(600_000));
/// 20 years, the longest [`Duration`](crate::units::Duration).
pub(super) const LAST_MS: f64 = 631_152_000_000.0;

/// 1.5 · 2⁵²: adding and subtracting it rounds to a whole number, ties to even, on every instruction set.
const ROUNDING: f64 = 6_755_399_441_055_744.0;

pub(super) const fn steps_of(exact: ExactTemperature) -> f64 {
    exact.ninths_of_millikelvin() as f64
}

/// A time in milliseconds, in range or not.
#[inline(always)]
pub(super) fn any_ms<N: Numbers>(seconds: N) -> N {
    (seconds * seconds.like(1e3) + seconds.like(ROUNDING)) - seconds.like(ROUNDING)
}

/// A time snapped to the millisecond; NaN when out of range.
#[inline(always)]
pub(crate) fn elapsed_ms<N: Numbers>(seconds: N) -> N {
    let (ms, missing) = (any_ms(seconds), seconds.like(f64::NAN));
    let ms = ms.where_less(ms.like(0.0), missing, ms);
    ms.like(LAST_MS).where_less(ms, missing, ms)
}

/// How the numbers of a unit become steps.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    /// Steps in a thousandth of a degree.
    each: f64,
    /// Thousandths of a degree from absolute zero to the zero of the unit.
    zero: f64,
}

impl Scale {
    pub(crate) const fn of(unit: TemperatureUnit) -> Self {
        let (each, zero) = match unit {
            TemperatureUnit::Celsius => (9.0, 273_150.0),
            TemperatureUnit::Fahrenheit => (5.0, 459_670.0),
            TemperatureUnit::Kelvin => (9.0, 0.0),
        };
        Self { each, zero }
    }

    /// A reading snapped to a thousandth of a degree of its unit, in range or not.
    #[inline(always)]
    pub(super) fn any_steps<N: Numbers>(self, value: N) -> N {
        let thousandths = any_ms(value);
        value.like(self.each) * (thousandths + value.like(self.zero))
    }

    /// A reading snapped to a thousandth of a degree of its unit; infinite when out of range.
    #[inline(always)]
    pub(crate) fn steps<N: Numbers>(self, value: N) -> N {
        let (steps, far) = (self.any_steps(value), value.like(f64::INFINITY));
        let steps = steps.where_less(steps.like(COLDEST), far, steps);
        steps.like(HOTTEST).where_less(steps, far, steps)
    }
}

/// Writes the values as `whole` makes them.
#[inline(always)]
pub(super) fn snap(values: &[f64], to: &mut [f64], whole: impl Fn(f64) -> f64) {
    for (to, from) in to.iter_mut().zip(values) {
        *to = whole(*from);
    }
}

#[cfg(test)]
mod tests {
    use super::super::build::whole;
    use super::*;
    use crate::units::Temperature;

    #[test]
    fn a_reading_is_snapped_exactly_as_a_temperature_is() {
        for (value, unit) in [
            (74.0, TemperatureUnit::Celsius),
            (73.888_888_9, TemperatureUnit::Celsius),
            (165.0, TemperatureUnit::Fahrenheit),
            (164.999, TemperatureUnit::Fahrenheit),
            (0.1 + 0.2, TemperatureUnit::Celsius),
            (-17.8, TemperatureUnit::Celsius),
            (347.15, TemperatureUnit::Kelvin),
        ] {
            let exact = match unit {
                TemperatureUnit::Celsius => Temperature::from_celsius(value),
                TemperatureUnit::Fahrenheit => Temperature::from_fahrenheit(value),
                TemperatureUnit::Kelvin => Temperature::from_kelvin(value),
            };
            let exact = exact.unwrap().exact();
            let steps = Scale::of(unit).steps(value);
            assert_eq!(whole(steps), exact.ninths_of_millikelvin());
        }
        assert_eq!(
            Scale::of(TemperatureUnit::Fahrenheit).steps(41.0),
            Scale::of(TemperatureUnit::Celsius).steps(5.0)
        );
    }

    #[test]
    fn the_range_is_tested_under_at_and_over() {
        let celsius = |v: f64| Scale::of(TemperatureUnit::Celsius).steps(v).is_finite();
        assert!(!celsius(-200.001) && celsius(-200.0) && celsius(-199.999));
        assert!(celsius(599.999) && celsius(600.0) && !celsius(600.001));
        assert!(!celsius(f64::NAN) && !celsius(f64::INFINITY) && !celsius(1e300));
        assert!(elapsed_ms(-0.001).is_nan() && elapsed_ms(0.0) == 0.0);
        assert!(elapsed_ms(631_152_000.0).is_finite() && elapsed_ms(631_152_000.001).is_nan());
    }
}
