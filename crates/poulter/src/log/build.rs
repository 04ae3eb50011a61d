//! Building a log: from columns, from borrowed slices, or row by row.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::units::{
    Duration, DurationUnit, ExactTemperature, Temperature, TemperatureDifference,
    TemperatureDifferenceUnit, TemperatureUnit,
};

use super::Place;
use super::snap::{self, Scale, snap, steps_of};
use super::survey::{Clock, Column, RUN, Range, Survey};
use super::values::Values;

/// More rows than this are refused: at one reading a second they last half a year.
const MOST_ROWS: usize = 16_000_000;
const MOST_PLACES: usize = 64;

/// The unit names of the wire for a type that lives elsewhere.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(remote = "TemperatureUnit")]
enum TemperatureUnitName {
    #[serde(rename = "degC")]
    Celsius,
    #[serde(rename = "degF")]
    Fahrenheit,
    #[serde(rename = "K")]
    Kelvin,
}

/// A log as columns that share one clock.
///
/// ```
/// use poulter::log::{LogColumns, TemperatureLog};
/// let columns: LogColumns = serde_json::from_str(
///     r#"{"elapsed_s": [0, 60], "places": [{"place": "breast", "unit": "degF", "temperatures": [40, null]}]}"#,
/// ).unwrap();
/// let log = TemperatureLog::from_columns(&columns)?;
/// assert_eq!(log.len(), 2);
/// assert!(log.faults(&Default::default()).iter().any(|f| f.fault.blocks()));
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LogColumns {
    /// Seconds since the log began, from 0 to 20 years; snapped to the millisecond.
    pub elapsed_s: Vec<f64>,
    /// One column a place.
    pub places: Vec<PlaceColumn>,
}

/// The readings of one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlaceColumn {
    /// Where the probe sat.
    pub place: Place,
    /// The unit of every reading.
    #[serde(with = "TemperatureUnitName")]
    #[schemars(with = "TemperatureUnitName")]
    pub unit: TemperatureUnit,
    /// The readings, from −200 °C to 600 °C; nothing where none was made. Snapped to a thousandth of a degree.
    pub temperatures: Vec<Option<f64>>,
}

/// The readings of one place in a slice of the caller's, in `unit`.
#[derive(Clone, Debug)]
pub struct ColumnSlice<'a> {
    /// Where the probe sat.
    pub place: Place,
    /// The unit of every reading.
    pub unit: TemperatureUnit,
    /// The readings; NaN where none was made.
    pub temperatures: &'a [f64],
}

