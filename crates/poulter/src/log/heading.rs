//! Headings of tables: what a column holds, and in which unit.

use crate::error::{Error, ErrorKind};
use crate::units::TemperatureUnit;

use super::Place;

/// What a column of a table holds, by its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Heading {
    /// Time since the log began.
    Elapsed {
        /// Seconds in one of it.
        seconds: u32,
    },
    /// Temperatures.
    Temperature {
        /// The place; nothing where a column beside it names the place of each row.
        place: Option<Place>,
        /// The unit.
        unit: TemperatureUnit,
    },
    /// Something else.
    Other,
}

const UNITS: &str = "the unit is needed: in the name as temp_degC, temp_degF or temp_K, in the metadata, or in unit";

fn unit_named(name: &str) -> Option<TemperatureUnit> {
    [
        TemperatureUnit::Celsius,
        TemperatureUnit::Fahrenheit,
        TemperatureUnit::Kelvin,
    ]
    .into_iter()
    .find(|unit| unit.name() == name)
}

impl Heading {
    /// Reads the name of a column: `elapsed_s`, `elapsed_min` or `elapsed_h`; `temp` or `<place>_temp`, with the
    /// unit behind it as `_degC`, `_degF` or `_K`, or in `unit`.
    ///
    /// ```
    /// use poulter::log::Heading;
    /// assert_eq!(Heading::of("elapsed_min", None)?, Heading::Elapsed { seconds: 60 });
    /// assert_eq!(Heading::of("breast_temp_degF", None)?, Heading::of("breast_temp", Some("degF"))?);
    /// assert_eq!(Heading::of("kitchen", None)?, Heading::Other);
    /// assert_eq!(Heading::of("temp", None).unwrap_err().code(), 201);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// A temperature without a unit, with one that is not known, or with two that differ; a name that is no place.
    pub fn of(name: &str, unit: Option<&str>) -> Result<Self, Error> {
        match name {
            "elapsed_s" => return Ok(Self::Elapsed { seconds: 1 }),
            "elapsed_min" => return Ok(Self::Elapsed { seconds: 60 }),
            "elapsed_h" => return Ok(Self::Elapsed { seconds: 3600 }),
            _ => {}
        }
        let (stem, ending) = match name.rsplit_once('_') {
            Some((stem, ending)) if stem == "temp" || stem.ends_with("_temp") => {
                (stem, Some(ending))
            }
            _ => (name, None),
        };
        let place = match stem.strip_suffix("temp") {
            Some("") => None,
            Some(place) if place.ends_with('_') => Some(place.trim_end_matches('_')),
            _ => return Ok(Self::Other),
        };
        let refuse = |kind, given: &str, expected| Err(Error::new(kind, given, expected).at(name));
        let unit = match (ending, unit) {
            (Some(ending), Some(unit)) if ending != unit => {
                return refuse(
                    ErrorKind::Conflict,
                    unit,
                    "one unit, the same in both, is needed",
                );
            }
            (Some(given), _) | (None, Some(given)) => {
                let Some(unit) = unit_named(given) else {
                    let expected = "one of degC, degF, K is needed";
                    return refuse(ErrorKind::UnitUnknown, given, expected);
                };
                unit
            }
            (None, None) => return refuse(ErrorKind::UnitMissing, name, UNITS),
        };
        let place = place.map(|place| Place::named(&place.replace('_', "-")));
        let place = place.transpose().map_err(|error| error.at(name))?;
        Ok(Self::Temperature { place, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_that_are_missing_strange_or_at_odds_are_refused() {
        for (name, unit, kind) in [
            ("temp", None, ErrorKind::UnitMissing),
            ("core_temp", None, ErrorKind::UnitMissing),
            ("temp_C", None, ErrorKind::UnitUnknown),
            ("temp", Some("F"), ErrorKind::UnitUnknown),
            ("temp_degC", Some("degF"), ErrorKind::Conflict),
            ("Left_temp_degC", None, ErrorKind::UnknownValue),
        ] {
            assert_eq!(Heading::of(name, unit).unwrap_err().kind(), kind, "{name}");
        }
    }

    #[test]
    fn places_and_other_columns_are_told_apart() {
        let celsius = |place: &str| Heading::Temperature {
            place: Some(Place::named(place).unwrap()),
            unit: TemperatureUnit::Celsius,
        };
        assert_eq!(
            Heading::of("left_thigh_temp_degC", None).unwrap(),
            celsius("left-thigh")
        );
        assert_eq!(
            Heading::of("core_temp_degC", Some("degC")).unwrap(),
            celsius("core")
        );
        for other in [
            "attempt",
            "temperature",
            "elapsed",
            "log_id",
            "",
            "_temp_x_y",
        ] {
            assert_eq!(Heading::of(other, None).unwrap(), Heading::Other, "{other}");
        }
    }
}
