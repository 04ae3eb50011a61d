//! A quantity whose sort is known only from its unit.

use std::cmp::Ordering;
use std::fmt;

use serde::{Serialize, Serializer};

use crate::error::{Error, ErrorKind};

use super::decimal::Decimal;
use super::quantity::Quantity;
use super::{
    Duration, Fraction, Length, Mass, Temperature, TemperatureDifference,
    TemperatureDifferenceUnit, UnitSystem, Volume,
};

/// A quantity of any sort, for conversion and comparison.
///
/// Unlike the typed quantities it holds amounts outside their ranges, such as a negative margin of time; the typed
/// quantity checks the range when it reads the value. `K` alone reads as a temperature.
///
/// Two quantities are equal when they are exactly the same amount, whatever the unit. Quantities of different sorts
/// are never equal and have no order.
///
/// ```
/// use poulter::units::AnyQuantity;
/// let limit = AnyQuantity::new(41.0, "degF")?;
/// assert_eq!(limit, AnyQuantity::new(5.0, "degC")?);
/// assert_eq!(limit.in_unit("degC")?.value(), 5.0);
/// assert!(limit.in_unit("lb").is_err());
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AnyQuantity {
    /// A mass.
    Mass(Mass),
    /// A temperature.
    Temperature(Temperature),
    /// A difference of temperatures.
    TemperatureDifference(TemperatureDifference),
    /// A length of time.
    Duration(Duration),
    /// A volume.
    Volume(Volume),
    /// A length.
    Length(Length),
    /// A share of a whole.
    Fraction(Fraction),
}

macro_rules! each_sort {
    ($act:ident $($with:ident)*) => {
        $act! { $($with)* Mass Temperature TemperatureDifference Duration Volume Length Fraction }
    };
}

macro_rules! every_unit {
    ($($sort:ident)+) => { [$(<$sort as Quantity>::UNITS),+].concat() };
}

