//! Quantities as the trade writes them: 12 lb 8 oz, 4 h 15 min, 325 °F.

use std::fmt::{self, Write as _};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    Duration, Length, Mass, Temperature, TemperatureDifference, TemperatureDifferenceUnit,
    TemperatureUnit, Volume,
};

/// The system of units a reader prefers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystem {
    /// Pounds, ounces, cups and degrees Fahrenheit.
    #[default]
    UsCustomary,
    /// Kilograms, grams, litres and degrees Celsius.
    Metric,
}

/// How a clock time is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum HourClock {
    /// 6:30 pm
    #[default]
    Twelve,
    /// 18:30
    TwentyFour,
}

pub(super) fn write_number(f: &mut impl fmt::Write, value: f64) -> fmt::Result {
    // Three decimals hold every published limit; trailing noughts only distract.
    if let Some(thousandths) = whole_thousandths(value) {
        return write_thousandths(f, thousandths);
    }
    f.write_str(&plain(value, 3))
}

/// The thousandths of a number that is no more than a number of them.
#[allow(clippy::cast_possible_truncation)] // whole and below 2⁵³
fn whole_thousandths(value: f64) -> Option<i64> {
    let thousandths = (value * 1e3).round();
    let is_whole = thousandths / 1e3 == value && thousandths.abs() < 1e15;
    is_whole.then_some(thousandths as i64)
}

fn write_thousandths(f: &mut impl fmt::Write, thousandths: i64) -> fmt::Result {
    if thousandths < 0 {
        f.write_char('-')?;
    }
    let (whole, rest) = (
        thousandths.unsigned_abs() / 1000,
        thousandths.unsigned_abs() % 1000,
    );
    write!(f, "{whole}")?;
    match rest {
        0 => Ok(()),
        _ if rest % 100 == 0 => write!(f, ".{}", rest / 100),
        _ if rest % 10 == 0 => write!(f, ".{:02}", rest / 10),
        _ => write!(f, ".{rest:03}"),
    }
}

fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

impl UnitSystem {
    /// A mass as a cook reads it: "12 lb 8 oz" or "5.67 kg"; small masses in ounces or grams.
    ///
    /// ```
    /// use poulter::units::{Mass, UnitSystem};
    /// let mass = Mass::from_pounds(12.5)?;
    /// assert_eq!(UnitSystem::UsCustomary.mass(mass), "12 lb 8 oz");
    /// assert_eq!(UnitSystem::Metric.mass(mass), "5.67 kg");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn mass(self, mass: Mass) -> String {
        match self {
            Self::Metric if mass.as_kilograms() >= 1.0 => {
                format!("{} kg", plain(mass.as_kilograms(), 2))
            }
            Self::Metric if mass.as_grams() >= 10.0 => format!("{} g", plain(mass.as_grams(), 0)),
            Self::Metric => format!("{} g", plain(mass.as_grams(), 1)),
            Self::UsCustomary if mass.as_pounds() >= 1.0 => {
                let ounces = mass.as_ounces().round();
                let (pounds, rest) = ((ounces / 16.0).floor(), ounces % 16.0);
                if rest == 0.0 {
                    format!("{pounds} lb")
                } else {
                    format!("{pounds} lb {rest} oz")
                }
            }
            Self::UsCustomary => format!("{} oz", plain(mass.as_ounces(), 1)),
        }
    }

    /// A temperature as a cook reads it: "165 °F" or "73.9 °C".
    #[must_use]
    pub fn temperature(self, temperature: Temperature) -> String {
        let (value, unit) = match self {
            Self::UsCustomary => (temperature.as_fahrenheit(), TemperatureUnit::Fahrenheit),
            Self::Metric => (temperature.as_celsius(), TemperatureUnit::Celsius),
        };
        format!("{} {}", plain(value, 1), unit.sign())
    }

    /// The setting of an oven dial: the next whole degree that is not cooler, since a setting is a least one.
    ///
    /// ```
    /// use poulter::units::{Temperature, UnitSystem};
    /// let setting = Temperature::parse("325 °F")?;
    /// assert_eq!(UnitSystem::UsCustomary.oven_setting(setting), "325 °F");
    /// assert_eq!(UnitSystem::Metric.oven_setting(setting), "163 °C");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn oven_setting(self, setting: Temperature) -> String {
        let (value, unit) = match self {
            Self::UsCustomary => (setting.as_fahrenheit(), TemperatureUnit::Fahrenheit),
            Self::Metric => (setting.as_celsius(), TemperatureUnit::Celsius),
        };
        // A value that is whole but for the last bits must not move by a degree.
        let whole = ((value * 1e6).round() / 1e6).ceil();
        format!("{} {}", plain(whole, 0), unit.sign())
    }

    /// A volume as a cook reads it: "2 gal", "3½ cups" or "1.8 L".
    #[must_use]
    pub fn volume(self, volume: Volume) -> String {
        match self {
            Self::Metric if volume.as_litres() >= 1.0 => {
                format!("{} L", plain(volume.as_litres(), 2))
            }
            Self::Metric => format!("{} mL", plain(volume.as_millilitres(), 0)),
            Self::UsCustomary if volume.as_gallons() >= 1.0 => {
                format!("{} gal", plain(volume.as_gallons(), 2))
            }
            Self::UsCustomary if volume.as_cups() >= 4.0 => {
                format!("{} qt", plain(volume.as_quarts(), 2))
            }
            Self::UsCustomary if volume.as_cups() >= 0.25 => {
                let cups = volume.as_cups();
                format!(
                    "{} {}",
                    plain(cups, 2),
                    if cups <= 1.0 { "cup" } else { "cups" }
                )
            }
            Self::UsCustomary => format!("{} tbsp", plain(volume.as_tablespoons(), 1)),
        }
    }

    /// A length as a cook reads it: "2 in" or "5.1 cm"; an altitude in feet or metres.
    #[must_use]
    pub fn length(self, length: Length) -> String {
        let small = length.as_metres() < 1.0;
        match (self, small) {
            (Self::UsCustomary, true) => format!("{} in", plain(length.as_inches(), 1)),
            (Self::UsCustomary, false) => format!("{} ft", plain(length.as_feet(), 0)),
            (Self::Metric, true) => format!("{} cm", plain(length.as_centimetres(), 1)),
            (Self::Metric, false) => format!("{} m", plain(length.as_metres(), 0)),
        }
    }
}

