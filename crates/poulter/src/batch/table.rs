//! The rows of many logs in columns of the caller's.

use std::borrow::Cow;
use std::ops::Range;

use crate::error::{Error, ErrorKind};
use crate::log::{ColumnSlice, Place};
use crate::units::TemperatureUnit;

/// Which rows belong to which log.
#[derive(Clone, Copy, Debug)]
pub enum LogRows<'a> {
    /// Logs end to end: where each begins, and after the last the number of rows.
    EndToEnd(&'a [usize]),
    /// The number of each row's log, from 0 in any order, and how many logs there are. Rows of one log keep their
    /// order.
    Numbered {
        /// The number of each row's log.
        log: &'a [u32],
        /// How many logs there are.
        logs: usize,
    },
}

/// The readings.
#[derive(Clone, Copy, Debug)]
pub enum TableReadings<'a> {
    /// One column a place, every row with a reading at each; NaN where none was made.
    Columns(&'a [ColumnSlice<'a>]),
    /// One column in all, each row with one reading of one place. Where a place of a log has no row at a time that
    /// another has, its reading counts as missing.
    Long {
        /// The number of each row's place.
        place: &'a [u32],
        /// The places by their numbers.
        names: &'a [Place],
        /// The readings; NaN where none was made.
        temperatures: &'a [f64],
        /// The unit of every reading.
        unit: TemperatureUnit,
    },
}

/// The rows of many logs.
#[derive(Clone, Copy, Debug)]
pub struct LogTable<'a> {
    /// Which rows belong to which log.
    pub rows: LogRows<'a>,
    /// Seconds since each log began; NaN where a row has no readable time.
    pub elapsed_s: &'a [f64],
    /// The readings.
    pub readings: TableReadings<'a>,
}

/// The rows log by log.
pub(super) struct Spans<'a> {
    offsets: Cow<'a, [usize]>,
    /// The rows in the order of the logs, where that is another order than the table's.
    order: Option<Vec<usize>>,
}

/// The rows of one log.
#[derive(Clone)]
pub(super) enum Rows<'a> {
    Run(Range<usize>),
    Picked(&'a [usize]),
}

impl Rows<'_> {
    /// The values of these rows, borrowed where they lie together.
    pub(super) fn of<'v>(&self, values: &'v [f64]) -> Cow<'v, [f64]> {
        match self {
            Self::Run(range) => values.get(range.clone()).unwrap_or_default().into(),
            Self::Picked(rows) => rows
                .iter()
                .map(|&row| values.get(row).copied().unwrap_or(f64::NAN))
                .collect::<Vec<_>>()
                .into(),
        }
    }

    pub(super) fn numbers<'v>(&self, values: &'v [u32]) -> Cow<'v, [u32]> {
        match self {
            Self::Run(range) => values.get(range.clone()).unwrap_or_default().into(),
            Self::Picked(rows) => rows
                .iter()
                .filter_map(|&row| values.get(row).copied())
                .collect::<Vec<_>>()
                .into(),
        }
    }
}

impl Spans<'_> {
    pub(super) fn logs(&self) -> usize {
        self.offsets.len().saturating_sub(1)
    }

    pub(super) fn rows(&self, log: usize) -> Rows<'_> {
        let start = self.offsets.get(log).copied().unwrap_or_default();
        let end = self.offsets.get(log + 1).copied().unwrap_or(start);
        match &self.order {
            None => Rows::Run(start..end),
            Some(order) => Rows::Picked(order.get(start..end).unwrap_or_default()),
        }
    }
}

fn refuse(kind: ErrorKind, field: &str, given: impl std::fmt::Display, expected: String) -> Error {
    Error::new(kind, given, expected).at(field)
}

