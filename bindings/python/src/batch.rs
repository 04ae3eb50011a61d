//! Many logs at once, from a table and to a table.

use std::sync::Arc;

use arrow_array::cast::AsArray;
use arrow_array::{
    Array, ArrayRef, Float64Array, LargeListArray, RecordBatch, StringArray, UInt64Array,
};
use arrow_schema::{DataType, Field, Schema};
use poulter::batch::{LogVerdicts, LogsQuestion};
use poulter::log::Place;
use poulter::{Error, ErrorKind};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyString};
use pyo3_arrow::input::{AnyArray, AnyRecordBatch};

use crate::buffer;
use crate::cast;
use crate::producer::PyVerdicts;
use crate::refusal::refused;
use crate::request;
use crate::rows;
use crate::table::{Column, Logs, Names};

/// Judge the logs of a table, one row for each: an Arrow producer, or with `lists` a dict of lists.
///
/// `table` is an Arrow producer, or a list of columns: a name, the values, and for a column of lists where each of
/// them begins. Values are an Arrow producer, a buffer, or a list of str. The interpreter lock is released meanwhile.
#[pyfunction]
#[pyo3(signature = (question, table, /, log, place, unit = None, lists = false, default = None))]
pub(crate) fn check_logs<'py>(
    question: &Bound<'py, PyAny>,
    table: &Bound<'py, PyAny>,
    log: &str,
    place: &str,
    unit: Option<&str>,
    lists: bool,
    default: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = question.py();
    let question = request::read(question, default)?;
    let columns = match table.cast::<PyList>() {
        Ok(columns) => listed(columns)?,
        Err(_) => produced(table)?,
    };
    let names = Names { log, place, unit };
    let found = py
        .detach(|| {
            let question = LogsQuestion::from_value(question)?;
            let logs = Logs::read(&columns, &names)?;
            let verdicts = logs.with(|table| question.judge(table))?;
            written(&verdicts, logs.ids.as_ref().map(|ids| (log, ids)))
        })
        .map_err(|error| refused(py, &error))?;
    if lists {
        return as_lists(py, &found);
    }
    Ok(Bound::new(py, PyVerdicts::from(found))?.into_any())
}

/// The columns as lists of str, int and float; a missing number is NaN where its column holds float, else None.
fn as_lists<'py>(py: Python<'py>, table: &RecordBatch) -> PyResult<Bound<'py, PyAny>> {
    let dict = PyDict::new(py);
    for (field, values) in table.schema().fields().iter().zip(table.columns()) {
        let list = match values.data_type() {
            DataType::Float64 => {
                let values: &Float64Array = values.as_primitive();
                PyList::new(py, values.iter().map(|value| value.unwrap_or(f64::NAN)))?
            }
            kind if kind.is_integer() => {
                let whole = cast::int64(values).map_err(|error| refused(py, &arrow(error)))?;
                PyList::new(py, whole.iter())?
            }
            _ => {
                let text = cast::text(values).map_err(|error| refused(py, &arrow(error)))?;
                PyList::new(py, text.iter())?
            }
        };
        dict.set_item(field.name(), list)?;
    }
    Ok(dict.into_any())
}

fn arrow(error: impl std::fmt::Display) -> Error {
    Error::new(
        ErrorKind::WrongType,
        error,
        "a table of numbers and text is needed",
    )
    .at("table")
}

/// The columns of an Arrow producer; those in several pieces are joined.
fn produced(table: &Bound<'_, PyAny>) -> PyResult<Vec<Column>> {
    let py = table.py();
    let (batches, schema) = table
        .extract::<AnyRecordBatch>()?
        .into_table()?
        .into_inner();
    let column = |(at, field): (usize, &Arc<Field>)| {
        let pieces: Vec<_> = (batches.iter().map(|batch| batch.column(at).clone())).collect();
        let values = rows::joined(&pieces, field.data_type());
        let values = values.map_err(|error| refused(py, &arrow(error)))?;
        Ok(Column {
            name: field.name().clone(),
            unit: field.metadata().get("unit").cloned(),
            values,
        })
    };
    schema.fields().iter().enumerate().map(column).collect()
}