/// Temperatures over time from one or several places that share one clock.
#[derive(Clone, Debug, PartialEq)]
pub struct TemperatureLog {
    /// Whole milliseconds; NaN where the row has no readable time.
    pub(super) elapsed_ms: Values,
    pub(super) readings: Vec<Readings>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Readings {
    pub(super) place: Place,
    pub(super) unit: TemperatureUnit,
    /// Whole ninths of a millikelvin, exact in an f64; NaN without a reading, infinite when out of range.
    pub(super) steps: Values,
    pub(super) survey: Survey,
}

pub(super) fn duration_of(ms: i64) -> Duration {
    Duration::from_steps(ms.max(0), DurationUnit::Second)
}

pub(super) fn difference_of(steps: f64, unit: TemperatureUnit) -> TemperatureDifference {
    let unit = match unit {
        TemperatureUnit::Celsius => TemperatureDifferenceUnit::DeltaCelsius,
        TemperatureUnit::Fahrenheit => TemperatureDifferenceUnit::DeltaFahrenheit,
        TemperatureUnit::Kelvin => TemperatureDifferenceUnit::Kelvin,
    };
    TemperatureDifference::from_steps(whole(steps), unit)
}

/// The whole number held in an f64.
#[allow(clippy::cast_possible_truncation)] // log values are whole numbers below 2⁴⁰
pub(super) const fn whole(value: f64) -> i64 {
    value as i64
}

impl TemperatureLog {
    /// An empty log, to be filled row by row with [`TemperatureLog::push`].
    ///
    /// # Errors
    ///
    /// No place, more than 64 places, or one place twice.
    pub fn new(places: &[(Place, TemperatureUnit)]) -> Result<Self, Error> {
        if places.is_empty() || places.len() > MOST_PLACES {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                places.len(),
                "from 1 to 64 places are needed",
            )
            .at("places"));
        }
        for (at, (place, _)) in places.iter().enumerate() {
            if places[..at].iter().any(|(other, _)| other == place) {
                return Err(Error::new(
                    ErrorKind::Conflict,
                    place,
                    "each place may be given once; number them, such as breast-2",
                )
                .at("places"));
            }
        }
        let readings = places
            .iter()
            .map(|(place, unit)| Readings {
                place: place.clone(),
                unit: *unit,
                steps: Values::new(),
                survey: Survey::EMPTY,
            })
            .collect();
        Ok(Self {
            elapsed_ms: Values::new(),
            readings,
        })
    }

    /// Adds a row: one temperature for each place in the order of [`TemperatureLog::new`], nothing where a probe
    /// gave none.
    ///
    /// ```
    /// use poulter::log::{Place, TemperatureLog};
    /// use poulter::units::{Duration, Temperature, TemperatureUnit};
    /// let mut log = TemperatureLog::new(&[(Place::THIGH, TemperatureUnit::Celsius)])?;
    /// log.push(Duration::parse("0 s")?, &[Some(Temperature::parse("60 °C")?)])?;
    /// assert!(log.push(Duration::parse("1 s")?, &[]).is_err());
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn push(
        &mut self,
        elapsed: Duration,
        temperatures: &[Option<Temperature>],
    ) -> Result<(), Error> {
        if temperatures.len() != self.readings.len() {
            return Err(Error::new(
                ErrorKind::Conflict,
                temperatures.len(),
                format!(
                    "one temperature for each of {} places is needed",
                    self.readings.len()
                ),
            )
            .at("temperatures"));
        }
        rows_fit(self.elapsed_ms.len() + 1)?;
        let (before, now) = (self.elapsed_ms.last().copied(), elapsed.steps() as f64);
        self.elapsed_ms.push(now);
        for (column, temperature) in self.readings.iter_mut().zip(temperatures) {
            let x = temperature.map_or(f64::NAN, |t| steps_of(t.exact()));
            if let (Some(t), Some(&from)) = (before, column.steps.last()) {
                column.survey.push(column.steps.len(), (t, now), (from, x));
            }
            column.steps.push(x);
        }
        Ok(())
    }

    /// A log from columns.
    ///
    /// # Errors
    ///
    /// Columns of different lengths, no place, one place twice, or more than 16 million rows. A bad reading is
    /// not an error: it is kept and found by [`TemperatureLog::faults`].
    pub fn from_columns(columns: &LogColumns) -> Result<Self, Error> {
        let owned: Vec<Vec<f64>> = columns
            .places
            .iter()
            .map(|column| {
                let readings = column.temperatures.iter();
                readings.map(|t| t.unwrap_or(f64::NAN)).collect()
            })
            .collect();
        let slices: Vec<ColumnSlice<'_>> = columns
            .places
            .iter()
            .zip(&owned)
            .map(|(column, temperatures)| ColumnSlice {
                place: column.place.clone(),
                unit: column.unit,
                temperatures,
            })
            .collect();
        Self::from_slices(
            ElapsedSlice {
                elapsed_s: &columns.elapsed_s,
            },
            &slices,
        )
    }

    /// A log from slices of the caller's.
    ///
    /// # Errors
    ///
    /// As [`TemperatureLog::from_columns`].
    pub fn from_slices(
        clock: ElapsedSlice<'_>,
        columns: &[ColumnSlice<'_>],
    ) -> Result<Self, Error> {
        check_columns(clock, columns)?;
        let columns = columns.iter().map(|column| {
            (
                column.place.clone(),
                column.unit,
                column.temperatures.into(),
            )
        });
        Ok(Self::snapped(clock.elapsed_s, columns))
    }

    /// The number of rows.
    #[must_use]
    pub fn len(&self) -> usize {
        self.elapsed_ms.len()
    }

    /// True without rows.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.elapsed_ms.is_empty()
    }

    /// The places, in the order of the columns.
    pub fn places(&self) -> impl Iterator<Item = &Place> {
        self.readings.iter().map(|column| &column.place)
    }

    /// The unit that the readings of a place were recorded in.
    #[must_use]
    pub fn unit(&self, place: &Place) -> Option<TemperatureUnit> {
        let column = self.readings.iter().find(|column| column.place == *place)?;
        Some(column.unit)
    }

    /// The time of a row, counted from 0; nothing when it has no readable time.
    #[must_use]
    pub fn elapsed(&self, row: usize) -> Option<Duration> {
        let ms = *self.elapsed_ms.get(row)?;
        ms.is_finite().then(|| duration_of(whole(ms)))
    }

    /// The reading of a place in a row, counted from 0; nothing when there is none in range.
    #[must_use]
    pub fn temperature(&self, place: &Place, row: usize) -> Option<Temperature> {
        let column = self.readings.iter().find(|column| column.place == *place)?;
        let steps = *column.steps.get(row)?;
        let zero = Temperature::from_exact(ExactTemperature::from_millikelvin(0), column.unit);
        steps
            .is_finite()
            .then(|| zero.raised_by(difference_of(steps, column.unit)))
    }
}

