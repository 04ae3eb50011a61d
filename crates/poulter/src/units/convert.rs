//! Conversion of plain numbers, for callers that convert in a loop.

use crate::error::{Error, ErrorKind};

use super::{
    DurationUnit, FractionUnit, LengthUnit, MassUnit, TemperatureDifferenceUnit, VolumeUnit,
};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    Mass,
    Temperature,
    TemperatureDifference,
    Duration,
    Volume,
    Length,
    Fraction,
}

macro_rules! units {
    ($( $variant:ident $wire:literal $sort:ident $scale:expr, $zero:expr; )+) => {
        /// A unit of the wire, of any sort.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Unit {
            $( #[doc = concat!("`", $wire, "`")] $variant, )+
        }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name on the wire.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $( Self::$variant => $wire, )+ }
            }

            /// The unit with this name on the wire.
            ///
            /// Errors: a name that is not in the list.
            pub fn named(name: &str) -> Result<Self, Error> {
                match name {
                    $( $wire => Ok(Self::$variant), )+
                    _ => Err(unknown(name)),
                }
            }

            const fn sort(self) -> Sort {
                match self { $( Self::$variant => Sort::$sort, )+ }
            }

            /// Steps in one of this unit.
            const fn scale(self) -> i64 {
                match self { $( Self::$variant => $scale, )+ }
            }

            /// Steps at its zero.
            const fn zero(self) -> i64 {
                match self { $( Self::$variant => $zero, )+ }
            }
        }
    };
}

units! {
    Celsius "degC" Temperature 9_000, 9 * 273_150;
    Fahrenheit "degF" Temperature 5_000, 5 * 459_670;
    Kelvin "K" Temperature 9_000, 0;
    DeltaCelsius "delta_degC" TemperatureDifference TemperatureDifferenceUnit::DeltaCelsius.scale(), 0;
    DeltaFahrenheit "delta_degF" TemperatureDifference TemperatureDifferenceUnit::DeltaFahrenheit.scale(), 0;
    Kilogram "kg" Mass MassUnit::Kilogram.scale(), 0;
    Gram "g" Mass MassUnit::Gram.scale(), 0;
    Milligram "mg" Mass MassUnit::Milligram.scale(), 0;
    Pound "lb" Mass MassUnit::Pound.scale(), 0;
    Ounce "oz" Mass MassUnit::Ounce.scale(), 0;
    Second "s" Duration DurationUnit::Second.scale(), 0;
    Minute "min" Duration DurationUnit::Minute.scale(), 0;
    Hour "h" Duration DurationUnit::Hour.scale(), 0;
    Day "d" Duration DurationUnit::Day.scale(), 0;
    Litre "L" Volume VolumeUnit::Litre.scale(), 0;
    Millilitre "mL" Volume VolumeUnit::Millilitre.scale(), 0;
    Gallon "gal" Volume VolumeUnit::Gallon.scale(), 0;
    Quart "qt" Volume VolumeUnit::Quart.scale(), 0;
    Cup "cup" Volume VolumeUnit::Cup.scale(), 0;
    FluidOunce "floz" Volume VolumeUnit::FluidOunce.scale(), 0;
    Tablespoon "tbsp" Volume VolumeUnit::Tablespoon.scale(), 0;
    Teaspoon "tsp" Volume VolumeUnit::Teaspoon.scale(), 0;
    Metre "m" Length LengthUnit::Metre.scale(), 0;
    Centimetre "cm" Length LengthUnit::Centimetre.scale(), 0;
    Millimetre "mm" Length LengthUnit::Millimetre.scale(), 0;
    Foot "ft" Length LengthUnit::Foot.scale(), 0;
    Inch "in" Length LengthUnit::Inch.scale(), 0;
    Percent "%" Fraction FractionUnit::Percent.scale(), 0;
    Ratio "1" Fraction FractionUnit::Ratio.scale(), 0;
}

