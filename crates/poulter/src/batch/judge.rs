//! Judging log by log.

use std::borrow::Cow;
use std::f64::consts::LN_10;

use rayon::prelude::*;

use crate::error::Error;
use crate::lethality::{LethalityRequest, Prepared};
use crate::log::{Place, SoundLog, TemperatureLog};
use crate::records::{Given, RecordVerdict};
use crate::units::TemperatureUnit;

use super::table::Spans;
use super::{LogTable, LogVerdict, LogVerdicts, LogsQuestion, TableReadings};

/// Logs that one task takes at least: enough to outweigh the hand-over.
const LOGS_A_TASK: usize = 8;

impl LogsQuestion {
    /// Judges every log of a table on all cores, and gives one row for each.
    ///
    /// A log with a fault gives `CannotTell`, or `Fails` where its sound part shows it. So does a log that the
    /// standard has no row for.
    ///
    /// # Errors
    ///
    /// Columns whose lengths do not fit, numbers of logs or places out of range, and what the check refuses
    /// whatever the log says.
    pub fn judge(&self, table: &LogTable<'_>) -> Result<LogVerdicts, Error> {
        let spans = table.spans()?;
        let kill = LethalityRequest {
            scheme: self.scheme,
            sensor_uncertainty: self.given()?.accuracy,
        }
        .prepared()?;
        if spans.logs() == 0 {
            return Ok(LogVerdicts::default());
        }
        let worker = Worker {
            question: self,
            judge: &*self.looked_up()?,
            table,
            spans: &spans,
            kill: &kill,
        };
        let rows: Vec<Result<LogVerdict, Error>> = (0..spans.logs())
            .into_par_iter()
            .with_min_len(LOGS_A_TASK)
            // A log is built in the memory of the one before.
            .map_init(
                || TemperatureLog::EMPTY,
                |memory, log| worker.one(memory, log),
            )
            .collect();
        let refused = rows.iter().filter_map(|row| row.as_ref().err());
        if !rows.is_empty()
            && refused.clone().count() == rows.len()
            && let Some(error) = refused.clone().next()
        {
            return Err(error.clone());
        }
        Ok(rows
            .into_iter()
            .map(|row| row.unwrap_or_else(|error| LogVerdict::cannot_tell(error.to_string())))
            .collect())
    }
}

struct Worker<'a> {
    question: &'a LogsQuestion,
    judge: &'a (dyn Fn(&Given<'_>) -> Result<RecordVerdict, Error> + Sync),
    table: &'a LogTable<'a>,
    spans: &'a Spans<'a>,
    kill: &'a Prepared,
}

impl Worker<'_> {
    fn one(&self, memory: &mut TemperatureLog, log: usize) -> Result<LogVerdict, Error> {
        let memory_of_log = std::mem::replace(memory, TemperatureLog::EMPTY);
        let rows = self.spans.rows(log);
        let mut given = self.question.given()?;
        given.explains = false;
        given.log = Cow::Owned(match self.table.readings {
            TableReadings::Columns(columns) => {
                let columns = columns
                    .iter()
                    .map(|c| (c.place.clone(), c.unit, rows.of(c.temperatures)));
                memory_of_log.refilled(&rows.of(self.table.elapsed_s), columns)
            }
            TableReadings::Long {
                place,
                names,
                temperatures,
                unit,
            } => long(
                memory_of_log,
                &rows.of(self.table.elapsed_s),
                &rows.numbers(place),
                names,
                &rows.of(temperatures),
                unit,
            ),
        });
        let mut row = LogVerdict::of((self.judge)(&given)?);
        self.explain(&given, &mut row);
        *memory = given.log.into_owned();
        Ok(row)
    }

    /// Names the first fault, and adds the estimates where the places inside the food have none.
    fn explain(&self, given: &Given<'_>, row: &mut LogVerdict) {
        match given.log.sound(&given.checks) {
            Ok(sound) => self.estimate(&sound, row),
            Err(faults) => {
                if let Some(found) = faults.0.iter().find(|found| found.fault.blocks()) {
                    row.fault = Some(found.fault.name());
                    row.fault_row = Some(found.first_row);
                }
                if let Ok(Ok(sound)) = given.log.sound_at(&given.inside(), &given.checks) {
                    self.estimate(&sound, row);
                }
            }
        }
    }

    fn estimate(&self, sound: &SoundLog<'_>, row: &mut LogVerdict) {
        for (_, trace) in sound.inside() {
            let (kill, reached_s) = self.kill.of(trace);
            let growth = self.question.model.integral(trace) / LN_10;
            // NaN stands for no place yet, and gives way to any number.
            let late = row.reduction_log10.is_nan() || !row.target_reached_s.is_nan();
            row.target_reached_s = match (late, reached_s) {
                (true, Some(s)) => s.max(row.target_reached_s),
                _ => f64::NAN,
            };
            row.reduction_log10 = kill.min(row.reduction_log10);
            row.growth_log10 = growth.max(row.growth_log10);
        }
    }
}

