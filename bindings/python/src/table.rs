//! Tables of logs: columns of any Arrow producer, or given one by one, as the core takes them.

use std::collections::{HashMap, HashSet};
use std::hash::Hash;
use std::sync::Arc;

use arrow_array::{Array, ArrayRef, Float64Array, LargeStringArray};
use arrow_schema::{DataType, TimeUnit};
use poulter::batch::{LogRows, LogTable, TableReadings};
use poulter::log::{ColumnSlice, Heading, Place};
use poulter::units::TemperatureUnit;
use poulter::{Error, ErrorKind};
use rayon::prelude::*;

use crate::cast;
use crate::rows;

/// A named column, with the unit that its metadata names.
pub(crate) struct Column {
    pub(crate) name: String,
    pub(crate) unit: Option<String>,
    pub(crate) values: ArrayRef,
}

/// The names of the columns that say which log and which place a row belongs to.
pub(crate) struct Names<'a> {
    pub(crate) log: &'a str,
    pub(crate) place: &'a str,
    pub(crate) unit: Option<&'a str>,
}

enum Rows {
    EndToEnd(Vec<usize>),
    Numbered { log: Vec<u32>, logs: usize },
}

/// The columns of a table of logs, ready for the core.
pub(crate) struct Logs {
    rows: Rows,
    elapsed_s: Numbers,
    readings: Vec<(Option<Place>, TemperatureUnit, Numbers)>,
    places: Option<(Vec<u32>, Vec<Place>)>,
    /// One name a log; nothing where the table has none.
    pub(crate) ids: Option<ArrayRef>,
}

/// Float64 values, borrowed from the caller's memory where they can be.
struct Numbers(Float64Array);

/// The numbers of a column, NaN for null.
pub(crate) fn numbers(values: &ArrayRef, name: &str) -> Result<Float64Array, Error> {
    Numbers::of(values, name).map(|numbers| numbers.0)
}

impl Numbers {
    fn of(values: &ArrayRef, name: &str) -> Result<Self, Error> {
        // A cast would give the ticks of its own clock.
        if values.data_type().is_temporal() {
            let expected = "a column of numbers, or durations in the column of times, is needed";
            let given = values.data_type();
            return Err(refuse(ErrorKind::WrongType, name, given, expected));
        }
        let numbers = cast::float64(values).map_err(|error| wrong(name, &error))?;
        if numbers.null_count() == 0 {
            return Ok(Self(numbers));
        }
        let filled = numbers.iter().map(|value| value.unwrap_or(f64::NAN));
        Ok(Self(filled.collect::<Vec<f64>>().into()))
    }

    fn times(self, factor: f64) -> Self {
        if factor.to_bits() == 1_f64.to_bits() {
            return self;
        }
        Self(
            self.0
                .values()
                .iter()
                .map(|value| value * factor)
                .collect::<Vec<f64>>()
                .into(),
        )
    }
}

fn wrong(name: &str, error: &arrow_schema::ArrowError) -> Error {
    Error::new(ErrorKind::WrongType, error, "a column of numbers is needed").at(name)
}

fn refuse(kind: ErrorKind, name: &str, given: impl std::fmt::Display, expected: &str) -> Error {
    Error::new(kind, given, expected).at(name)
}

/// Seconds of a column of elapsed times.
fn seconds(values: &ArrayRef, name: &str, each: u32) -> Result<Numbers, Error> {
    let DataType::Duration(unit) = values.data_type() else {
        return Ok(Numbers::of(values, name)?.times(f64::from(each)));
    };
    let each = match unit {
        TimeUnit::Second => 1.0,
        TimeUnit::Millisecond => 1e-3,
        TimeUnit::Microsecond => 1e-6,
        TimeUnit::Nanosecond => 1e-9,
    };
    let ticks = cast::int64(values).map_err(|error| wrong(name, &error))?;
    Ok(Numbers::of(&(Arc::new(ticks) as ArrayRef), name)?.times(each))
}

/// The values of a column of lists, and where each list begins and ends.
fn flat(values: &ArrayRef, name: &str) -> Result<(ArrayRef, Vec<usize>), Error> {
    let lists = cast::lists(values).map_err(|_| {
        let expected = "lists, as in the column of times, are needed";
        refuse(ErrorKind::WrongType, name, values.data_type(), expected)
    })?;
    if lists.null_count() > 0 {
        let expected = "a list for every log is needed; an empty one where nothing was recorded";
        return Err(refuse(ErrorKind::MissingField, name, "null", expected));
    }
    let first = lists.offsets().first().copied().unwrap_or_default();
    let ends = lists
        .offsets()
        .iter()
        .map(|end| usize::try_from(end - first).unwrap_or_default());
    let ends: Vec<usize> = ends.collect();
    let start = usize::try_from(first).unwrap_or_default();
    let length = ends.last().copied().unwrap_or_default();
    Ok((lists.values().slice(start, length), ends))
}

