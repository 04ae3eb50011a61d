//! Absolute temperature.

use std::fmt;

use crate::error::{Error, ErrorKind};

use super::decimal::Decimal;
use super::quantity::{Quantity, TemperatureDifference, unknown_unit};
use super::ratio::nearest_step;

/// A temperature as a whole number of ninths of a millikelvin above absolute zero.
///
/// Both scales land on whole numbers at a thousandth of a degree: m°C is 9·(x + 273150), m°F is 5·(x + 459670).
///
/// ```
/// use poulter::units::ExactTemperature;
/// assert_eq!(ExactTemperature::from_millifahrenheit(41_000), ExactTemperature::from_millicelsius(5_000));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ExactTemperature(i64);

impl ExactTemperature {
    /// From thousandths of a degree Celsius.
    #[must_use]
    pub const fn from_millicelsius(value: i64) -> Self {
        Self(9 * (value + 273_150))
    }

    /// From thousandths of a degree Fahrenheit.
    #[must_use]
    pub const fn from_millifahrenheit(value: i64) -> Self {
        Self(5 * (value + 459_670))
    }

    /// From thousandths of a kelvin.
    #[must_use]
    pub const fn from_millikelvin(value: i64) -> Self {
        Self(9 * value)
    }

    /// The whole number of ninths of a millikelvin.
    #[must_use]
    pub const fn ninths_of_millikelvin(self) -> i64 {
        self.0
    }
}

/// A unit of absolute temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TemperatureUnit {
    /// `degC`
    Celsius,
    /// `degF`
    Fahrenheit,
    /// `K`
    Kelvin,
}

impl TemperatureUnit {
    /// The name of the unit on the wire.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Celsius => "degC",
            Self::Fahrenheit => "degF",
            Self::Kelvin => "K",
        }
    }

    /// The sign a reader sees.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
            Self::Kelvin => "K",
        }
    }

    fn from_name(name: &str, human: bool) -> Option<Self> {
        match name {
            "degC" => return Some(Self::Celsius),
            "degF" => return Some(Self::Fahrenheit),
            "K" => return Some(Self::Kelvin),
            _ => {}
        }
        if !human {
            return None;
        }
        match name.replace(['º', '˚'], "°").to_lowercase().as_str() {
            "°c" | "° c" | "degc" | "deg c" | "celsius" | "degrees c" | "degrees celsius" => {
                Some(Self::Celsius)
            }
            "°f" | "° f" | "degf" | "deg f" | "fahrenheit" | "degrees f" | "degrees fahrenheit" => {
                Some(Self::Fahrenheit)
            }
            "kelvin" => Some(Self::Kelvin),
            _ => None,
        }
    }
}

/// An absolute temperature, snapped to a thousandth of a degree of the unit it was written in.
///
/// Valid range: −200 °C to 600 °C, which holds liquid nitrogen's neighbours and any oven.
///
/// ```
/// use poulter::units::Temperature;
/// assert_eq!(Temperature::parse("41 °F")?, Temperature::parse("5 °C")?);
/// assert!(Temperature::parse("164.999 °F")? < Temperature::parse("165 °F")?);
/// assert!(Temperature::parse("165 F").unwrap_err().to_string().contains("degF"));
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Temperature {
    exact: ExactTemperature,
    unit: TemperatureUnit,
}

const COLDEST: ExactTemperature = ExactTemperature::from_millicelsius(-200_000);
const HOTTEST: ExactTemperature = ExactTemperature::from_millicelsius(600_000);

impl Temperature {
    /// Reads text such as "165 °F".
    pub fn parse(text: &str) -> Result<Self, Error> {
        super::wire::parse_text(text)
    }

    /// From degrees Celsius.
    pub fn from_celsius(value: f64) -> Result<Self, Error> {
        Self::from_number(value, TemperatureUnit::Celsius)
    }

    /// From degrees Fahrenheit.
    pub fn from_fahrenheit(value: f64) -> Result<Self, Error> {
        Self::from_number(value, TemperatureUnit::Fahrenheit)
    }