/// A number of one unit as a number of another of the same sort.
///
/// `(value × s₁ + z₁ − z₂) ÷ s₂` with the whole numbers of steps in a unit (`s`) and at its zero (`z`), so that whole
/// degrees that meet on both scales meet here: 41 °F is 5 °C. A verdict compares [`Temperature`](super::Temperature),
/// never these numbers.
///
/// Errors: units of different sorts, a number that is not finite, and a temperature below absolute zero.
///
/// ```
/// use poulter::units::{Unit, convert};
/// assert_eq!(convert(41.0, Unit::Fahrenheit, Unit::Celsius)?, 5.0);
/// assert_eq!(convert(14.0, Unit::Pound, Unit::Kilogram)?, 6.35029318);
/// assert!(convert(1.0, Unit::Pound, Unit::Hour).is_err());
/// # Ok::<(), poulter::Error>(())
/// ```
#[inline]
pub fn convert(value: f64, from: Unit, to: Unit) -> Result<f64, Error> {
    let steps = value * from.scale() as f64 + from.zero() as f64;
    let cold = from.sort() == Sort::Temperature && steps < 0.0;
    if from.sort() != to.sort() || !steps.is_finite() || cold {
        return Err(refuse(value, from, to));
    }
    if from == to {
        return Ok(value);
    }
    Ok((steps - to.zero() as f64) / to.scale() as f64)
}

/// The same for many numbers. A NaN stays a NaN: what was missing stays missing.
///
/// Errors: as for one, with the place of the first number that is refused.
///
/// ```
/// use poulter::units::{Unit, convert_all};
/// let log = convert_all(&[32.0, f64::NAN, 140.0], Unit::Fahrenheit, Unit::Celsius)?;
/// assert!(log[0] == 0.0 && log[1].is_nan() && log[2] == 60.0);
/// assert!(convert_all(&[0.0, f64::INFINITY], Unit::Gram, Unit::Kilogram).is_err());
/// # Ok::<(), poulter::Error>(())
/// ```
pub fn convert_all(values: &[f64], from: Unit, to: Unit) -> Result<Vec<f64>, Error> {
    if from.sort() != to.sort() {
        return Err(refuse(0.0, from, to));
    }
    let (scale, zero) = (from.scale() as f64, from.zero() as f64);
    let (below, away) = (to.scale() as f64, to.zero() as f64);
    let coldest = match from.sort() {
        Sort::Temperature => 0.0,
        _ => f64::NEG_INFINITY,
    };
    // Without a branch in either loop, so that the compiler can take several numbers at once.
    let fine = |value: f64| {
        let steps = value * scale + zero;
        value.is_nan() || (steps.is_finite() && steps >= coldest)
    };
    if !values.iter().fold(true, |all, &value| all & fine(value)) {
        let at = values
            .iter()
            .position(|&value| !fine(value))
            .unwrap_or_default();
        return Err(refuse(values[at], from, to).at(&format!("values[{at}]")));
    }
    if from == to {
        return Ok(values.to_vec());
    }
    let converted = values
        .iter()
        .map(|value| (value * scale + zero - away) / below);
    Ok(converted.collect())
}

#[cold]
fn unknown(name: &str) -> Error {
    let names: Vec<_> = Unit::ALL.iter().map(|unit| unit.name()).collect();
    let expected = format!("one of the units {} is needed", names.join(", "));
    Error::new(ErrorKind::UnitUnknown, name, expected)
}