/// Columns given one by one.
fn listed(columns: &Bound<'_, PyList>) -> PyResult<Vec<Column>> {
    let py = columns.py();
    let column = |column: Bound<'_, PyAny>| {
        let (name, values, starts): (String, Bound<'_, PyAny>, Option<Bound<'_, PyAny>>) =
            column.extract()?;
        if let Some(given) = buffer::unreadable(&values)? {
            let expected = "numbers as astype(\"float64\") gives them, or filled(nan) under a mask, are needed";
            let error = Error::new(ErrorKind::WrongType, given, expected).at(&name);
            return Err(refused(py, &error));
        }
        let mut values = array(&values)?;
        if let Some(starts) = starts {
            let starts = array(&starts)?;
            let lists =
                lists(&starts, values).map_err(|error| refused(py, &arrow(error).at(&name)))?;
            values = Arc::new(lists);
        }
        Ok(Column {
            name,
            unit: None,
            values,
        })
    };
    columns.iter().map(column).collect()
}

fn lists(starts: &ArrayRef, values: ArrayRef) -> Result<LargeListArray, arrow_schema::ArrowError> {
    let starts = cast::int64(starts)?;
    let field = Arc::new(Field::new_list_field(values.data_type().clone(), true));
    let lengths: Vec<usize> = starts
        .values()
        .windows(2)
        .map(|pair| usize::try_from(pair[1] - pair[0]).unwrap_or_default())
        .collect();
    let offsets = arrow_buffer::OffsetBuffer::from_lengths(lengths);
    LargeListArray::try_new(field, offsets, values, None)
}

/// The values of one column: text, or what an Arrow producer or a buffer holds.
pub(crate) fn array(values: &Bound<'_, PyAny>) -> PyResult<ArrayRef> {
    let py = values.py();
    if let Ok(list) = values.cast::<PyList>() {
        let text = list.iter().map(|item| {
            if item.is_none() {
                return Ok(None);
            }
            let text = item.cast_into::<PyString>()?;
            let text = request::utf8(&text).map_err(|error| refused(py, &error))?;
            Ok(Some(text.to_owned()))
        });
        let text = text.collect::<PyResult<Vec<Option<String>>>>()?;
        return Ok(Arc::new(StringArray::from(text)));
    }
    let (pieces, field) = values
        .extract::<AnyArray>()?
        .into_chunked_array()?
        .into_inner();
    let whole = rows::joined(&pieces, field.data_type());
    whole.map_err(|error| refused(py, &arrow(error)))
}

/// Numbers with a null in the place of NaN.
fn numbers(values: &[f64]) -> ArrayRef {
    let known = values
        .iter()
        .map(|value| (!value.is_nan()).then_some(*value));
    Arc::new(known.collect::<Float64Array>())
}

fn text<'a>(values: impl Iterator<Item = Option<&'a str>>) -> ArrayRef {
    Arc::new(values.collect::<StringArray>())
}

fn written(found: &LogVerdicts, ids: Option<(&str, &ArrayRef)>) -> Result<RecordBatch, Error> {
    let mut columns: Vec<(&str, ArrayRef)> = Vec::new();
    columns.extend(ids.map(|(name, ids)| (name, ids.clone())));
    let rows = found.fault_row.iter().map(|row| row.map(|row| row as u64));
    columns.extend([
        (
            "verdict",
            text(found.verdict.iter().map(|verdict| Some(verdict.name()))),
        ),
        (
            "reason",
            text(found.reason.iter().map(|reason| Some(reason.as_str()))),
        ),
        ("rule", text(found.rule.iter().map(Option::as_deref))),
        (
            "place",
            text(
                found
                    .place
                    .iter()
                    .map(|place| place.as_ref().map(Place::name)),
            ),
        ),
        ("margin_K", numbers(&found.margin_K)),
        ("margin_s", numbers(&found.margin_s)),
        ("reached_s", numbers(&found.reached_s)),
        ("fault", text(found.fault.iter().copied())),
        ("fault_row", Arc::new(rows.collect::<UInt64Array>())),
        ("reduction_log10", numbers(&found.reduction_log10)),
        ("target_reached_s", numbers(&found.target_reached_s)),
        ("growth_log10", numbers(&found.growth_log10)),
    ]);
    let (fields, values): (Vec<Field>, Vec<ArrayRef>) = columns
        .into_iter()
        .map(|(name, values)| (Field::new(name, values.data_type().clone(), true), values))
        .unzip();
    RecordBatch::try_new(Arc::new(Schema::new(fields)), values).map_err(arrow)
}
