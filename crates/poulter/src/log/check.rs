//! Finding the faults of a log.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::{Duration, DurationUnit, TemperatureDifference, TemperatureDifferenceUnit};

use super::build::{Readings, difference_of, duration_of, whole};
use super::snap::{COLDEST, HOTTEST, LAST_MS, Scale};
use super::survey::Survey;
use super::unit::{changed_unit, check_refrigerator, check_unit};
use super::{Fault, LogFault, Place, PlaceRole, RawColumn, STEPS_PER_KELVIN, TemperatureLog};

/// The limits beyond which a log is found at fault. Every default is a choice of this library, not of a standard.
///
/// ```
/// use poulter::log::LogChecks;
/// let hourly: LogChecks = serde_json::from_str(r#"{"longest_gap": "90 min"}"#).unwrap();
/// assert_eq!(hourly.flat_line, LogChecks::default().flat_line);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct LogChecks {
    /// The longest time between two rows that is not a gap; 15 min unless given.
    pub longest_gap: Duration,
    /// The largest change in one second that a probe can follow; 20 kelvin unless given: a step of 100 kelvin
    /// seen by a sheathed probe with a time constant of 5 s (derived). A change below 5 kelvin is never a jump.
    pub steepest_per_second: TemperatureDifference,
    /// How long a reading inside the food at 10 °C or above may stay the same to the last digit; 30 min unless
    /// given. Raise it for a water bath with a coarse display.
    pub flat_line: Duration,
    /// The largest step between two readings inside the food at 50 °C or above that needs no caution; a quarter of
    /// a z-value of 10 °F, which is 1.389 kelvin, unless given (derived).
    pub coarse_step: TemperatureDifference,
}

const FLAT_LINE_FROM: f64 = 9.0 * (10_000.0 + 273_150.0);
const COARSE_FROM: f64 = 9.0 * (50_000.0 + 273_150.0);
/// A change below this is never a jump.
const SMALLEST_JUMP: f64 = 5.0 * STEPS_PER_KELVIN;
impl Default for LogChecks {
    fn default() -> Self {
        let kelvin =
            |steps| TemperatureDifference::from_steps(steps, TemperatureDifferenceUnit::Kelvin);
        Self {
            longest_gap: Duration::from_steps(900_000, DurationUnit::Minute),
            steepest_per_second: kelvin(20 * 9_000),
            flat_line: Duration::from_steps(1_800_000, DurationUnit::Minute),
            coarse_step: TemperatureDifference::from_steps(
                12_500,
                TemperatureDifferenceUnit::DeltaFahrenheit,
            ),
        }
    }
}

impl TemperatureLog {
    /// Every fault of the log: of its clock first, then place by place.
    #[must_use]
    pub fn faults(&self, checks: &LogChecks) -> Vec<LogFault> {
        let all: Vec<usize> = (0..self.readings.len()).collect();
        self.faults_of(&all, checks)
    }

    pub(super) fn faults_of(&self, columns: &[usize], checks: &LogChecks) -> Vec<LogFault> {
        let mut found = Findings::default();
        if self.len() < 2 || columns.is_empty() {
            found.add(None, 0, Fault::TooShort);
        }
        let clock = &self.elapsed_ms;
        let columns = || columns.iter().filter_map(|&at| self.readings.get(at));
        // What the survey shows to be clear is not looked at again.
        if !columns().all(|column| column.survey.clears_clock(checks)) {
            check_clock(clock, checks, &mut found);
        }
        for column in columns() {
            let inside = column.place.role() == PlaceRole::Inside;
            let survey = &column.survey;
            if !survey.is_whole() {
                check_readings(column, &mut found);
            }
            if !survey.clears_steps(inside, checks) {
                check_steps(clock, column, checks, &mut found);
            }
            if inside && !survey.clears_unit(column.unit, column.first()) {
                check_unit(column, &mut found);
            } else if column.place.is_refrigerator() {
                check_refrigerator(column, survey.range, &mut found);
            }
            if inside && !survey.clears_flat_line(checks) {
                check_flat_line(clock, column, checks, &mut found);
            }
        }
        found.0
    }
}

/// Each is true only where the check of that name would find nothing.
impl Survey {
    /// True where no reading is missing or out of range, and no time is missing. Nothing of a single row is surveyed.
    pub(super) fn is_whole(&self) -> bool {
        let (Some(first), Some(last)) = (self.spans.first(), self.spans.last()) else {
            return false;
        };
        self.is_complete
            && self.range.lowest >= COLDEST
            && self.range.highest <= HOTTEST
            && first.began_ms >= 0.0
            && last.ended_ms <= LAST_MS
    }