impl TemperatureLog {
    pub(crate) const EMPTY: Self = Self {
        elapsed_ms: Values::new(),
        readings: Vec::new(),
    };

    /// A log of columns as long as the clock, of places that differ.
    pub(crate) fn snapped<'v>(
        elapsed_s: &[f64],
        columns: impl Iterator<Item = (Place, TemperatureUnit, Cow<'v, [f64]>)>,
    ) -> Self {
        Self::EMPTY.refilled(elapsed_s, columns)
    }

    /// The same in the memory of a log that is no longer needed.
    pub(crate) fn refilled<'v>(
        self,
        elapsed_s: &[f64],
        columns: impl Iterator<Item = (Place, TemperatureUnit, Cow<'v, [f64]>)>,
    ) -> Self {
        let mut elapsed_ms = self.elapsed_ms;
        elapsed_ms.resize(elapsed_s.len());
        let mut before = self.readings.into_iter();
        let mut readings: Vec<Readings> = Vec::new();
        for (place, unit, values) in columns {
            let (mut steps, survey) = match before.next() {
                Some(column) => (column.steps, column.survey),
                None => (Values::new(), Survey::EMPTY),
            };
            steps.resize(values.len());
            // The clock is snapped beside the first column.
            let clock = if readings.is_empty() {
                Clock::Snapping {
                    elapsed_s,
                    clock: &mut elapsed_ms,
                }
            } else {
                Clock::Snapped(&elapsed_ms)
            };
            let column = Column {
                clock,
                values: &values,
                scale: Scale::of(unit),
                steps: &mut steps,
            };
            readings.push(Readings {
                place,
                unit,
                survey: column.survey(survey.spans),
                steps,
            });
        }
        if readings.is_empty() {
            snap(elapsed_s, &mut elapsed_ms, snap::elapsed_ms);
        }
        Self {
            elapsed_ms,
            readings,
        }
    }

    /// The hottest or coldest reading of a place with its row, the first of equals; readings that are missing or
    /// out of range are passed over.
    pub(crate) fn extreme(&self, place: &Place, hottest: bool) -> Option<(usize, Temperature)> {
        let column = self.readings.iter().find(|column| column.place == *place)?;
        let row = if column.survey.is_whole() {
            // Of the first run that has it.
            let furthest = |range: &Range| if hottest { range.highest } else { range.lowest };
            let far = furthest(&column.survey.range);
            let mut spans = column.survey.spans.iter();
            let from = spans.position(|span| furthest(&span.range) == far)? * RUN;
            from + column.steps.get(from..)?.iter().position(|x| *x == far)?
        } else {
            let mut found: Option<(usize, f64)> = None;
            for (row, &x) in column.steps.iter().enumerate() {
                let is_further =
                    found.is_none_or(|(_, far)| if hottest { x > far } else { x < far });
                if x.is_finite() && is_further {
                    found = Some((row, x));
                }
            }
            found?.0
        };
        Some((row, self.temperature(place, row)?))
    }
}

