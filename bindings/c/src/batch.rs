//! Verdicts over many logs, from arrays of the caller's.

use poulter_core::batch::{LogRows, LogTable, LogVerdicts, LogsQuestion, TableReadings};
use poulter_core::log::{ColumnSlice, Place};
use poulter_core::rules::Verdict as CoreVerdict;
use poulter_core::units::TemperatureUnit;
use poulter_core::{Error, ErrorKind};

use crate::boundary::{array_in, not_null, report, text_in};
use crate::buffer::Buffer;
use crate::error::CallError;
use crate::status::StatusNumber;

/// The verdict over a log. Treat every other number as POULTER_VERDICT_FAILS.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Verdict {
    /// The rule is met by the data given.
    Meets = 1,
    /// The rule is broken.
    Fails = 2,
    /// Data are missing or cannot be trusted; treat the food as if the rule were broken.
    CannotTell = 3,
}

impl From<CoreVerdict> for Verdict {
    fn from(verdict: CoreVerdict) -> Self {
        match verdict {
            CoreVerdict::Meets => Self::Meets,
            CoreVerdict::Fails => Self::Fails,
            CoreVerdict::CannotTell => Self::CannotTell,
        }
    }
}

/// What is told of one log. A number that there is none of is NaN.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct LogRow {
    /// One of POULTER_VERDICT_*.
    pub verdict: u32,
    /// Reserved; 0.
    pub reserved: u32,
    /// The row of the first fault that blocks a conclusion, counted from 1 within the log; 0 without one.
    pub fault_row: usize,
    /// How far the place that decided lies from its limit, in kelvin; negative on the unsafe side.
    pub margin_k: f64,
    /// The same where the limit is a time, in seconds.
    pub margin_s: f64,
    /// When every place had what the rule asks for.
    pub reached_s: f64,
    /// Kill of the place with the least, in powers of ten.
    pub reduction_log10: f64,
    /// When the kill came to the target of its scheme in every place.
    pub target_reached_s: f64,
    /// Growth without lag of the place with the most, in powers of ten.
    pub growth_log10: f64,
}

fn rows_of(found: &LogVerdicts) -> impl Iterator<Item = LogRow> {
    (0..found.len()).map(|at| LogRow {
        verdict: Verdict::from(found.verdict[at]) as u32,
        reserved: 0,
        fault_row: found.fault_row[at].unwrap_or_default(),
        margin_k: found.margin_K[at],
        margin_s: found.margin_s[at],
        reached_s: found.reached_s[at],
        reduction_log10: found.reduction_log10[at],
        target_reached_s: found.target_reached_s[at],
        growth_log10: found.growth_log10[at],
    })
}

fn places(names: &str) -> Result<Vec<Place>, Error> {
    let named = names.split(',').map(|name| Place::named(name.trim()));
    named
        .collect::<Result<_, _>>()
        .map_err(|error| error.at("places"))
}

