//! Logs that passed their checks.

use crate::error::{Error, ErrorKind};
use crate::units::Duration;

use super::build::{Readings, duration_of, whole};
use super::survey::{EachRun, Survey};
use super::{
    ColumnSlice, ElapsedSlice, LogChecks, LogFault, LogFaults, Place, PlaceRole, RawColumn,
    TemperatureLog, Trace,
};

/// A log without a blocking fault; the only kind that can be timed or integrated.
///
/// Timing looks at the places inside the food; at the others only when the log has no place inside, such as a log
/// of a refrigerator.
#[derive(Clone, Debug)]
pub struct SoundLog<'a> {
    log: &'a TemperatureLog,
    columns: Vec<usize>,
    cautions: Vec<LogFault>,
}

impl<'a> SoundLog<'a> {
    /// Faults that do not block but must stand beside every conclusion.
    #[must_use]
    pub fn cautions(&self) -> &[LogFault] {
        &self.cautions
    }

    /// The log itself.
    #[must_use]
    pub fn log(&self) -> &'a TemperatureLog {
        self.log
    }

    /// The time from the first row to the last.
    #[must_use]
    pub fn lasted(&self) -> Duration {
        match (self.elapsed_ms().first(), self.elapsed_ms().last()) {
            (Some(first), Some(last)) => duration_of(whole(last - first)),
            _ => Duration::ZERO,
        }
    }

    fn elapsed_ms(&self) -> &'a [f64] {
        &self.log.elapsed_ms
    }

    /// The checked columns.
    fn columns(&self) -> impl Iterator<Item = (&'a Place, Trace<'a>)> {
        let readings = &self.log.readings;
        self.columns
            .iter()
            .filter_map(|&at| readings.get(at))
            .map(|column| {
                let spans = &column.survey.spans;
                let trace = Trace::snapped(self.elapsed_ms(), &column.steps, spans);
                (&column.place, trace)
            })
    }

    /// The columns that timing looks at: those inside the food, or all of them when none is.
    pub(super) fn timed(&self) -> impl Iterator<Item = (&'a Place, Trace<'a>)> {
        let none_inside = self.inside().next().is_none();
        self.columns()
            .filter(move |(place, _)| none_inside || place.role() == PlaceRole::Inside)
    }

    /// The checked columns inside the food.
    pub(crate) fn inside(&self) -> impl Iterator<Item = (&'a Place, Trace<'a>)> {
        self.columns()
            .filter(|(place, _)| place.role() == PlaceRole::Inside)
    }
}

/// A column of the caller's, of a place inside the food, in which no check finds anything.
pub(crate) struct ClearColumn<'a> {
    raw: RawColumn<'a>,
    survey: Survey,
}

impl RawColumn<'_> {
    /// Hands the runs over, good or bad; true where nothing is missing or out of range and each time is later than the
    /// one before. A single row has nothing to integrate, and is not looked at.
    pub(crate) fn is_rising(self, each: &mut impl EachRun) -> bool {
        let survey = self.survey_with(each);
        survey.spans.is_empty() || survey.is_rising()
    }
}

impl<'a> ClearColumn<'a> {
    /// Surveys a column and hands its runs over, good or bad; nothing where a check might find something or the place is
    /// not inside the food.
    pub(crate) fn of(
        clock: ElapsedSlice<'a>,
        column: &ColumnSlice<'a>,
        checks: &LogChecks,
        each: &mut impl EachRun,
    ) -> Option<Self> {
        if column.place.role() != PlaceRole::Inside {
            return None;
        }
        let raw = RawColumn {
            elapsed_s: clock.elapsed_s,
            temperatures: column.temperatures,
            unit: column.unit,
        };
        let survey = raw.survey_with(each);
        raw.is_clear(&survey, checks)
            .then_some(Self { raw, survey })
    }

    pub(crate) fn trace(&self) -> Trace<'_> {
        Trace::raw(self.raw, &self.survey.spans)
    }
}

impl TemperatureLog {
    /// The log, if no place has a blocking fault.
    ///
    /// ```
    /// use poulter::log::{Fault, LogChecks, TemperatureLog};
    /// let log = TemperatureLog::from_csv("elapsed_min,core_temp_degC\n0,60\n1,\n2,61\n")?;
    /// let faults = log.sound(&LogChecks::default()).unwrap_err();
    /// assert_eq!(faults.0[0].fault, Fault::NoReading);
    /// assert_eq!(faults.to_string(), "core, row 2: no readable temperature");
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// The faults; the conclusion is then "cannot tell".
    pub fn sound(&self, checks: &LogChecks) -> Result<SoundLog<'_>, LogFaults> {
        self.sound_columns((0..self.readings.len()).collect(), checks)
    }

    /// As [`TemperatureLog::sound`], looking only at the places named.
    ///
    /// # Errors
    ///
    /// A place that the log does not have is an [`Error`]; faults are the inner result.
    pub fn sound_at(
        &self,
        places: &[Place],
        checks: &LogChecks,
    ) -> Result<Result<SoundLog<'_>, LogFaults>, Error> {
        let find = |place: &Place| {
            let at = self.readings.iter().position(|c| c.place == *place);
            at.ok_or_else(|| {
                let had: Vec<_> = self.places().map(Place::name).collect();
                Error::new(
                    ErrorKind::UnknownValue,
                    place,
                    format!(
                        "one of the places of the log, {}, is needed",
                        had.join(", ")
                    ),
                )
                .at("places")
            })
        };
        let columns: Vec<usize> = places.iter().map(find).collect::<Result<_, _>>()?;
        Ok(self.sound_columns(columns, checks))
    }

    fn sound_columns(
        &self,
        columns: Vec<usize>,
        checks: &LogChecks,
    ) -> Result<SoundLog<'_>, LogFaults> {
        let faults = self.faults_of(&columns, checks);
        if faults.iter().any(|found| found.fault.blocks()) {
            return Err(LogFaults(faults));
        }
        Ok(SoundLog {
            log: self,
            columns,
            cautions: faults,
        })
    }

    /// The stretches of a place that no blocking fault touches, each as a log of its own on the same clock.
    ///
    /// They can show that a limit was broken; they never show that it was kept.
    pub(crate) fn stretches(&self, place: &Place, faults: &LogFaults) -> Vec<Self> {
        let Some(column) = self.readings.iter().find(|c| c.place == *place) else {
            return Vec::new();
        };
        let is_faulty = |row: usize| {
            faults.0.iter().any(|found| {
                found.fault.blocks() && (found.first_row..=found.last_row).contains(&(row + 1))
            })
        };
        let rows: Vec<usize> = (0..self.len()).filter(|&row| !is_faulty(row)).collect();
        rows.chunk_by(|a, b| a + 1 == *b)
            .map(|rows| {
                let taken = |values: &[f64]| -> Vec<f64> {
                    rows.iter()
                        .filter_map(|&r| values.get(r).copied())
                        .collect()
                };
                let (elapsed_ms, steps) = (taken(&self.elapsed_ms), taken(&column.steps));
                Self {
                    readings: vec![Readings {
                        place: place.clone(),
                        unit: column.unit,
                        survey: Survey::of(&elapsed_ms, &steps),
                        steps: steps.into(),
                    }],
                    elapsed_ms: elapsed_ms.into(),
                }
            })
            .collect()
    }
}