/// A log whose rows hold one reading each.
fn long(
    memory: TemperatureLog,
    elapsed_s: &[f64],
    place: &[u32],
    names: &[Place],
    temperatures: &[f64],
    unit: TemperatureUnit,
) -> TemperatureLog {
    let mut found: Vec<u32> = Vec::new();
    for &number in place {
        // Runs of one place are long; the last one seen is looked at first.
        if found.last() != Some(&number) && !found.contains(&number) {
            found.push(number);
        }
    }
    let name = |number: u32| names.get(number as usize).cloned().unwrap_or(Place::CORE);
    if let [only] = found[..] {
        let column = (name(only), unit, temperatures.into());
        return memory.refilled(elapsed_s, std::iter::once(column));
    }
    let column_of = |number: u32| -> (Vec<f64>, Vec<f64>) {
        let rows = elapsed_s.iter().zip(temperatures).zip(place);
        rows.filter(|(_, p)| **p == number)
            .map(|((t, x), _)| (*t, *x))
            .unzip()
    };
    let columns: Vec<(Vec<f64>, Vec<f64>)> = found.iter().map(|&n| column_of(n)).collect();
    let shared = columns.iter().all(|(t, _)| {
        let first = columns
            .first()
            .map(|(first, _)| first.iter().map(|t| t.to_bits()));
        first.is_some_and(|first| first.eq(t.iter().map(|t| t.to_bits())))
    });
    if let (true, Some((clock, _))) = (shared, columns.first()) {
        let named = found.iter().zip(&columns);
        let named = named.map(|(&n, (_, x))| (name(n), unit, x.as_slice().into()));
        return memory.refilled(clock, named);
    }
    // Every time that any place has; a place without a row there has no reading.
    let mut clock: Vec<f64> = columns
        .iter()
        .flat_map(|(t, _)| t.iter().copied())
        .collect();
    clock.sort_by(f64::total_cmp);
    clock.dedup();
    let merged: Vec<Vec<f64>> = columns
        .iter()
        .map(|column| spread(column, &clock))
        .collect();
    let named = found.iter().zip(&merged);
    let named = named.map(|(&n, x)| (name(n), unit, x.as_slice().into()));
    memory.refilled(&clock, named)
}

/// The readings of one place on a clock that has all its times. Times that stand still or run back leave readings
/// without a row of their own; the last of the clock then stays empty, which is a fault.
fn spread((times, readings): &(Vec<f64>, Vec<f64>), clock: &[f64]) -> Vec<f64> {
    let mut rows = times.iter().zip(readings).peekable();
    let mut spread: Vec<f64> = clock
        .iter()
        .map(|at| match rows.next_if(|(t, _)| *t == at) {
            Some((_, reading)) => *reading,
            None => f64::NAN,
        })
        .collect();
    if rows.peek().is_some()
        && let Some(last) = spread.last_mut()
    {
        *last = f64::NAN;
    }
    spread
}
