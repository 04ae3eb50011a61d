//! Many logs at once, and one long log straight from the caller's columns.

use rayon::prelude::*;
use serde::Serialize;

use crate::error::{Error, ErrorKind};
use crate::log::{
    ClearColumn, ColumnSlice, ElapsedSlice, LogChecks, Place, RawColumn, Scale, SoundLog,
    TemperatureLog, Trace,
};
use crate::units::TemperatureUnit;

use super::curve::Curve;
use super::kernel::{Integral, Integrator, integrate};
use super::{LethalityRequest, LogReduction, Scheme};

/// Logs of one place each, end to end in shared columns.
#[derive(Clone, Copy, Debug)]
pub struct LogBatch<'a> {
    /// Where each log begins, and after the last the number of rows: one more than there are logs.
    pub offsets: &'a [usize],
    /// Seconds since each log began.
    pub elapsed_s: &'a [f64],
    /// The readings inside the food, in `unit`; NaN where none was made.
    pub temperatures: &'a [f64],
    /// The unit of every reading.
    pub unit: TemperatureUnit,
}

/// One row a log. NaN where the log has a blocking fault: nothing can be told of it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BatchLethality {
    /// The estimate.
    pub estimate_log10: Vec<f64>,
    /// The estimate with every reading lowered by the sensor uncertainty.
    pub estimate_less_uncertainty_log10: Vec<f64>,
    /// When the lowered estimate came to the target; NaN as well when it did not.
    pub target_reached_s: Vec<f64>,
    /// False where the log has a blocking fault; [`TemperatureLog::faults`] names it.
    pub is_sound: Vec<bool>,
}

/// One log in columns of the caller's, for integrals without the checks of a [`TemperatureLog`].
#[derive(Clone, Copy, Debug)]
#[allow(non_snake_case)] // the unit keeps its spelling
pub struct KillColumns<'a> {
    /// Seconds since the log began; each later than the one before.
    pub elapsed_s: &'a [f64],
    /// Degrees Celsius.
    pub temp_degC: &'a [f64],
}

impl KillColumns<'_> {
    /// The integral, and when it came to `target`; nothing where a value is missing or out of range or a time not after
    /// the one before.
    fn integral(&self, curve: &Curve, target: f64) -> Option<Integral> {
        let raw = RawColumn {
            elapsed_s: self.elapsed_s,
            temperatures: self.temp_degC,
            unit: TemperatureUnit::Celsius,
        };
        let mut sum = Integrator::new(curve, target);
        raw.is_rising(&mut sum).then(|| sum.answer())
    }
}

impl Scheme {
    /// The log10 reduction of one log in columns, by the scheme's own rates.
    ///
    /// This is the bare integral: gaps, stuck probes and unit mix-ups go unseen. Judge food by
    /// [`LethalityRequest::assess`].
    ///
    /// ```
    /// use poulter::lethality::{KillColumns, Scheme};
    /// let columns = KillColumns { elapsed_s: &[0.0, 2100.0], temp_degC: &[60.0, 60.0] };
    /// // 140 °F for 35.0 min is a row of the table.
    /// assert!((Scheme::Poultry7Log.kill_of(columns)?.as_log10() - 7.0).abs() < 1e-12);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// Columns of different lengths, a value that is missing or out of range, or a time not after the one
    /// before.
    pub fn kill_of(&self, columns: KillColumns<'_>) -> Result<LogReduction, Error> {
        let (times, readings) = (columns.elapsed_s, columns.temp_degC);
        if times.len() != readings.len() {
            return Err(Error::new(
                ErrorKind::Conflict,
                readings.len(),
                format!("as many temperatures as times, {}, are needed", times.len()),
            )
            .at("temp_degC"));
        }
        let target = self.target().as_log10();
        let integral = columns.integral(&self.curve()?, target).ok_or_else(|| {
            let expected =
                "times that rise and readings from -200 °C to 600 °C, none missing, are needed";
            Error::new(ErrorKind::OutOfRange, "", expected)
        })?;
        Ok(LogReduction::of(integral.exact))
    }
}

/// A scheme made ready for many logs that passed their checks.
pub(crate) struct Prepared {
    pub(super) curve: Curve,
    by: f64,
    pub(super) target: f64,
}

impl Prepared {
    /// The integral of readings lowered by the uncertainty.
    pub(super) fn integral(&self, trace: Trace<'_>) -> Integral {
        integrate(&self.curve, trace, self.by, self.target)
    }

    /// The kill of one place, lowered by the uncertainty, and when it came to the target, in seconds.
    pub(crate) fn of(&self, trace: Trace<'_>) -> (f64, Option<f64>) {
        let sum = self.integral(trace);
        (sum.exact, sum.reached_ms.map(|ms| ms / 1e3))
    }

    /// The bare integral over columns, not lowered by anything, and when it came to `target`, in seconds; NaN where a
    /// column is faulty.
    pub(crate) fn kill(&self, columns: &KillColumns<'_>, target: f64) -> (f64, Option<f64>) {
        match columns.integral(&self.curve, target) {
            Some(sum) => (sum.exact, sum.reached_ms.map(|ms| ms / 1e3)),
            None => (f64::NAN, None),
        }
    }