    /// From kelvin.
    pub fn from_kelvin(value: f64) -> Result<Self, Error> {
        Self::from_number(value, TemperatureUnit::Kelvin)
    }

    pub(super) const fn from_steps(steps: i64, unit: TemperatureUnit) -> Self {
        Self {
            exact: ExactTemperature(steps),
            unit,
        }
    }

    pub(super) const fn steps(self) -> i64 {
        self.exact.0
    }

    /// From an exact temperature, to be shown in `unit`.
    #[must_use]
    pub const fn from_exact(exact: ExactTemperature, unit: TemperatureUnit) -> Self {
        Self { exact, unit }
    }

    /// Degrees Celsius.
    #[must_use]
    pub fn as_celsius(self) -> f64 {
        self.value_in(TemperatureUnit::Celsius)
    }

    /// Degrees Fahrenheit.
    #[must_use]
    pub fn as_fahrenheit(self) -> f64 {
        self.value_in(TemperatureUnit::Fahrenheit)
    }

    /// Kelvin.
    #[must_use]
    pub fn as_kelvin(self) -> f64 {
        self.value_in(TemperatureUnit::Kelvin)
    }

    /// The exact value that comparisons use.
    #[must_use]
    pub const fn exact(self) -> ExactTemperature {
        self.exact
    }

    /// The unit the temperature was written in.
    #[must_use]
    pub const fn unit(self) -> TemperatureUnit {
        self.unit
    }

    /// The same temperature, shown in another unit.
    #[must_use]
    pub const fn in_unit(self, unit: TemperatureUnit) -> Self {
        Self {
            exact: self.exact,
            unit,
        }
    }

    /// How far this temperature lies above `other`; negative when below.
    #[must_use]
    pub fn above(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::from_steps(
            self.exact.0.saturating_sub(other.exact.0),
            match self.unit {
                TemperatureUnit::Fahrenheit => super::TemperatureDifferenceUnit::DeltaFahrenheit,
                // A bare "K" on the wire would read as a temperature.
                TemperatureUnit::Celsius | TemperatureUnit::Kelvin => {
                    super::TemperatureDifferenceUnit::DeltaCelsius
                }
            },
        )
    }

    /// This temperature raised by a difference.
    #[must_use]
    pub const fn raised_by(self, by: TemperatureDifference) -> Self {
        Self {
            exact: ExactTemperature(self.exact.0.saturating_add(by.steps())),
            unit: self.unit,
        }
    }

    /// Moved by steps of a difference and snapped again; `None` outside the range.
    pub(super) fn moved_by(self, steps: i64) -> Option<Self> {
        let grid = match self.unit {
            TemperatureUnit::Celsius | TemperatureUnit::Kelvin => 9,
            TemperatureUnit::Fahrenheit => 5,
        };
        let exact = self.exact.0.checked_add(steps)?;
        let snapped = ExactTemperature((exact + grid / 2).div_euclid(grid) * grid);
        (COLDEST..=HOTTEST).contains(&snapped).then_some(Self {
            exact: snapped,
            unit: self.unit,
        })
    }

    /// The physics twin.
    #[must_use]
    pub fn to_uom(self) -> uom::si::f64::ThermodynamicTemperature {
        uom::si::f64::ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::kelvin>(
            self.as_kelvin(),
        )
    }

    fn value_in(self, unit: TemperatureUnit) -> f64 {
        let steps = self.exact.0;
        match unit {
            TemperatureUnit::Celsius => (steps - 9 * 273_150) as f64 / 9e3,
            TemperatureUnit::Fahrenheit => (steps - 5 * 459_670) as f64 / 5e3,
            TemperatureUnit::Kelvin => steps as f64 / 9e3,
        }
    }

    #[inline]
    fn from_number(value: f64, unit: TemperatureUnit) -> Result<Self, Error> {
        match nearest_step(value, 1000).and_then(|thousandths| Self::at(thousandths, unit)) {
            Some(temperature) => Ok(temperature),
            None => Self::checked(Decimal::from_f64(value)?, unit),
        }
    }