/// Numbers the values in the order of their first rows; also gives those rows.
fn factorise<T: Hash + Eq + Copy>(
    rows: usize,
    value: impl Fn(usize) -> T,
    name: &str,
) -> Result<(Vec<u32>, Vec<usize>), Error> {
    let mut known: HashMap<T, u32> = HashMap::new();
    let mut last: Option<(T, u32)> = None;
    let (mut numbers, mut first_rows) = (Vec::with_capacity(rows), Vec::new());
    for row in 0..rows {
        let value = value(row);
        let number = match last {
            // Rows of one log mostly follow one another.
            Some((before, number)) if before == value => number,
            _ => {
                let next = u32::try_from(first_rows.len())
                    .map_err(|_| refuse(ErrorKind::TooLarge, name, "", "fewer names are needed"))?;
                *known.entry(value).or_insert_with(|| {
                    first_rows.push(row);
                    next
                })
            }
        };
        last = Some((value, number));
        numbers.push(number);
    }
    Ok((numbers, first_rows))
}

/// The rows whose number is not that of the row before, looked for on all cores.
fn changes(numbers: &[i64]) -> Vec<usize> {
    const A_TASK: usize = 1 << 16;
    const TOGETHER: usize = 64;
    let of_task = |task: usize| {
        let rows = (task * A_TASK).max(1)..((task + 1) * A_TASK).min(numbers.len());
        let mut found: Vec<usize> = (0..usize::from(task == 0)).collect();
        for from in rows.clone().step_by(TOGETHER) {
            let to = (from + TOGETHER).min(rows.end);
            // Most rows belong to the log of the row before, so many are compared at once.
            if numbers[from - 1..to - 1] != numbers[from..to] {
                found.extend((from..to).filter(|&row| numbers[row] != numbers[row - 1]));
            }
        }
        found
    };
    let tasks = 0..numbers.len().div_ceil(A_TASK);
    tasks.into_par_iter().flat_map_iter(of_task).collect()
}

/// Which rows belong to which log, and the first row of each; `offsets` are the rows with another value than the one
/// before.
fn logs_of<T: Hash + Ord + Copy>(
    rows: usize,
    mut offsets: Vec<usize>,
    value: impl Fn(usize) -> T + Copy,
    name: &str,
) -> Result<(Rows, Vec<usize>), Error> {
    // Most tables are in the order of their logs, and what only rises does not come back.
    let rises = offsets
        .windows(2)
        .all(|pair| value(pair[0]) < value(pair[1]));
    let mut known = HashSet::new();
    if rises || offsets.iter().all(|&row| known.insert(value(row))) {
        let first_rows = offsets.clone();
        offsets.push(rows);
        return Ok((Rows::EndToEnd(offsets), first_rows));
    }
    let (log, first_rows) = factorise(rows, value, name)?;
    let logs = first_rows.len();
    Ok((Rows::Numbered { log, logs }, first_rows))
}

/// Refuses a column with an empty row.
fn filled(values: &dyn Array, name: &str) -> Result<(), Error> {
    let nulls = values.logical_nulls();
    let Some(row) = nulls.and_then(|known| known.iter().position(|known| !known)) else {
        return Ok(());
    };
    let expected = "a value in every row is needed";
    let given = format!("row {}", row + 1);
    Err(refuse(ErrorKind::MissingField, name, given, expected))
}

fn words(values: &ArrayRef, name: &str) -> Result<LargeStringArray, Error> {
    let text = cast::text(values).map_err(|error| wrong(name, &error))?;
    filled(&text, name)?;
    Ok(text)
}

fn logs(values: &ArrayRef, name: &str) -> Result<(Rows, Vec<usize>), Error> {
    if values.data_type().is_integer() {
        let whole = cast::int64(values).map_err(|error| wrong(name, &error))?;
        filled(&whole, name)?;
        let whole = whole.values();
        return logs_of(whole.len(), changes(whole), |row| whole[row], name);
    }
    if values.data_type().is_floating() {
        // As text it would name a log of its own.
        let known = Numbers::of(values, name)?;
        if let Some(row) = known.0.values().iter().position(|id| id.is_nan()) {
            let given = format!("NaN in row {}", row + 1);
            let expected = "a value in every row is needed; rows of no log are left out";
            return Err(refuse(ErrorKind::MissingField, name, given, expected));
        }
    }
    let text = words(values, name)?;
    let begins = |&row: &usize| row == 0 || text.value(row) != text.value(row - 1);
    let offsets = (0..text.len()).filter(begins).collect();
    logs_of(text.len(), offsets, |row| text.value(row), name)
}

fn place_names(values: &ArrayRef, name: &str) -> Result<(Vec<u32>, Vec<Place>), Error> {
    let text = words(values, name)?;
    let (numbers, first_rows) = factorise(text.len(), |row| text.value(row), name)?;
    let named = first_rows.iter().map(|&row| {
        Place::named(&text.value(row).replace('_', "-")).map_err(|error| error.at(name))
    });
    Ok((numbers, named.collect::<Result<_, _>>()?))
}