/// Judges `logs` logs at once on all cores; one row for each is written to `rows`.
///
/// `question` is JSON: `check` is "cooking", "cooling", "holding", "reheating" or "thawing", and beside it stand the
/// fields of that check without its log, such as {"check":"cooking","standard":"us-consumer","species":"chicken"}.
///
/// `log`, `place`, `elapsed_s` and `temp_degC` hold `len` values each, one reading a row: the number of its log from
/// 0, the number of its place in `places`, seconds since the log began, and degrees Celsius, NaN where none was made.
/// Rows of one log keep their order; logs may be mixed. `places` names the places with commas between, such as
/// "breast,thigh,wing". With NULL for `place` every row is of the first of them; with NULL for `places` as well, of
/// the core. A log at fault is no failure of the call: its verdict says so.
///
/// `rows` has room for `logs` rows. `details`, which may be NULL, gets the reasons, rules, places and faults as a JSON
/// object of columns; free it with `poulter_buffer_free`. `error` may be NULL.
///
/// # Safety
/// `question` and `places` are null or point to as many readable bytes as their lengths say. `log`, `place`,
/// `elapsed_s` and `temp_degC` are null or point to `len` readable values. `rows` is null or has room for `logs` rows.
/// `details` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
/// Nobody else uses them during the call.
#[unsafe(no_mangle)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
#[allow(clippy::too_many_arguments)] // arrays in C are pointers with lengths
pub unsafe extern "C" fn poulter_check_logs(
    question: *const u8,
    question_len: usize,
    places: *const u8,
    places_len: usize,
    log: *const u32,
    place: *const u32,
    elapsed_s: *const f64,
    temp_degC: *const f64,
    len: usize,
    logs: usize,
    rows: *mut LogRow,
    details: *mut Buffer,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about each pointer and length is the same.
            let question = LogsQuestion::from_json(text_in(question, question_len)?)?;
            let names = if places.is_null() {
                vec![Place::CORE]
            } else {
                // SAFETY: as above.
                self::places(text_in(places, places_len)?)?
            };
            // SAFETY: as above.
            let log = array_in(log, len, "log")?;
            // SAFETY: as above.
            let elapsed_s = array_in(elapsed_s, len, "elapsed_s")?;
            // SAFETY: as above.
            let temperatures = array_in(temp_degC, len, "temp_degC")?;
            not_null(rows, "rows")?;
            let unit = TemperatureUnit::Celsius;
            let one = ColumnSlice {
                place: names.first().cloned().unwrap_or(Place::CORE),
                unit,
                temperatures,
            };
            let readings = if place.is_null() {
                TableReadings::Columns(std::slice::from_ref(&one))
            } else {
                TableReadings::Long {
                    // SAFETY: as above.
                    place: array_in(place, len, "place")?,
                    names: &names,
                    temperatures,
                    unit,
                }
            };
            let found = question.judge(&LogTable {
                rows: LogRows::Numbered { log, logs },
                elapsed_s,
                readings,
            })?;
            if found.len() != logs {
                let expected = "one row for each log is needed";
                return Err(Error::new(ErrorKind::Internal, found.len(), expected).into());
            }
            let text = if details.is_null() {
                None
            } else {
                Some(Buffer::from(found.to_json()?))
            };
            for (at, row) in rows_of(&found).enumerate() {
                // SAFETY: not null, and there is room for `logs` rows by the caller's word.
                rows.add(at).write(row);
            }
            if let Some(text) = text {
                // SAFETY: not null, and writable by the caller's word.
                details.write(text);
            }
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use std::mem::{offset_of, size_of};
    use std::ptr;

    use super::*;

    const EMPTY: LogRow = LogRow {
        verdict: 9,
        reserved: 9,
        fault_row: 9,
        margin_k: 9.0,
        margin_s: 9.0,
        reached_s: 9.0,
        reduction_log10: 9.0,
        target_reached_s: 9.0,
        growth_log10: 9.0,
    };

    #[test]
    #[cfg(target_pointer_width = "64")]
    fn layout_is_the_published_one() {
        assert_eq!(size_of::<LogRow>(), 64);
        assert_eq!(
            (offset_of!(LogRow, fault_row), offset_of!(LogRow, margin_k)),
            (8, 16)
        );
        assert_eq!(offset_of!(LogRow, growth_log10), 56);
    }

    fn ask(
        question: &str,
        places: &str,
        place: &[u32],
        readings: &[f64],
        logs: usize,
    ) -> (u32, Vec<LogRow>) {
        let log: Vec<u32> = (0..readings.len())
            .map(|row| u32::try_from(row / 2).unwrap())
            .collect();
        let seconds: Vec<f64> = (0..readings.len())
            .map(|row| f64::from(row % 2 != 0) * 60.0)
            .collect();
        let mut rows = vec![EMPTY; logs];
        let place = if place.is_empty() {
            ptr::null()
        } else {
            place.as_ptr()
        };
        // SAFETY: every pointer comes from a live array of the length given.
        let status = unsafe {
            poulter_check_logs(
                question.as_ptr(),
                question.len(),
                places.as_ptr(),
                places.len(),
                log.as_ptr(),
                place,
                seconds.as_ptr(),
                readings.as_ptr(),
                readings.len(),
                logs,
                rows.as_mut_ptr(),
                ptr::null_mut(),
                ptr::null_mut(),
            )
        };
        (status, rows)
    }

    #[test]
    fn logs_are_judged_under_at_and_over_the_minimum() {
        // FSIS: 165 °F, which is 73.889 °C to the thousandth above it.
        let readings = [70.0, 73.888, 70.0, 73.889, 70.0, 73.890, 70.0, f64::NAN];
        let question = r#"{"check":"cooking","cut":"boneless-breast"}"#;
        let (status, rows) = ask(question, "core", &[], &readings, 4);
        let verdicts: Vec<u32> = rows.iter().map(|row| row.verdict).collect();
        assert_eq!((status, verdicts), (0, vec![2, 1, 1, 3]));
        assert!(rows[0].margin_k < 0.0 && rows[1].margin_k >= 0.0);
        assert_eq!((rows[2].fault_row, rows[3].fault_row), (0, 2));
        assert!(rows[3].reduction_log10.is_nan());
        let (status, _) = ask(question, "core,thigh", &[0; 8], &readings, 4);
        assert_eq!(status, 0);
    }

    #[test]
    fn what_is_refused_leaves_the_rows_alone() {
        let readings = [70.0, 74.0];
        for (question, places, place, logs, status) in [
            ("{", "core", &[][..], 1, 101),
            (r#"{"check":"frying"}"#, "core", &[], 1, 105),
            (r#"{"check":"cooking"}"#, "Core", &[], 1, 105),
            (r#"{"check":"cooking"}"#, "core", &[0, 1], 1, 106),
            (r#"{"check":"cooking"}"#, "core", &[], 3, 106),
        ] {
            let (found, rows) = ask(question, places, place, &readings, logs);
            assert_eq!(found, status, "{question} {places}");
            assert_eq!(rows[0].verdict, 9);
        }
    }
}
