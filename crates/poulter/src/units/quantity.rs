//! The integer-backed quantities other than absolute temperature.

use std::fmt;

use crate::error::{Error, ErrorKind};

use super::decimal::Decimal;
use super::ratio::{ceil_ratio, nearest_step};

/// What the generic text and wire readers need to know of a quantity.
pub(super) trait Quantity: Sized + Copy {
    /// The words that name the quantity in an error, with an example.
    const EXAMPLE: &'static str;
    /// The unit names of the wire, in the order shown to the user.
    const UNITS: &'static [&'static str];
    /// Builds the quantity from a number and a unit's wire name or human spelling.
    fn build(value: Decimal, unit: &str, human: bool) -> Result<Self, Error>;
    /// Builds the quantity without its range: what a comparison or conversion may hold, such as a negative margin.
    /// `None` for a unit that is not one of its own, or for more than can be held.
    fn unbounded(value: Decimal, unit: &str) -> Option<Self>;
    /// The same for a float, where it decides the number of steps beyond doubt.
    fn quick(value: f64, unit: &str) -> Option<Self>;
    /// The same quantity, shown in the unit with this wire name.
    fn shown_in(self, unit: &str) -> Option<Self>;
    /// Adds a further part, as in "4 lb 8 oz"; `None` where parts make no sense.
    fn join(self, part: Self) -> Option<Self>;
    fn wire_value(self) -> f64;
    fn wire_unit(self) -> &'static str;
}

pub(super) fn unknown_unit<Q: Quantity>(given: &str) -> Error {
    let mut expected = format!("one of the units {} is needed", Q::UNITS.join(", "));
    if matches!(given, "C" | "F" | "c" | "f") {
        expected = format!(
            "\"{given}\" alone may be a temperature or something else; write degC or degF, or °C or °F in text"
        );
    }
    Error::new(ErrorKind::UnitUnknown, given, expected)
}