    /// True where moreover each time is later than the one before.
    pub(super) fn is_rising(&self) -> bool {
        self.is_whole() && self.spacing_ms.lowest > 0.0
    }

    fn clears_clock(&self, checks: &LogChecks) -> bool {
        let gap = checks.longest_gap.steps() as f64;
        self.is_rising() && self.spacing_ms.highest <= gap
    }

    fn clears_steps(&self, inside: bool, checks: &LogChecks) -> bool {
        let coarse = checks.coarse_step.steps() as f64;
        let least = if inside {
            coarse.min(SMALLEST_JUMP)
        } else {
            SMALLEST_JUMP
        };
        self.is_whole() && self.steepest <= least
    }

    fn clears_flat_line(&self, checks: &LogChecks) -> bool {
        let longest = checks.flat_line.steps() as f64;
        self.is_whole() && (self.unchanged_ms < longest || self.longest_level_ms() < longest)
    }

    /// No reading stays the same for longer than this: a stretch that ends in a run began in the last run before it
    /// that is not level, or later.
    fn longest_level_ms(&self) -> f64 {
        let mut longest = 0.0_f64;
        let mut since = self.spans.first().map_or(0.0, |span| span.began_ms);
        for span in &self.spans {
            longest = longest.max(span.ended_ms - since);
            if span.range.lowest < span.range.highest {
                since = span.began_ms;
            }
        }
        longest
    }
}

impl RawColumn<'_> {
    /// True only where no check of a place inside the food would find anything.
    pub(super) fn is_clear(self, survey: &Survey, checks: &LogChecks) -> bool {
        let first = self.temperatures.first();
        let first = first.map(|&value| Scale::of(self.unit).steps(value));
        survey.clears_clock(checks)
            && survey.clears_steps(true, checks)
            && survey.clears_unit(self.unit, first)
            && survey.clears_flat_line(checks)
    }
}

#[derive(Default)]
pub(super) struct Findings(Vec<LogFault>);

impl Findings {
    /// Adds a fault of `row` (from 0), joining it to a run of the same kind that ended in the row before.
    pub(super) fn add(&mut self, place: Option<&Place>, row: usize, fault: Fault) {
        if let Some(last) = self.0.last_mut()
            && last.last_row == row
            && last.place.as_ref() == place
            && joined(&mut last.fault, &fault)
        {
            last.last_row = row + 1;
            return;
        }
        self.0.push(LogFault {
            place: place.cloned(),
            first_row: row + 1,
            last_row: row + 1,
            fault,
        });
    }

    /// Adds a fault of every row of a place.
    pub(super) fn add_all(&mut self, column: &Readings, fault: Fault) {
        self.0.push(LogFault {
            place: Some(column.place.clone()),
            first_row: 1,
            last_row: column.steps.len(),
            fault,
        });
    }
}

/// Takes `next` into `run` when both are of one kind; the worse amount stays.
fn joined(run: &mut Fault, next: &Fault) -> bool {
    match (run, next) {
        (Fault::Gap { lasted: a }, Fault::Gap { lasted: b }) => *a = (*a).max(*b),
        (Fault::Jump { change: a }, Fault::Jump { change: b }) => {
            if b.steps().abs() > a.steps().abs() {
                *a = *b;
            }
        }
        (run, next) => return *run == *next,
    }
    true
}

fn check_clock(clock: &[f64], checks: &LogChecks, found: &mut Findings) {
    let gap = checks.longest_gap.steps() as f64;
    let mut latest: Option<f64> = None;
    for (row, &t) in clock.iter().enumerate() {
        if !t.is_finite() {
            found.add(None, row, Fault::NoTime);
            continue;
        }
        if let Some(before) = latest {
            if t == before {
                found.add(None, row, Fault::DuplicateTime);
            } else if t < before {
                found.add(None, row, Fault::BackwardTime);
            } else if t - before > gap {
                let lasted = duration_of(whole(t - before));
                found.add(None, row, Fault::Gap { lasted });
            }
        }
        latest = Some(latest.map_or(t, |before| before.max(t)));
    }
}

fn check_readings(column: &Readings, found: &mut Findings) {
    for (row, &x) in column.steps.iter().enumerate() {
        if x.is_nan() {
            found.add(Some(&column.place), row, Fault::NoReading);
        } else if x.is_infinite() {
            found.add(Some(&column.place), row, Fault::OutOfRange);
        }
    }
}

