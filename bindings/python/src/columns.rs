//! Questions about a log whose columns are lists or buffers.

use arrow_array::cast::AsArray;
use arrow_array::{Array, Float64Array};
use poulter::log::{ColumnSlice, ElapsedSlice, TemperatureLog};
use poulter::records::lethality_of_columns;
use poulter::rules::Rulebook;
use poulter::{Error, ErrorKind, Request, Response};
use pyo3::buffer::PyUntypedBuffer;
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyInt, PyList, PySequence, PyString};
use pyo3_arrow::buffer::AnyBufferProtocol;
use serde_json::{Value, json};

use crate::batch::array;
use crate::buffer::{float64, ticks, unreadable};
use crate::refusal::refused;
use crate::{request, response, table};

/// Answer a question about a log given as columns: seconds, and for each place its name, unit and temperatures.
///
/// A column is a list, a buffer of float64 in one dimension, an Arrow producer, or what makes an array; a buffer without
/// steps is read where it lies. NaN, None and null stand for a missing reading. The interpreter lock is released while the answer is worked out.
#[pyfunction]
#[pyo3(signature = (request, elapsed_s, places, /, default = None))]
pub(crate) fn evaluate_log<'py>(
    request: &Bound<'py, PyAny>,
    elapsed_s: &Bound<'py, PyAny>,
    places: &Bound<'py, PyList>,
    default: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = request.py();
    let mut question = request::read(request, default)?;
    let seconds = column(elapsed_s, "elapsed_s")?;
    let mut names = Vec::new();
    let mut temperatures = Vec::new();
    for place in places {
        let (place, unit, values): (
            Bound<'py, PyString>,
            Bound<'py, PyString>,
            Bound<'py, PyAny>,
        ) = place.extract()?;
        let text = |text: &Bound<'py, PyString>| {
            let read = request::utf8(text).map_err(|error| refused(py, &error.at("places")))?;
            Ok::<_, PyErr>(read.to_owned())
        };
        let (place, unit) = (text(&place)?, text(&unit)?);
        temperatures.push(column(&values, &place)?);
        names.push(json!({"place": place, "unit": unit, "temperatures": []}));
    }
    let text = py
        .detach(|| {
            question["log"] = json!({"elapsed_s": [], "places": names});
            answer(question, &seconds, &temperatures)
        })
        .map_err(|error| refused(py, &error))?;
    response::to_python(py, &text)
}

fn answer(
    mut question: Value,
    seconds: &Float64Array,
    temperatures: &[Float64Array],
) -> Result<String, Error> {
    let book = poulter::take_house_rules(Rulebook::builtin(), &mut question)?;
    let mut question = Request::from_value(question)?;
    if let Some(given) = question.log_mut() {
        let places = given.places.take().unwrap_or_default();
        let columns = places.into_iter().zip(temperatures);
        let columns: Vec<ColumnSlice<'_>> = columns
            .map(|(column, values)| ColumnSlice {
                place: column.place,
                unit: column.unit,
                temperatures: values.values(),
            })
            .collect();
        let clock = ElapsedSlice {
            elapsed_s: seconds.values(),
        };
        if let Request::Lethality(query) = &question {
            let found = lethality_of_columns(&book, query, clock, &columns)?;
            return response::to_json(&Response::Lethality(found));
        }
        let log = TemperatureLog::from_slices(clock, &columns).map_err(|error| error.at("log"))?;
        if let Some(given) = question.log_mut() {
            given.log = Some(log);
            given.elapsed_s = None;
        }
    }
    response::to_json(&poulter::evaluate_with(&book, &question)?)
}

/// The numbers of a list, of a buffer, or of a series of Arrow or one that makes an array.
fn column(values: &Bound<'_, PyAny>, field: &str) -> PyResult<Float64Array> {
    let py = values.py();
    let refuse = |given: &str| {
        let expected = "a list of numbers, a series of numbers, or a buffer of float64 in one dimension, is needed; an \
                        array of another type is converted with astype(\"float64\"), one with a mask with \
                        filled(nan), durations with total_seconds()";
        refused(
            py,
            &Error::new(ErrorKind::WrongType, given, expected).at(field),
        )
    };
    let type_of = |value: &Bound<'_, PyAny>| {
        let name = value.get_type().name();
        name.map_or_else(|_| String::new(), |name| name.to_string())
    };
    if let Some(given) = unreadable(values)? {
        return Err(refuse(&given));
    }
    if let Ok(buffer) = PyUntypedBuffer::get(values) {
        return lent(values, &buffer, refuse);
    }
    let is_arrow = values.hasattr("__arrow_c_stream__")? || values.hasattr("__arrow_c_array__")?;
    // A series of pandas gives a stream only where pyarrow is installed.
    if is_arrow && let Ok(series) = array(values) {
        if !(series.data_type().is_numeric() || series.data_type().is_null()) {
            return Err(refuse(&series.data_type().to_string()));
        }
        return table::numbers(&series, field).map_err(|error| refused(py, &error));
    }
    if values.hasattr("__array__")? {
        let made = values.call_method1("__array__", ("float64",));
        let made = made.map_err(|_| refuse(&type_of(values)))?;
        let buffer = PyUntypedBuffer::get(&made).map_err(|_| refuse(&type_of(values)))?;
        return lent(&made, &buffer, refuse);
    }
    let items = values.cast::<PySequence>().ok();
    let items = items.filter(|items| !items.is_instance_of::<PyString>());
    let items = items.ok_or_else(|| refuse(&type_of(values)))?;
    let mut numbers = Vec::with_capacity(items.len()?);
    for item in items.try_iter()? {
        let item = item?;
        if item.is_none() {
            numbers.push(f64::NAN);
            continue;
        }
        let is_plain =
            item.is_exact_instance_of::<PyFloat>() || item.is_exact_instance_of::<PyInt>();
        if !is_plain && let Some(given) = ticks(&item)? {
            return Err(refuse(&given));
        }
        let number: PyResult<f64> = item.extract();
        numbers.push(number.map_err(|_| refuse(&type_of(values)))?);
    }
    Ok(numbers.into())
}

/// The numbers in memory that another library lends, where they lie if they lie together.
fn lent(
    values: &Bound<'_, PyAny>,
    buffer: &PyUntypedBuffer,
    refuse: impl Fn(&str) -> PyErr,
) -> PyResult<Float64Array> {
    if buffer.dimensions() != 1 {
        return Err(refuse(&format!("{} dimensions", buffer.dimensions())));
    }
    let Some(numbers) = float64(values, buffer, refuse)? else {
        return Ok(Vec::<f64>::new().into());
    };
    if !numbers.is_c_contiguous() {
        return Ok(numbers.to_vec(values.py())?.into());
    }
    let lent = values.extract::<AnyBufferProtocol>()?.into_arrow_array()?;
    Ok(lent.as_primitive().clone())
}