macro_rules! quantity {
    (
        $(#[$doc:meta])* $name:ident, $unit:ident, $noun:literal, example $example:literal,
        range $lowest:literal to $highest:literal, $range_text:literal,
        si $uom:ident = $si_unit:path, $si_scale:expr,
        { $( $variant:ident $wire:literal $scale:literal $from:ident $as:ident [$($human:literal),*] ),+ $(,)? }
    ) => {
        #[doc = concat!("A unit of ", $noun, ".")]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $unit {
            $( #[doc = concat!("`", $wire, "`")] $variant, )+
        }

        impl $unit {
            /// The name of the unit on the wire.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $( Self::$variant => $wire, )+ }
            }

            pub(super) const fn scale(self) -> i64 {
                match self { $( Self::$variant => $scale, )+ }
            }

            fn from_name(name: &str, human: bool) -> Option<Self> {
                $(
                    if name == $wire || (human && [$($human),*].contains(&name.to_lowercase().as_str())) {
                        return Some(Self::$variant);
                    }
                )+
                None
            }
        }

        $(#[$doc])*
        #[derive(Clone, Copy, Debug)]
        pub struct $name { steps: i64, unit: $unit }

        impl $name {
            /// Nothing, in the first unit of the list.
            pub const ZERO: Self = Self { steps: 0, unit: [$($unit::$variant),+][0] };

            #[doc = concat!("Reads text such as ", $example, ".")]
            pub fn parse(text: &str) -> Result<Self, Error> {
                super::wire::parse_text(text)
            }

            $(
                #[doc = concat!("From a number of `", $wire, "`.")]
                #[inline]
                pub fn $from(value: f64) -> Result<Self, Error> {
                    Self::from_number(value, $unit::$variant)
                }

                #[doc = concat!("The number of `", $wire, "`.")]
                #[must_use]
                #[inline]
                pub fn $as(self) -> f64 {
                    self.steps as f64 / $unit::$variant.scale() as f64
                }
            )+

            /// The exact count of steps that comparisons use.
            #[must_use]
            pub const fn steps(self) -> i64 {
                self.steps
            }

            pub(crate) const fn from_steps(steps: i64, unit: $unit) -> Self {
                Self { steps, unit }
            }

            /// The unit the quantity was written in.
            #[must_use]
            pub const fn unit(self) -> $unit {
                self.unit
            }

            /// The same quantity, shown in another unit.
            #[must_use]
            pub const fn in_unit(self, unit: $unit) -> Self {
                Self { steps: self.steps, unit }
            }

            /// The physics twin.
            #[must_use]
            pub fn to_uom(self) -> uom::si::f64::$uom {
                uom::si::f64::$uom::new::<$si_unit>(self.steps as f64 / $si_scale)
            }

            /// From the physics twin, rounded to the nearest step and shown in `unit`.
            pub fn from_uom(value: uom::si::f64::$uom, unit: $unit) -> Result<Self, Error> {
                Ok(Self::checked(Decimal::from_f64(value.get::<$si_unit>())?, [$($unit::$variant),+].into_iter()
                    .find(|u| u.scale() as f64 == $si_scale).unwrap_or(unit))?.in_unit(unit))
            }

            /// The sum, in this quantity's unit; stops at the largest amount that can be held.
            #[must_use]
            pub const fn plus(self, other: Self) -> Self {
                Self { steps: self.steps.saturating_add(other.steps), unit: self.unit }
            }

            /// What is left after taking `other` away, never below nothing where negatives make no sense.
            #[must_use]
            pub const fn minus(self, other: Self) -> Self {
                let steps = self.steps.saturating_sub(other.steps);
                Self { steps: if $lowest == 0 && steps < 0 { 0 } else { steps }, unit: self.unit }
            }

            /// Multiplied by a ratio of whole numbers, rounded up, so that a time or amount never comes out short.
            #[must_use]
            #[inline]
            pub fn times_ratio(self, above: i64, below: i64) -> Self {
                Self { steps: ceil_ratio(self.steps, above, below), unit: self.unit }
            }

            /// The larger of the two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                if other > self { other } else { self }
            }

            /// The smaller of the two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                if other < self { other } else { self }
            }

            #[inline]
            fn from_number(value: f64, unit: $unit) -> Result<Self, Error> {
                match nearest_step(value, unit.scale()).filter(|steps| ($lowest..=$highest).contains(steps)) {
                    Some(steps) => Ok(Self { steps, unit }),
                    None => Self::checked(Decimal::from_f64(value)?, unit),
                }
            }

            fn checked(value: Decimal, unit: $unit) -> Result<Self, Error> {
                let range = || concat!($noun, " ", $range_text);
                let steps = value.times(unit.scale())
                    .filter(|steps| ($lowest..=$highest).contains(steps))
                    .ok_or_else(|| Error::new(ErrorKind::OutOfRange, value.shown(unit.name()), range()))?;
                Ok(Self { steps, unit })
            }
        }

        impl Quantity for $name {
            const EXAMPLE: &'static str = $example;
            const UNITS: &'static [&'static str] = &[$($wire),+];

            fn build(value: Decimal, unit: &str, human: bool) -> Result<Self, Error> {
                let unit = $unit::from_name(unit, human).ok_or_else(|| unknown_unit::<Self>(unit))?;
                Self::checked(value, unit)
            }

            fn unbounded(value: Decimal, unit: &str) -> Option<Self> {
                let unit = $unit::from_name(unit, false)?;
                Some(Self { steps: value.times(unit.scale())?, unit })
            }

            fn quick(value: f64, unit: &str) -> Option<Self> {
                let unit = $unit::from_name(unit, false)?;
                Some(Self { steps: nearest_step(value, unit.scale())?, unit })
            }

            fn shown_in(self, unit: &str) -> Option<Self> {
                $unit::from_name(unit, false).map(|unit| self.in_unit(unit))
            }

            fn join(self, part: Self) -> Option<Self> {
                // "4 lb 8 oz": the second unit must be the smaller one.
                (part.unit.scale() < self.unit.scale() && part.steps >= 0).then(|| self.plus(part))
            }

            fn wire_value(self) -> f64 {
                self.steps as f64 / self.unit.scale() as f64
            }

            fn wire_unit(self) -> &'static str {
                self.unit.name()
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool { self.steps == other.steps }
        }
        impl Eq for $name {}
        impl std::hash::Hash for $name {
            fn hash<H: std::hash::Hasher>(&self, state: &mut H) { self.steps.hash(state); }
        }
        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> { Some(self.cmp(other)) }
        }
        impl Ord for $name {
            fn cmp(&self, other: &Self) -> std::cmp::Ordering { self.steps.cmp(&other.steps) }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                super::style::write_number(f, self.wire_value())?;
                write!(f, " {}", self.unit.name())
            }
        }
    };
}