fn check_steps(clock: &[f64], column: &Readings, checks: &LogChecks, found: &mut Findings) {
    let per_ms = checks.steepest_per_second.steps() as f64 / 1e3;
    let coarse = checks.coarse_step.steps() as f64;
    let inside = column.place.role() == PlaceRole::Inside;
    let mut coarse_rows: Option<(usize, usize, f64)> = None;
    for (row, (t, x)) in clock.windows(2).zip(column.steps.windows(2)).enumerate() {
        let (dt, dx) = (t[1] - t[0], x[1] - x[0]);
        if !dt.is_finite() || !dx.is_finite() {
            continue;
        }
        if let Some(suspected) = changed_unit(x[0], x[1], dt, column.unit) {
            let stored = column.unit.name();
            found.add(
                Some(&column.place),
                row + 1,
                Fault::UnitMixUp { stored, suspected },
            );
        } else if dx.abs() > SMALLEST_JUMP && dx.abs() > per_ms * dt {
            let change = difference_of(dx, column.unit);
            found.add(Some(&column.place), row + 1, Fault::Jump { change });
        } else if inside && dx.abs() > coarse && x[0].max(x[1]) >= COARSE_FROM {
            let (first, _, largest) = coarse_rows.unwrap_or((row + 1, row + 1, 0.0));
            coarse_rows = Some((first, row + 1, dx.abs().max(largest)));
        }
    }
    if let Some((first, last, largest)) = coarse_rows {
        found.0.push(LogFault {
            place: Some(column.place.clone()),
            first_row: first + 1,
            last_row: last + 1,
            fault: Fault::CoarseSampling {
                largest: difference_of(largest, column.unit),
            },
        });
    }
}