impl TemperatureDifference {
    /// The difference with the sign a reader knows: "9 °F" or "5 °C".
    ///
    /// ```
    /// use poulter::units::TemperatureDifference;
    /// assert_eq!(TemperatureDifference::parse("9 delta_degF")?.shown(), "9 °F");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn shown(self) -> String {
        let (value, sign) = match self.unit() {
            TemperatureDifferenceUnit::DeltaFahrenheit => (self.as_delta_fahrenheit(), "°F"),
            TemperatureDifferenceUnit::DeltaCelsius => (self.as_delta_celsius(), "°C"),
            TemperatureDifferenceUnit::Kelvin => (self.as_kelvin(), "K"),
        };
        format!("{} {sign}", plain(value, 3))
    }
}

impl Duration {
    /// The duration in the largest units that fit, rounded up to the minute from an hour on.
    ///
    /// ```
    /// use poulter::units::Duration;
    /// assert_eq!(Duration::parse("255 min")?.shown(), "4 h 15 min");
    /// assert_eq!(Duration::parse("72 h")?.shown(), "3 d");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn shown(self) -> String {
        let milliseconds = self.steps();
        if milliseconds < 120_000 && milliseconds % 60_000 != 0 {
            return format!("{} s", plain(self.as_seconds(), 1));
        }
        let minutes = milliseconds.div_euclid(60_000) + i64::from(milliseconds % 60_000 != 0);
        let (days, hours, rest) = (minutes / 1440, minutes % 1440 / 60, minutes % 60);
        // Whole days read as days; up to two days the rest is counted in hours.
        let (days, hours) = if minutes % 1440 == 0 || days >= 2 {
            (days, hours)
        } else {
            (0, days * 24 + hours)
        };
        let parts = [(days, "d"), (hours, "h"), (rest, "min")];
        let mut text = String::new();
        for (count, unit) in parts.into_iter().filter(|(count, _)| *count > 0) {
            let gap = if text.is_empty() { "" } else { " " };
            // Writing to a string does not fail.
            let _ = write!(text, "{gap}{count} {unit}");
        }
        if text.is_empty() {
            "0 min".to_owned()
        } else {
            text
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_thousandths_read_as_three_decimals_do() {
        let mut values = vec![0.0, -0.0, 0.0005, 1e15, -1e15, 1e300, f64::INFINITY];
        for i in -5_000..5_000_i32 {
            let thousandths = f64::from(i * 37) / 1e3;
            values.extend([thousandths, thousandths + 1e-9, f64::from(i) * 1e8 + 0.125]);
        }
        for value in values {
            let mut text = String::new();
            write_number(&mut text, value).unwrap();
            assert_eq!(text, plain(value, 3), "{value:e}");
        }
    }

    #[test]
    fn a_cook_reads_round_amounts() {
        let pound = |v| UnitSystem::UsCustomary.mass(Mass::from_pounds(v).unwrap());
        assert_eq!(pound(15.999), "16 lb");
        assert_eq!(pound(0.5), "8 oz");
        assert_eq!(
            UnitSystem::Metric.mass(Mass::from_grams(437.6).unwrap()),
            "438 g"
        );
        assert_eq!(
            UnitSystem::Metric.temperature(Temperature::parse("165 °F").unwrap()),
            "73.9 °C"
        );
        assert_eq!(Duration::parse("90 s").unwrap().shown(), "90 s");
        assert_eq!(Duration::parse("36 h").unwrap().shown(), "36 h");
        assert_eq!(
            Duration::parse("50 h 1 s").unwrap().shown(),
            "2 d 2 h 1 min"
        );
        assert_eq!(
            UnitSystem::UsCustomary.volume(Volume::parse("3½ cups").unwrap()),
            "3.5 cups"
        );
    }
}