impl Logs {
    pub(crate) fn read(columns: &[Column], names: &Names<'_>) -> Result<Self, Error> {
        let find = |name: &str| columns.iter().find(|column| column.name == name);
        let (mut elapsed, mut readings) = (None, Vec::new());
        for column in columns {
            let unit = column.unit.as_deref();
            let is_time = column.name == "elapsed"
                && (unit.is_some() || matches!(column.values.data_type(), DataType::Duration(_)));
            let heading = if is_time {
                match unit {
                    None | Some("s") => Heading::Elapsed { seconds: 1 },
                    Some(other) => Heading::of(&format!("elapsed_{other}"), None)?,
                }
            } else {
                Heading::of(&column.name, unit.or(names.unit))?
            };
            match heading {
                Heading::Elapsed { seconds } if elapsed.is_none() => {
                    elapsed = Some((column, seconds));
                }
                Heading::Elapsed { .. } => {
                    let expected = "one column of elapsed times is needed";
                    return Err(refuse(ErrorKind::Conflict, &column.name, "", expected));
                }
                Heading::Temperature { place, unit } => readings.push((place, unit, column)),
                Heading::Other => {}
            }
        }
        let Some((clock, each)) = elapsed else {
            let expected = "a column elapsed_s, elapsed_min or elapsed_h is needed";
            return Err(refuse(ErrorKind::MissingField, "elapsed_s", "", expected));
        };
        if readings.is_empty() {
            let expected =
                "a column temp_degC or one for each place, such as breast_temp_degF, is needed";
            return Err(refuse(ErrorKind::MissingField, "temp_degC", "", expected));
        }
        let id = find(names.log);
        if clock.values.data_type().is_nested() {
            return Self::of_lists(clock, each, readings, id);
        }
        let Some(id) = id else {
            let expected = "a column that names the log of each row is needed";
            return Err(refuse(ErrorKind::MissingField, names.log, "", expected));
        };
        let (rows, first_rows) = logs(&id.values, names.log)?;
        let ids = rows::picked(&id.values, first_rows.into_iter().map(Some))
            .map_err(|error| wrong(names.log, &error))?;
        let places = match find(names.place) {
            Some(place) if readings.iter().all(|(named, ..)| named.is_none()) => {
                Some(place_names(&place.values, names.place)?)
            }
            _ => None,
        };
        let read = readings.into_iter().map(|(place, unit, column)| {
            Ok((place, unit, Numbers::of(&column.values, &column.name)?))
        });
        Ok(Self {
            rows,
            elapsed_s: seconds(&clock.values, &clock.name, each)?,
            readings: read.collect::<Result<_, Error>>()?,
            places,
            ids: Some(ids),
        })
    }

    fn of_lists(
        clock: &Column,
        each: u32,
        readings: Vec<(Option<Place>, TemperatureUnit, &Column)>,
        id: Option<&Column>,
    ) -> Result<Self, Error> {
        let (times, offsets) = flat(&clock.values, &clock.name)?;
        let read = readings.into_iter().map(|(place, unit, column)| {
            let (values, ends) = flat(&column.values, &column.name)?;
            if ends != offsets {
                let expected = "lists as long as those of the times are needed";
                return Err(refuse(ErrorKind::Conflict, &column.name, "", expected));
            }
            Ok((place, unit, Numbers::of(&values, &column.name)?))
        });
        let readings = read.collect::<Result<_, Error>>()?;
        Ok(Self {
            elapsed_s: seconds(&times, &clock.name, each)?,
            rows: Rows::EndToEnd(offsets),
            readings,
            places: None,
            ids: id.map(|column| column.values.clone()),
        })
    }

    /// Hands the table to `judge`.
    pub(crate) fn with<T>(&self, judge: impl FnOnce(&LogTable<'_>) -> T) -> T {
        let rows = match &self.rows {
            Rows::EndToEnd(offsets) => LogRows::EndToEnd(offsets),
            Rows::Numbered { log, logs } => LogRows::Numbered { log, logs: *logs },
        };
        let elapsed_s = self.elapsed_s.0.values();
        if let (Some((place, names)), [(_, unit, values)]) = (&self.places, &self.readings[..]) {
            return judge(&LogTable {
                rows,
                elapsed_s,
                readings: TableReadings::Long {
                    place,
                    names,
                    temperatures: values.0.values(),
                    unit: *unit,
                },
            });
        }
        let columns: Vec<ColumnSlice<'_>> = self
            .readings
            .iter()
            .map(|(place, unit, values)| ColumnSlice {
                place: place.clone().unwrap_or(Place::CORE),
                unit: *unit,
                temperatures: values.0.values(),
            })
            .collect();
        judge(&LogTable {
            rows,
            elapsed_s,
            readings: TableReadings::Columns(&columns),
        })
    }
}