quantity! {
    /// A mass, exact in nanograms.
    ///
    /// ```
    /// use poulter::units::Mass;
    /// let bird = Mass::parse("4 lb 8 oz")?;
    /// assert_eq!(bird, Mass::from_pounds(4.5)?);
    /// assert_eq!(bird.as_kilograms(), 2.041165665);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    Mass, MassUnit, "mass", example "\"14 lb\", \"4 lb 8 oz\" or \"6.35 kg\"",
    range 0 to 1_000_000_000_000_000, "from 0 to 1000 kg (2204 lb) is needed",
    si Mass = uom::si::mass::kilogram, 1e12,
    {
        Kilogram "kg" 1_000_000_000_000 from_kilograms as_kilograms
            ["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"],
        Gram "g" 1_000_000_000 from_grams as_grams ["g", "gram", "grams", "gramme", "grammes"],
        Milligram "mg" 1_000_000 from_milligrams as_milligrams ["mg", "milligram", "milligrams"],
        Pound "lb" 453_592_370_000 from_pounds as_pounds ["lb", "lbs", "lb.", "lbs.", "pound", "pounds"],
        Ounce "oz" 28_349_523_125 from_ounces as_ounces ["oz", "oz.", "ounce", "ounces"],
    }
}

quantity! {
    /// A length of time, exact in milliseconds.
    ///
    /// ```
    /// use poulter::units::Duration;
    /// assert_eq!(Duration::parse("4½ h")?, Duration::parse("4 h 30 min")?);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    Duration, DurationUnit, "duration", example "\"5 h 30 min\", \"90 min\" or \"2 d\"",
    range 0 to 631_152_000_000, "from 0 to 7305 d (20 years) is needed",
    si Time = uom::si::time::second, 1e3,
    {
        Second "s" 1_000 from_seconds as_seconds ["s", "sec", "secs", "second", "seconds"],
        Minute "min" 60_000 from_minutes as_minutes ["min", "mins", "minute", "minutes"],
        Hour "h" 3_600_000 from_hours as_hours ["h", "hr", "hrs", "hour", "hours"],
        Day "d" 86_400_000 from_days as_days ["d", "day", "days"],
    }
}

quantity! {
    /// A volume, exact in hundredths of a picolitre. Cups, spoons, quarts and gallons are the US customary ones.
    ///
    /// ```
    /// use poulter::units::Volume;
    /// assert_eq!(Volume::parse("1 gal")?, Volume::parse("16 cup")?);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    Volume, VolumeUnit, "volume", example "\"2 gal\", \"1 1/2 cups\" or \"7.5 L\"",
    range 0 to 100_000_000_000_000_000, "from 0 to 1000 L (264 gal) is needed",
    si Volume = uom::si::volume::liter, 1e14,
    {
        Litre "L" 100_000_000_000_000 from_litres as_litres ["l", "litre", "litres", "liter", "liters"],
        Millilitre "mL" 100_000_000_000 from_millilitres as_millilitres
            ["ml", "millilitre", "millilitres", "milliliter", "milliliters"],
        Gallon "gal" 378_541_178_400_000 from_gallons as_gallons ["gal", "gallon", "gallons"],
        Quart "qt" 94_635_294_600_000 from_quarts as_quarts ["qt", "quart", "quarts"],
        Cup "cup" 23_658_823_650_000 from_cups as_cups ["cup", "cups"],
        FluidOunce "floz" 2_957_352_956_250 from_fluid_ounces as_fluid_ounces ["floz", "fl oz"],
        Tablespoon "tbsp" 1_478_676_478_125 from_tablespoons as_tablespoons ["tbsp", "tablespoon", "tablespoons"],
        Teaspoon "tsp" 492_892_159_375 from_teaspoons as_teaspoons ["tsp", "teaspoon", "teaspoons"],
    }
}