fn check_flat_line(clock: &[f64], column: &Readings, checks: &LogChecks, found: &mut Findings) {
    let longest = checks.flat_line.steps() as f64;
    let mut start = 0;
    for row in 1..=column.steps.len() {
        let same = match (column.steps.get(row), column.steps.get(start)) {
            (Some(now), Some(then)) => now == then,
            _ => false,
        };
        if same {
            continue;
        }
        let (Some(&x), Some(&from), Some(&to)) = (
            column.steps.get(start),
            clock.get(start),
            clock.get(row - 1),
        ) else {
            return;
        };
        if x.is_finite() && x >= FLAT_LINE_FROM && to - from >= longest {
            found.0.push(LogFault {
                place: Some(column.place.clone()),
                first_row: start + 1,
                last_row: row,
                fault: Fault::FlatLine {
                    lasted: duration_of(whole(to - from)),
                },
            });
        }
        start = row;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(text: &str) -> Vec<LogFault> {
        TemperatureLog::from_csv(text)
            .unwrap()
            .faults(&LogChecks::default())
    }

    fn celsius(rows: &[(&str, &str)]) -> Vec<LogFault> {
        let rows: Vec<String> = rows.iter().map(|(t, x)| format!("{t},{x}\n")).collect();
        faults(&format!("elapsed_s,core_temp_degC\n{}", rows.concat()))
    }

    fn kinds(found: &[LogFault]) -> Vec<(usize, usize, &Fault)> {
        found
            .iter()
            .map(|f| (f.first_row, f.last_row, &f.fault))
            .collect()
    }

    #[test]
    fn a_clean_log_is_sound() {
        assert_eq!(celsius(&[("0", "60"), ("10", "60.5"), ("20", "61")]), []);
    }

    #[test]
    fn a_flat_line_is_found_wherever_it_begins() {
        // A reading a second that ripples; the same reading for 1799, 1800 and 1801 s from `start` on.
        for start in [0, 1, 62, 63, 64, 65, 100, 127, 128, 129] {
            for (held, is_flat) in [(1799, false), (1800, true), (1801, true)] {
                let celsius = |row: u32| {
                    let ripple = f64::from(row % 2) * 0.1;
                    let level = (start..=start + held).contains(&row);
                    if level { 20.5 } else { 20.0 + ripple }
                };
                let rows: Vec<(String, String)> = (0..start + held + 3000)
                    .map(|row| (row.to_string(), celsius(row).to_string()))
                    .collect();
                let rows: Vec<(&str, &str)> =
                    rows.iter().map(|(t, x)| (t.as_str(), x.as_str())).collect();
                let found = self::celsius(&rows);
                assert_eq!(
                    found.iter().any(|f| f.fault.blocks()),
                    is_flat,
                    "{start} {held}"
                );
            }
        }
    }

    #[test]
    fn short_level_stretches_do_not_add_up_to_a_flat_line() {
        // Ten seconds level out of every eleven, for three hours.
        let rows: Vec<(String, String)> = (0..10_800_u32)
            .map(|row| {
                (
                    row.to_string(),
                    (20.0 + f64::from(row / 11 % 2) * 0.1).to_string(),
                )
            })
            .collect();
        let rows: Vec<(&str, &str)> = rows.iter().map(|(t, x)| (t.as_str(), x.as_str())).collect();
        assert_eq!(celsius(&rows), []);
    }

    #[test]
    fn missing_values_name_their_rows() {
        let found = celsius(&[("0", "60"), ("", "60"), ("2", ""), ("3", "x"), ("4", "700")]);
        assert_eq!(
            kinds(&found),
            [
                (2, 2, &Fault::NoTime),
                (3, 4, &Fault::NoReading),
                (5, 5, &Fault::OutOfRange)
            ]
        );
        assert!(found.iter().all(|f| f.fault.blocks()));
        assert_eq!(kinds(&celsius(&[("0", "60")])), [(1, 1, &Fault::TooShort)]);
    }

    #[test]
    fn the_clock_may_not_stand_still_or_run_back() {
        let found = celsius(&[
            ("0", "60"),
            ("5", "60"),
            ("5", "60"),
            ("3", "60"),
            ("4", "60.1"),
        ]);
        assert_eq!(
            kinds(&found),
            [(3, 3, &Fault::DuplicateTime), (4, 5, &Fault::BackwardTime)]
        );
    }

    #[test]
    fn a_gap_is_tested_under_at_and_over() {
        for (seconds, fine) in [("899.999", true), ("900", true), ("900.001", false)] {
            assert_eq!(
                celsius(&[("0", "60"), (seconds, "61")]).is_empty(),
                fine,
                "{seconds}"
            );
        }
    }

    #[test]
    fn a_jump_is_tested_under_at_and_over() {
        for (reading, fine) in [("39.999", true), ("40", true), ("40.001", false)] {
            let found = celsius(&[("0", "20"), ("1", reading)]);
            assert_eq!(found.is_empty(), fine, "{reading}");
        }
        assert!(celsius(&[("0", "20"), ("0.001", "25")]).is_empty());
        assert!(!celsius(&[("0", "20"), ("0.001", "25.001")]).is_empty());
    }

    #[test]
    fn a_flat_line_is_tested_under_at_and_over() {
        for (last, fine) in [("1799", true), ("1800", false), ("1801", false)] {
            let rows = [("0", "60"), ("600", "60"), ("1200", "60"), (last, "60")];
            assert_eq!(celsius(&rows).is_empty(), fine, "{last}");
        }
        let cold = [
            ("0", "9.999"),
            ("600", "9.999"),
            ("1200", "9.999"),
            ("2000", "9.999"),
        ];
        assert!(celsius(&cold).is_empty());
        let at = [("0", "10"), ("600", "10"), ("1200", "10"), ("2000", "10")];
        assert!(!celsius(&at).is_empty());
    }

    #[test]
    fn coarse_steps_caution_and_do_not_block() {
        for (reading, fine) in [("61.388", true), ("61.389", false), ("61.390", false)] {
            let found = celsius(&[("0", "60"), ("60", reading)]);
            assert_eq!(found.is_empty(), fine, "{reading}");
            assert!(!found.iter().any(|f| f.fault.blocks()));
        }
        // In the unit of the limit: 2.5 °F.
        let f = |reading| faults(&format!("elapsed_s,core_temp_degF\n0,140\n60,{reading}\n"));
        assert!(f("142.499").is_empty() && f("142.5").is_empty() && !f("142.501").is_empty());
    }

    #[test]
    fn places_may_be_judged_alone() {
        let log =
            TemperatureLog::from_csv("elapsed_s,core_temp_degC,oven_temp_degC\n0,60,\n1,60,160\n")
                .unwrap();
        let checks = LogChecks::default();
        assert!(log.sound(&checks).is_err());
        assert!(log.sound_at(&[Place::CORE], &checks).unwrap().is_ok());
        assert!(log.sound_at(&[Place::WING], &checks).is_err());
        assert!(log.sound_at(&[], &checks).unwrap().is_err());
    }
}