    fn checked(value: Decimal, unit: TemperatureUnit) -> Result<Self, Error> {
        let found = value.times(1000).and_then(|it| Self::at(it, unit));
        found.ok_or_else(|| {
            Error::new(
                ErrorKind::OutOfRange,
                value.shown(unit.sign()),
                "a temperature from -200 °C (-328 °F) to 600 °C (1112 °F) is needed",
            )
        })
    }

    /// So many thousandths of a degree; `None` outside the range.
    #[inline]
    fn at(thousandths: i64, unit: TemperatureUnit) -> Option<Self> {
        if !(-1_000_000..=2_000_000).contains(&thousandths) {
            return None;
        }
        let exact = match unit {
            TemperatureUnit::Celsius => ExactTemperature::from_millicelsius(thousandths),
            TemperatureUnit::Fahrenheit => ExactTemperature::from_millifahrenheit(thousandths),
            TemperatureUnit::Kelvin => ExactTemperature::from_millikelvin(thousandths),
        };
        (COLDEST..=HOTTEST)
            .contains(&exact)
            .then_some(Self { exact, unit })
    }
}

impl Quantity for Temperature {
    const EXAMPLE: &'static str = "\"165 °F\", \"74 °C\" or \"3 degC\"";
    const UNITS: &'static [&'static str] = &["degC", "degF", "K"];

    fn build(value: Decimal, unit: &str, human: bool) -> Result<Self, Error> {
        let unit =
            TemperatureUnit::from_name(unit, human).ok_or_else(|| unknown_unit::<Self>(unit))?;
        Self::checked(value, unit)
    }

    fn unbounded(value: Decimal, unit: &str) -> Option<Self> {
        Self::checked(value, TemperatureUnit::from_name(unit, false)?).ok()
    }

    fn quick(value: f64, unit: &str) -> Option<Self> {
        let unit = TemperatureUnit::from_name(unit, false)?;
        Self::at(nearest_step(value, 1000)?, unit)
    }

    fn shown_in(self, unit: &str) -> Option<Self> {
        TemperatureUnit::from_name(unit, false).map(|unit| self.in_unit(unit))
    }

    fn join(self, _part: Self) -> Option<Self> {
        None
    }

    fn wire_value(self) -> f64 {
        self.value_in(self.unit)
    }

    fn wire_unit(self) -> &'static str {
        self.unit.name()
    }
}

impl PartialEq for Temperature {
    fn eq(&self, other: &Self) -> bool {
        self.exact == other.exact
    }
}

impl Eq for Temperature {}

impl std::hash::Hash for Temperature {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.exact.hash(state);
    }
}

impl PartialOrd for Temperature {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Temperature {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.exact.cmp(&other.exact)
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        super::style::write_number(f, self.value_in(self.unit))?;
        write!(f, " {}", self.unit.sign())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paired_limits_are_told_apart() {
        // Only 5 °C = 41 °F and 60 °C = 140 °F are exact among the paired food-safety limits.
        let same =
            |c: &str, f: &str| Temperature::parse(c).unwrap() == Temperature::parse(f).unwrap();
        assert!(same("5 °C", "41 °F") && same("60 °C", "140 °F"));
        assert!(!same("74 °C", "165 °F") && !same("57 °C", "135 °F") && !same("21 °C", "70 °F"));
    }

    #[test]
    fn range_is_tested_under_at_and_over() {
        for (text, fine) in [
            ("-200.001 °C", false),
            ("-200 °C", true),
            ("600 °C", true),
            ("600.001 °C", false),
            ("-500 °F", false),
        ] {
            assert_eq!(Temperature::parse(text).is_ok(), fine, "{text}");
        }
        assert!(Temperature::from_celsius(f64::NAN).is_err());
        assert!(Temperature::from_celsius(f64::INFINITY).is_err());
    }

    #[test]
    fn a_reading_reads_back_as_written() {
        assert_eq!(Temperature::parse("68 °F").unwrap().as_fahrenheit(), 68.0);
        assert_eq!(
            Temperature::parse("164.9 °F").unwrap().to_string(),
            "164.9 °F"
        );
    }
}
