//! Questions about a log whose columns are lists or buffers.

use arrow_array::Float64Array;
use arrow_array::cast::AsArray;
use poulter::log::{ColumnSlice, ElapsedSlice, TemperatureLog};
use poulter::records::GivenLog;
use poulter::rules::Rulebook;
use poulter::{Error, ErrorKind, Request};
use pyo3::buffer::PyUntypedBuffer;
use pyo3::prelude::*;
use pyo3::types::{PyList, PyString};
use pyo3_arrow::buffer::AnyBufferProtocol;
use serde_json::{Value, json};

use crate::buffer::{float64, unreadable};
use crate::refusal::refused;
use crate::{request, response};

/// Answer a question about a log given as columns: seconds, and for each place its name, unit and temperatures.
///
/// A column is a list, or a buffer of float64 in one dimension; a buffer without steps is read where it lies. NaN and
/// None stand for a missing reading. The interpreter lock is released while the answer is worked out.
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
        let log = TemperatureLog::from_slices(clock, &columns).map_err(|error| error.at("log"))?;
        *given = GivenLog {
            log: Some(log),
            ..GivenLog::default()
        };
    }
    response::to_json(&poulter::evaluate_with(&book, &question)?)
}

/// The numbers of a list or of a buffer.
fn column(values: &Bound<'_, PyAny>, field: &str) -> PyResult<Float64Array> {
    let py = values.py();
    let refuse = |given: &str| {
        let expected = "a list of numbers, or a buffer of float64 in one dimension, is needed; an array of another \
                        type is converted with astype(\"float64\"), one with a mask with filled(nan)";
        refused(
            py,
            &Error::new(ErrorKind::WrongType, given, expected).at(field),
        )
    };
    if let Some(given) = unreadable(values)? {
        return Err(refuse(&given));
    }
    if let Ok(buffer) = PyUntypedBuffer::get(values) {
        let shape = format!("{} dimensions", buffer.dimensions());
        if buffer.dimensions() != 1 {
            return Err(refuse(&shape));
        }
        let Some(numbers) = float64(values, &buffer, refuse)? else {
            return Ok(Vec::<f64>::new().into());
        };
        if !numbers.is_c_contiguous() {
            return Ok(numbers.to_vec(py)?.into());
        }
        let lent = values.extract::<AnyBufferProtocol>()?.into_arrow_array()?;
        return Ok(lent.as_primitive().clone());
    }
    let numbers: Vec<Option<f64>> = values.extract().map_err(|_| {
        let name = values.get_type().name();
        refuse(&name.map_or_else(|_| String::new(), |name| name.to_string()))
    })?;
    let known = numbers.into_iter().map(|value| value.unwrap_or(f64::NAN));
    Ok(known.collect::<Vec<f64>>().into())
}