/// Seconds since the log began, in a slice of the caller's.
#[derive(Clone, Copy, Debug)]
pub struct ElapsedSlice<'a> {
    /// The times, from 0 to 20 years.
    pub elapsed_s: &'a [f64],
}

/// What [`TemperatureLog::from_slices`] refuses.
pub(crate) fn check_columns(
    clock: ElapsedSlice<'_>,
    columns: &[ColumnSlice<'_>],
) -> Result<(), Error> {
    rows_fit(clock.elapsed_s.len())?;
    let places: Vec<_> = columns
        .iter()
        .map(|column| (column.place.clone(), column.unit))
        .collect();
    TemperatureLog::new(&places)?;
    for column in columns {
        if column.temperatures.len() != clock.elapsed_s.len() {
            return Err(Error::new(
                ErrorKind::Conflict,
                column.temperatures.len(),
                format!(
                    "as many temperatures as times, {}, are needed",
                    clock.elapsed_s.len()
                ),
            )
            .at(column.place.name()));
        }
    }
    Ok(())
}

fn rows_fit(rows: usize) -> Result<(), Error> {
    if rows <= MOST_ROWS {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::TooLarge,
        rows,
        "at most 16 million rows are accepted",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_that_do_not_fit_are_refused() {
        let clock = ElapsedSlice {
            elapsed_s: &[0.0, 1.0],
        };
        let column = |place: Place, temperatures| ColumnSlice {
            place,
            unit: TemperatureUnit::Celsius,
            temperatures,
        };
        let short = TemperatureLog::from_slices(clock, &[column(Place::CORE, &[1.0])]);
        assert_eq!(short.unwrap_err().kind(), ErrorKind::Conflict);
        let twice = [
            column(Place::CORE, &[1.0, 2.0]),
            column(Place::CORE, &[1.0, 2.0]),
        ];
        assert_eq!(
            TemperatureLog::from_slices(clock, &twice)
                .unwrap_err()
                .kind(),
            ErrorKind::Conflict
        );
        assert_eq!(
            TemperatureLog::from_slices(clock, &[]).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
    }

    #[test]
    fn the_memory_of_another_log_leaves_no_trace() {
        let log = |memory: TemperatureLog, rows: u32, places: &[Place]| {
            let clock: Vec<f64> = (0..rows).map(f64::from).collect();
            let columns = places.iter().map(|place| {
                let readings = (0..rows).map(|row| 60.0 + f64::from(row % 10));
                let readings: Vec<f64> = readings.collect();
                (place.clone(), TemperatureUnit::Celsius, readings.into())
            });
            memory.refilled(&clock, columns)
        };
        let two = [Place::BREAST, Place::THIGH];
        let (few, many) = (100, 300);
        for (before, after) in [(many, few), (few, many), (few, 1), (1, few), (few, 0)] {
            for (places, later) in [
                (&two[..], &two[1..]),
                (&two[..1], &two[..]),
                (&two[..], &[]),
            ] {
                let memory = log(TemperatureLog::EMPTY, before, places);
                let fresh = log(TemperatureLog::EMPTY, after, later);
                assert_eq!(log(memory, after, later), fresh);
            }
        }
    }

    #[test]
    fn what_was_recorded_reads_back() {
        let mut log = TemperatureLog::new(&[(Place::THIGH, TemperatureUnit::Fahrenheit)]).unwrap();
        log.push(
            Duration::parse("90 s").unwrap(),
            &[Some(Temperature::parse("164.9 °F").unwrap())],
        )
        .unwrap();
        log.push(Duration::parse("91 s").unwrap(), &[None]).unwrap();
        assert_eq!(log.elapsed(0), Some(Duration::parse("90 s").unwrap()));
        let read = log.temperature(&Place::THIGH, 0).unwrap();
        assert_eq!(read.to_string(), "164.9 °F");
        assert_eq!(log.temperature(&Place::THIGH, 1), None);
    }
}