impl AnyQuantity {
    /// From a number and the wire name of its unit.
    ///
    /// Errors: a number that is not finite or cannot be held, or a unit that is not in the list.
    pub fn new(value: f64, unit: &str) -> Result<Self, Error> {
        // A float decides most numbers; the others are read digit by digit.
        macro_rules! try_each {
            ($read:ident $given:ident $($sort:ident)+) => { $(
                if let Some(quantity) = <$sort as Quantity>::$read($given, unit).map(Self::$sort)
                    && !quantity.is_difference_in_kelvin()
                {
                    return Ok(quantity);
                }
            )+ };
        }
        if value.abs() < Decimal::MOST {
            each_sort!(try_each quick value);
        }
        let number = Decimal::from_f64(value)?;
        each_sort!(try_each unbounded number);
        if Self::units().contains(&unit) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!("{value} {unit}"),
                "an amount that can be held exactly is needed",
            ));
        }
        Err(unknown(unit, &Self::units()))
    }

    /// Reads text such as "4 lb 8 oz" or "165 °F".
    ///
    /// Errors: text that is not a number with a unit, a unit that is not in the list, or a number outside the range
    /// of the sort.
    pub fn parse(text: &str) -> Result<Self, Error> {
        macro_rules! try_each {
            ($($sort:ident)+) => { $(
                match $sort::parse(text) {
                    Ok(quantity) => return Ok(Self::$sort(quantity)),
                    Err(error) if error.kind() == ErrorKind::UnitUnknown => {}
                    Err(error) => return Err(error),
                }
            )+ };
        }
        each_sort!(try_each);
        Err(unknown(text, &Self::units()))
    }

    /// The same quantity, shown in the unit with this wire name.
    ///
    /// Errors: a unit that is not of this sort; the units that are get named. A difference is not shown in `K`, which
    /// would read back as a temperature.
    pub fn in_unit(self, unit: &str) -> Result<Self, Error> {
        if unit == "K" && matches!(self, Self::TemperatureDifference(_)) {
            return Err(unknown(unit, &["delta_degC", "delta_degF"]));
        }
        macro_rules! show {
            ($($sort:ident)+) => { match self { $(
                Self::$sort(quantity) => quantity
                    .shown_in(unit)
                    .map(Self::$sort)
                    .ok_or_else(|| unknown(unit, <$sort as Quantity>::UNITS)),
            )+ } };
        }
        each_sort!(show)
    }

    /// The number of [`unit`](Self::unit).
    #[must_use]
    pub fn value(self) -> f64 {
        macro_rules! value {
            ($($sort:ident)+) => { match self { $( Self::$sort(quantity) => quantity.wire_value(), )+ } };
        }
        each_sort!(value)
    }

    /// The wire name of the unit.
    #[must_use]
    pub fn unit(self) -> &'static str {
        macro_rules! unit {
            ($($sort:ident)+) => { match self { $( Self::$sort(quantity) => quantity.wire_unit(), )+ } };
        }
        each_sort!(unit)
    }

    /// The exact count of steps that comparisons use.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// let warm = AnyQuantity::parse("165 °F")?.in_unit("degC")?;
    /// assert_eq!(AnyQuantity::from_steps(warm.steps(), warm.unit())?, warm);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub const fn steps(self) -> i64 {
        macro_rules! steps {
            ($($sort:ident)+) => { match self { $( Self::$sort(quantity) => quantity.steps(), )+ } };
        }
        each_sort!(steps)
    }

    /// From a count of [`steps`](Self::steps) and the wire name of the unit to show.
    ///
    /// Errors: a unit that is not in the list.
    pub fn from_steps(steps: i64, unit: &str) -> Result<Self, Error> {
        // Any amount of the unit gives the sort; zero kelvin is no temperature to cook at.
        let start = if unit == "K" { 300.0 } else { 0.0 };
        let made = match Self::new(start, unit)? {
            Self::Mass(it) => Self::Mass(Mass::from_steps(steps, it.unit())),
            Self::Temperature(it) => Self::Temperature(Temperature::from_steps(steps, it.unit())),
            Self::TemperatureDifference(it) => {
                Self::TemperatureDifference(TemperatureDifference::from_steps(steps, it.unit()))
            }
            Self::Duration(it) => Self::Duration(Duration::from_steps(steps, it.unit())),
            Self::Volume(it) => Self::Volume(Volume::from_steps(steps, it.unit())),
            Self::Length(it) => Self::Length(Length::from_steps(steps, it.unit())),
            Self::Fraction(it) => Self::Fraction(Fraction::from_steps(steps, it.unit())),
        };
        Ok(made)
    }

    /// The amount as the trade writes it, rounded for reading: "4 lb 8 oz", "3 h 45 min". Amounts in US units stay in
    /// US units. Use [`Display`](fmt::Display) for the exact number.
    ///
    /// ```
    /// use poulter::units::AnyQuantity;
    /// assert_eq!(AnyQuantity::new(3.75, "h")?.shown(), "3 h 45 min");
    /// assert_eq!(AnyQuantity::new(4.5, "lb")?.shown(), "4 lb 8 oz");
    /// assert_eq!(AnyQuantity::new(-30.0, "min")?.shown(), "-30 min");
    /// assert_eq!(AnyQuantity::new(-0.1, "delta_degF")?.shown(), "-0.1 °F");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn shown(self) -> String {
        let system = match self.unit() {
            "mg" | "g" | "kg" | "mL" | "L" => UnitSystem::Metric,
            _ => UnitSystem::UsCustomary,
        };
        match self {
            Self::TemperatureDifference(difference) => difference.shown(),
            Self::Duration(time) if time >= Duration::ZERO => time.shown(),
            Self::Mass(mass) if mass >= Mass::ZERO => system.mass(mass),
            Self::Volume(volume) if volume >= Volume::ZERO => system.volume(volume),
            _ => self.to_string(),
        }
    }

    /// The wire names of all units.
    #[must_use]
    pub fn units() -> Vec<&'static str> {
        let mut units = each_sort!(every_unit);
        // "K" is a unit of two sorts.
        let mut seen = Vec::new();
        units.retain(|unit| {
            let new = !seen.contains(unit);
            seen.push(*unit);
            new
        });
        units
    }

    fn is_difference_in_kelvin(self) -> bool {
        matches!(self, Self::TemperatureDifference(by) if by.unit() == TemperatureDifferenceUnit::Kelvin)
    }
}