quantity! {
    /// A length or an altitude, exact in micrometres.
    ///
    /// ```
    /// use poulter::units::Length;
    /// assert_eq!(Length::parse("5000 ft")?.as_metres(), 1524.0);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    Length, LengthUnit, "length", example "\"120 m\", \"5000 ft\" or \"5 cm\"",
    range -500_000_000 to 9_000_000_000, "from -500 to 9000 m (29527 ft) is needed",
    si Length = uom::si::length::meter, 1e6,
    {
        Metre "m" 1_000_000 from_metres as_metres ["m", "metre", "metres", "meter", "meters"],
        Centimetre "cm" 10_000 from_centimetres as_centimetres ["cm"],
        Millimetre "mm" 1_000 from_millimetres as_millimetres ["mm"],
        Foot "ft" 304_800 from_feet as_feet ["ft", "foot", "feet"],
        Inch "in" 25_400 from_inches as_inches ["in", "inch", "inches"],
    }
}

quantity! {
    /// A share of a whole, exact in parts per thousand million.
    ///
    /// ```
    /// use poulter::units::Fraction;
    /// assert_eq!(Fraction::parse("8 %")?.as_ratio(), 0.08);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    Fraction, FractionUnit, "share", example "\"8 %\"",
    range 0 to 100_000_000_000, "from 0 % to 10000 % is needed",
    si Ratio = uom::si::ratio::ratio, 1e9,
    {
        Percent "%" 10_000_000 from_percent as_percent ["percent", "per cent", "pct"],
        Ratio "1" 1_000_000_000 from_ratio as_ratio [],
    }
}

quantity! {
    /// A difference of two temperatures, exact in ninths of a millikelvin. Never confused with a temperature.
    ///
    /// ```
    /// use poulter::units::TemperatureDifference;
    /// assert_eq!(TemperatureDifference::parse("9 delta_degF")?, TemperatureDifference::parse("5 delta_degC")?);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    TemperatureDifference, TemperatureDifferenceUnit, "temperature difference",
    example "\"-5 delta_degC\" or \"10 delta_degF\"",
    range -10_000_000 to 10_000_000, "from -1111 to 1111 kelvin is needed",
    si TemperatureInterval = uom::si::temperature_interval::kelvin, 9e3,
    {
        DeltaCelsius "delta_degC" 9_000 from_delta_celsius as_delta_celsius [],
        DeltaFahrenheit "delta_degF" 5_000 from_delta_fahrenheit as_delta_fahrenheit [],
        Kelvin "K" 9_000 from_kelvin as_kelvin [],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mass_is_exact_across_systems() {
        // The international pound is 0.45359237 kg by definition (1959 agreement).
        assert_eq!(
            Mass::parse("1 lb").unwrap(),
            Mass::parse("0.45359237 kg").unwrap()
        );
        assert_eq!(Mass::parse("16 oz").unwrap(), Mass::parse("1 lb").unwrap());
    }

    #[test]
    fn range_is_tested_under_at_and_over() {
        assert!(Mass::parse("999.999 kg").is_ok());
        assert!(Mass::parse("1000 kg").is_ok());
        assert_eq!(
            Mass::parse("1000.001 kg").unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert_eq!(
            Mass::parse("-3 lb").unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
        assert!(Mass::parse("0 lb").is_ok());
    }

    #[test]
    fn a_ratio_rounds_up() {
        let hour = Duration::from_hours(1.0).unwrap();
        assert_eq!(hour.times_ratio(1, 7).steps(), 514_286);
        assert_eq!(
            hour.times_ratio(3, 2),
            Duration::from_minutes(90.0).unwrap()
        );
    }

    #[test]
    fn physics_and_back_is_the_same() {
        let mass = Mass::parse("12 lb 5 oz").unwrap();
        assert_eq!(
            Mass::from_uom(mass.to_uom(), MassUnit::Pound).unwrap(),
            mass
        );
        let time = Duration::parse("72 h").unwrap();
        assert_eq!(
            Duration::from_uom(time.to_uom(), DurationUnit::Hour).unwrap(),
            time
        );
    }
}