    /// Whether nothing is killed at or below a temperature, °C.
    pub(crate) fn spares(&self, celsius: f64) -> bool {
        // A reading is rounded to a step before it is judged.
        Scale::of(TemperatureUnit::Celsius).steps(celsius) < self.curve.floor()
    }
}

impl Scheme {
    pub(crate) fn prepare(&self) -> Result<Prepared, Error> {
        Ok(Prepared {
            curve: self.curve()?,
            by: 0.0,
            target: self.target().as_log10(),
        })
    }
}

impl LethalityRequest {
    pub(crate) fn prepared(&self) -> Result<Prepared, Error> {
        Ok(Prepared {
            curve: self.scheme.curve().map_err(|e| e.at("scheme"))?,
            by: self.lowered_by()? as f64,
            target: self.scheme.target().as_log10(),
        })
    }
}

#[derive(Clone, Copy)]
struct Row {
    estimate: f64,
    less: f64,
    reached_s: f64,
    is_sound: bool,
}

const CANNOT_TELL: Row = Row {
    estimate: f64::NAN,
    less: f64::NAN,
    reached_s: f64::NAN,
    is_sound: false,
};

struct Judge<'a> {
    ready: Prepared,
    batch: LogBatch<'a>,
    checks: &'a LogChecks,
}

impl LethalityRequest {
    /// Works out many logs on all cores. The answers do not depend on how many cores there are.
    ///
    /// ```
    /// use poulter::lethality::{LethalityRequest, LogBatch, Scheme};
    /// use poulter::log::LogChecks;
    /// use poulter::units::TemperatureUnit;
    /// let batch = LogBatch {
    ///     offsets: &[0, 2, 4],
    ///     elapsed_s: &[0.0, 294.0, 0.0, 60.0],
    ///     temperatures: &[150.0, 150.0, 150.0, f64::NAN],
    ///     unit: TemperatureUnit::Fahrenheit,
    /// };
    /// let answer = LethalityRequest::new(Scheme::Poultry7Log).assess_batch(batch, &LogChecks::default())?;
    /// assert_eq!(answer.is_sound, [true, false]);
    /// assert_eq!(answer.target_reached_s[0], 294.0);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// Columns of different lengths, offsets that fall or do not end at the last row, and those of
    /// [`LethalityRequest::assess`].
    pub fn assess_batch(
        &self,
        batch: LogBatch<'_>,
        checks: &LogChecks,
    ) -> Result<BatchLethality, Error> {
        batch.check()?;
        let judge = Judge {
            ready: self.prepared()?,
            batch,
            checks,
        };
        let rows: Vec<Row> = batch
            .offsets
            .par_windows(2)
            .with_min_len(16)
            .map(|span| judge.one(span[0]..span[1]))
            .collect();
        Ok(BatchLethality {
            estimate_log10: rows.iter().map(|row| row.estimate).collect(),
            estimate_less_uncertainty_log10: rows.iter().map(|row| row.less).collect(),
            target_reached_s: rows.iter().map(|row| row.reached_s).collect(),
            is_sound: rows.iter().map(|row| row.is_sound).collect(),
        })
    }
}

impl LogBatch<'_> {
    fn check(&self) -> Result<(), Error> {
        let rows = self.elapsed_s.len();
        if self.temperatures.len() != rows {
            return Err(Error::new(
                ErrorKind::Conflict,
                self.temperatures.len(),
                format!("as many temperatures as times, {rows}, are needed"),
            )
            .at("temperatures"));
        }
        let rising = self.offsets.windows(2).all(|pair| pair[0] <= pair[1]);
        if rising && self.offsets.last().is_none_or(|&end| end == rows) {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::OutOfRange,
            self.offsets.last().copied().unwrap_or_default(),
            format!("offsets that do not fall and end at {rows}, the number of rows, are needed"),
        )
        .at("offsets"))
    }
}

impl Judge<'_> {
    fn one(&self, span: std::ops::Range<usize>) -> Row {
        let (Some(elapsed_s), Some(temperatures)) = (
            self.batch.elapsed_s.get(span.clone()),
            self.batch.temperatures.get(span),
        ) else {
            return CANNOT_TELL;
        };
        let clock = ElapsedSlice { elapsed_s };
        let column = ColumnSlice {
            place: Place::CORE,
            unit: self.batch.unit,
            temperatures,
        };
        let Prepared { curve, target, .. } = &self.ready;
        let mut sum = Integrator::new(curve, *target);
        if let Some(clear) = ClearColumn::of(clock, &column, self.checks, &mut sum) {
            return self.row(clear.trace(), sum.answer());
        }
        let Ok(log) = TemperatureLog::from_slices(clock, &[column]) else {
            return CANNOT_TELL;
        };
        let sound = log.sound(self.checks);
        let Some((_, trace)) = sound.iter().flat_map(SoundLog::inside).next() else {
            return CANNOT_TELL;
        };
        self.row(trace, integrate(curve, trace, 0.0, *target))
    }

    fn row(&self, trace: Trace<'_>, plain: Integral) -> Row {
        let less = if self.ready.by == 0.0 {
            plain
        } else {
            self.ready.integral(trace)
        };
        Row {
            estimate: plain.exact,
            less: less.exact,
            reached_s: less.reached_ms.map_or(f64::NAN, |ms| ms / 1e3),
            is_sound: true,
        }
    }
}