fn unknown(given: &str, units: &[&str]) -> Error {
    let expected = format!("one of the units {} is needed", units.join(", "));
    Error::new(ErrorKind::UnitUnknown, given, expected)
}

impl PartialOrd for AnyQuantity {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        macro_rules! compare {
            ($($sort:ident)+) => { match (self, other) {
                $( (Self::$sort(one), Self::$sort(other)) => Some(one.cmp(other)), )+
                _ => None,
            } };
        }
        each_sort!(compare)
    }
}

impl fmt::Display for AnyQuantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        macro_rules! show {
            ($($sort:ident)+) => { match self { $( Self::$sort(quantity) => quantity.fmt(f), )+ } };
        }
        each_sort!(show)
    }
}

impl Serialize for AnyQuantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        macro_rules! write {
            ($($sort:ident)+) => { match self { $( Self::$sort(quantity) => quantity.serialize(serializer), )+ } };
        }
        each_sort!(write)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sort_follows_from_the_unit() {
        for (text, value, unit) in [
            ("4 lb 8 oz", 4.5, "lb"),
            ("165 °F", 165.0, "degF"),
            ("9 delta_degF", 9.0, "delta_degF"),
            ("90 min", 90.0, "min"),
            ("2 cups", 2.0, "cup"),
            ("120 m", 120.0, "m"),
            ("8 %", 8.0, "%"),
        ] {
            let read = AnyQuantity::parse(text).unwrap();
            assert_eq!((read.value(), read.unit()), (value, unit), "{text}");
            assert_eq!(AnyQuantity::new(value, unit).unwrap(), read, "{text}");
        }
    }

    #[test]
    fn every_unit_of_the_list_is_read() {
        for unit in AnyQuantity::units() {
            // As kelvin, 300 is in the range of a temperature.
            assert_eq!(AnyQuantity::new(300.0, unit).unwrap().unit(), unit);
        }
    }

    #[test]
    fn conversion_follows_the_definitions() {
        // International yard and pound agreement of 1959; 1 °C step = 1.8 °F step; 0 °C = 32 °F.
        for (value, unit, to, expected) in [
            (1.0, "lb", "g", 453.592_37),
            (1.0, "in", "mm", 25.4),
            (32.0, "degF", "degC", 0.0),
            (1.0, "delta_degC", "delta_degF", 1.8),
            (1.0, "d", "min", 1440.0),
            (1.0, "gal", "cup", 16.0),
        ] {
            let converted = AnyQuantity::new(value, unit).unwrap().in_unit(to).unwrap();
            assert_eq!(converted.value(), expected, "{value} {unit} to {to}");
        }
    }

    #[test]
    fn negative_margins_are_held_and_sorts_do_not_mix() {
        let late = AnyQuantity::new(-30.0, "min").unwrap();
        assert!(late < AnyQuantity::new(0.0, "h").unwrap());
        let mass = AnyQuantity::new(-30.0, "lb").unwrap();
        assert_ne!(late, mass);
        assert_eq!(late.partial_cmp(&mass), None);
    }

    #[test]
    fn what_cannot_be_held_is_refused() {
        for (value, unit, kind) in [
            (f64::NAN, "lb", ErrorKind::OutOfRange),
            (f64::INFINITY, "lb", ErrorKind::OutOfRange),
            (1e11, "L", ErrorKind::OutOfRange),
            (-500.0, "degF", ErrorKind::OutOfRange),
            (7.0, "K", ErrorKind::OutOfRange),
            (1.0, "stone", ErrorKind::UnitUnknown),
            (1.0, "LB", ErrorKind::UnitUnknown),
        ] {
            assert_eq!(
                AnyQuantity::new(value, unit).unwrap_err().kind(),
                kind,
                "{value} {unit}"
            );
        }
        let pounds = AnyQuantity::new(1.0, "lb").unwrap();
        assert_eq!(
            pounds.in_unit("h").unwrap_err().kind(),
            ErrorKind::UnitUnknown
        );
        assert_eq!(
            AnyQuantity::parse("400").unwrap_err().kind(),
            ErrorKind::UnitMissing
        );
        assert_eq!(
            AnyQuantity::parse("9 stone").unwrap_err().kind(),
            ErrorKind::UnitUnknown
        );
    }
}