impl<'a> LogTable<'a> {
    /// Checks the shapes and puts the rows in the order of the logs.
    pub(super) fn spans(&self) -> Result<Spans<'a>, Error> {
        let rows = self.elapsed_s.len();
        let fits = |field: &str, length: usize| {
            if length == rows {
                return Ok(());
            }
            let expected = format!("as many values as times, {rows}, are needed");
            Err(refuse(ErrorKind::Conflict, field, length, expected))
        };
        match self.readings {
            TableReadings::Columns(columns) => {
                for column in columns {
                    fits(column.place.name(), column.temperatures.len())?;
                }
            }
            TableReadings::Long {
                place,
                names,
                temperatures,
                ..
            } => {
                fits("place", place.len())?;
                fits("temperatures", temperatures.len())?;
                if let Some(unknown) = place.iter().find(|&&n| n as usize >= names.len()) {
                    let expected = format!("numbers of places below {} are needed", names.len());
                    return Err(refuse(ErrorKind::OutOfRange, "place", unknown, expected));
                }
            }
        }
        match self.rows {
            LogRows::EndToEnd(offsets) => end_to_end(offsets, rows),
            LogRows::Numbered { log, logs } => {
                fits("log", log.len())?;
                numbered(log, logs)
            }
        }
    }
}

fn end_to_end(offsets: &[usize], rows: usize) -> Result<Spans<'_>, Error> {
    let rising = offsets.windows(2).all(|pair| pair[0] <= pair[1]);
    if rising && offsets.last().is_none_or(|&end| end == rows) {
        return Ok(Spans {
            offsets: offsets.into(),
            order: None,
        });
    }
    let given = offsets.last().copied().unwrap_or_default();
    let expected =
        format!("offsets that do not fall and end at {rows}, the number of rows, are needed");
    Err(refuse(ErrorKind::OutOfRange, "offsets", given, expected))
}

/// Counts, adds up, and places: rows of one log keep their order.
fn numbered(log: &[u32], logs: usize) -> Result<Spans<'static>, Error> {
    // No log without a row can be numbered, so this bounds the memory by what the caller holds.
    if logs > log.len() || log.iter().any(|&n| n as usize >= logs) {
        let expected = format!("numbers of logs below {logs}, at most one log a row, are needed");
        return Err(refuse(ErrorKind::OutOfRange, "log", logs, expected));
    }
    let mut offsets = vec![0_usize; logs + 1];
    for &number in log {
        offsets[number as usize + 1] += 1;
    }
    for at in 1..offsets.len() {
        offsets[at] += offsets[at - 1];
    }
    let order = (!log.is_sorted()).then(|| {
        let mut next = offsets.clone();
        let mut order = vec![0; log.len()];
        for (row, &number) in log.iter().enumerate() {
            let place = &mut next[number as usize];
            order[*place] = row;
            *place += 1;
        }
        order
    });
    Ok(Spans {
        offsets: offsets.into(),
        order,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_logs_out_of_order_keep_their_own_order() {
        let spans = numbered(&[1, 0, 1, 0, 2], 3).unwrap();
        let values = [10.0, 11.0, 12.0, 13.0, 14.0];
        let rows: Vec<Vec<f64>> = (0..3)
            .map(|log| spans.rows(log).of(&values).to_vec())
            .collect();
        assert_eq!(rows, [vec![11.0, 13.0], vec![10.0, 12.0], vec![14.0]]);
        assert!(numbered(&[0, 0, 1], 2).unwrap().order.is_none());
        assert!(numbered(&[0, 2], 2).is_err() && numbered(&[], 1).is_err());
    }

    #[test]
    fn shapes_that_do_not_fit_are_refused() {
        let table = |offsets, temperatures| {
            let columns = [ColumnSlice {
                place: Place::CORE,
                unit: TemperatureUnit::Celsius,
                temperatures,
            }];
            LogTable {
                rows: LogRows::EndToEnd(offsets),
                elapsed_s: &[0.0, 1.0],
                readings: TableReadings::Columns(&columns),
            }
            .spans()
            .is_ok()
        };
        assert!(table(&[0, 2], &[1.0, 2.0]) && !table(&[0, 2], &[1.0]));
        assert!(!table(&[0, 1], &[1.0, 2.0]) && !table(&[0, 3], &[1.0, 2.0]));
        assert!(!table(&[2, 0, 2], &[1.0, 2.0]) && table(&[], &[1.0, 2.0]));
    }
}