#[cold]
fn refuse(value: f64, from: Unit, to: Unit) -> Error {
    if from.sort() != to.sort() {
        let alike = Unit::ALL.iter().filter(|unit| unit.sort() == from.sort());
        let names: Vec<_> = alike.map(|unit| unit.name()).collect();
        let expected = format!("one of the units {} is needed", names.join(", "));
        return Error::new(ErrorKind::UnitUnknown, to.name(), expected).at("to");
    }
    let given = format!("{value} {}", from.name());
    let expected = "a finite number is needed, and no temperature below absolute zero";
    Error::new(ErrorKind::OutOfRange, given, expected).at("value")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::AnyQuantity;

    #[test]
    fn the_units_are_those_of_the_wire() {
        let names: Vec<_> = Unit::ALL.iter().map(|unit| unit.name()).collect();
        for unit in AnyQuantity::units() {
            assert!(names.contains(&unit), "{unit}");
        }
    }

    #[test]
    fn numbers_are_those_of_exact_quantities() {
        for from in Unit::ALL {
            for to in Unit::ALL.iter().filter(|to| to.sort() == from.sort()) {
                for value in [0.0, 1.0, 14.0, 41.0, 164.9, 0.125] {
                    // A quantity holds no temperature below -200 °C.
                    if *from == Unit::Kelvin && value < 74.0 {
                        continue;
                    }
                    let quantity = AnyQuantity::new(value, from.name()).unwrap();
                    let exact = quantity.in_unit(to.name()).unwrap().value();
                    let found = convert(value, *from, *to).unwrap();
                    let close = (found - exact).abs() <= exact.abs() * 1e-9 + 1e-9;
                    assert!(close, "{value} {} to {}: {found}", from.name(), to.name());
                }
            }
        }
    }

    #[test]
    fn definitions_hold_to_the_last_digit() {
        // International yard and pound agreement of 1959; 0 °C = 32 °F = 273.15 K; the US gallon is 231 cubic inches.
        for (value, from, to, expected) in [
            (32.0, Unit::Fahrenheit, Unit::Celsius, 0.0),
            (140.0, Unit::Fahrenheit, Unit::Celsius, 60.0),
            (5.0, Unit::Celsius, Unit::Fahrenheit, 41.0),
            (0.0, Unit::Celsius, Unit::Kelvin, 273.15),
            (1.0, Unit::Pound, Unit::Gram, 453.592_37),
            (1.0, Unit::Gallon, Unit::Litre, 3.785_411_784),
            (1.0, Unit::Foot, Unit::Millimetre, 304.8),
            (1.5, Unit::Day, Unit::Hour, 36.0),
        ] {
            assert_eq!(
                convert(value, from, to).unwrap(),
                expected,
                "{value} {from:?}"
            );
        }
    }

    #[test]
    fn absolute_zero_is_tested_under_at_and_over() {
        for (celsius, fine) in [(-273.151, false), (-273.15, true), (-273.149, true)] {
            let found = convert(celsius, Unit::Celsius, Unit::Kelvin);
            assert_eq!(found.is_ok(), fine, "{celsius}");
        }
        for value in [f64::NAN, f64::INFINITY, 1e300] {
            assert!(convert(value, Unit::Gram, Unit::Gram).is_err());
        }
        for (celsius, fine) in [(-273.151, false), (-273.15, true), (-273.149, true)] {
            let found = convert_all(&[0.0, celsius], Unit::Celsius, Unit::Fahrenheit);
            assert_eq!(found.is_ok(), fine, "{celsius}");
            assert!(found.is_ok() || found.is_err_and(|error| error.field() == "values[1].value"));
        }
    }

    #[test]
    fn many_numbers_are_those_of_each() {
        let values = [0.0, 1.0, -0.0, 41.0, 164.9, 0.125, 1.0 / 3.0, 1e9];
        for &from in Unit::ALL {
            assert_eq!(Unit::named(from.name()).unwrap(), from);
            for &to in Unit::ALL {
                match convert_all(&values, from, to) {
                    Ok(found) => {
                        let each = values.map(|value| convert(value, from, to).unwrap());
                        assert_eq!(found, each, "{from:?} {to:?}");
                    }
                    Err(error) => assert_eq!(Err(error), convert(1.0, from, to)),
                }
            }
        }
        assert_eq!(Unit::named("F").unwrap_err().kind(), ErrorKind::UnitUnknown);
    }
}
