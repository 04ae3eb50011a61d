//! Conversion of one number or of many.

use poulter::units::{AnyQuantity, Unit, convert_all};
use poulter::{Error, ErrorKind};
use pyo3::buffer::{PyBuffer, PyUntypedBuffer};
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyInt, PyList, PyString};

use crate::buffer::{float64, unreadable};
use crate::refusal::refused;
use crate::request::utf8;

/// Convert a number, or an array or list of numbers, to another unit of the same sort.
///
/// A single number is counted in the exact steps of a `Quantity`; many are converted in float64, and the interpreter
/// lock is released meanwhile.
///
/// Parameters
/// ----------
/// value : float, list of float, or buffer of float64
///     One number; or numbers of shape (n,), for an array of NumPy of any shape. None and NaN stay missing.
/// unit : str
///     The unit of `value`, one of `units`.
/// to : str
///     A unit of the same sort.
///
/// Returns
/// -------
/// float, list of float, or array
///     One number for one, a list for a list or tuple, an array of NumPy of the same shape for one of NumPy, and an
///     ``array.array("d")`` for any other buffer. A missing number is NaN.
///
/// Raises
/// ------
/// UnitError
///     A unit is not known, or the two are of different sorts.
/// InputError
///     A number is infinite or below absolute zero, with its place; or the values are no numbers.
///
/// Examples
/// --------
/// >>> import poulter
/// >>> poulter.convert(41, "degF", "degC")
/// 5.0
/// >>> poulter.convert([32, None, 140], "degF", "degC")
/// [0.0, nan, 60.0]
/// >>> import numpy as np
/// >>> poulter.convert(np.array([[1.0, 2.0]]), "kg", "g")
/// array([[1000., 2000.]])
#[pyfunction]
#[pyo3(signature = (value, unit, to, /))]
pub(crate) fn convert<'py>(
    value: &Bound<'py, PyAny>,
    unit: &Bound<'py, PyString>,
    to: &Bound<'py, PyString>,
) -> PyResult<Bound<'py, PyAny>> {
    if value.is_instance_of::<PyFloat>() || value.is_instance_of::<PyInt>() {
        return one(value.extract()?, unit, to);
    }
    let py = value.py();
    if let Some(given) = unreadable(value)? {
        return Err(wrong(py, &given));
    }
    if let Ok(buffer) = PyUntypedBuffer::get(value)
        && buffer.dimensions() > 0
    {
        let numbers = numbers(value, &buffer)?;
        return lay_out(value, &many(py, &numbers, unit, to)?);
    }
    if let Ok(number) = value.extract() {
        return one(number, unit, to);
    }
    let numbers: Vec<Option<f64>> = value.extract().map_err(|_| {
        let name = value.get_type().name().map(|name| name.to_string());
        wrong(py, &name.unwrap_or_default())
    })?;
    let numbers: Vec<f64> = numbers
        .into_iter()
        .map(|number| number.unwrap_or(f64::NAN))
        .collect();
    Ok(PyList::new(py, many(py, &numbers, unit, to)?)?.into_any())
}

fn one<'py>(
    value: f64,
    unit: &Bound<'py, PyString>,
    to: &Bound<'py, PyString>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = unit.py();
    let converted = || AnyQuantity::new(value, utf8(unit)?)?.in_unit(utf8(to)?);
    let found = converted().map_err(|error| refused(py, &error))?;
    Ok(PyFloat::new(py, found.value()).into_any())
}

fn many(
    py: Python<'_>,
    numbers: &[f64],
    unit: &Bound<'_, PyString>,
    to: &Bound<'_, PyString>,
) -> PyResult<Vec<f64>> {
    let named = |name: &Bound<'_, PyString>| Unit::named(utf8(name)?);
    let converted = || {
        let (unit, to) = (named(unit)?, named(to)?);
        py.detach(|| convert_all(numbers, unit, to))
    };
    converted().map_err(|error| refused(py, &error))
}

/// The numbers of a buffer in the order of their rows.
fn numbers(value: &Bound<'_, PyAny>, buffer: &PyUntypedBuffer) -> PyResult<Vec<f64>> {
    let py = value.py();
    let numbers = float64(value, buffer, |given| wrong(py, given))?;
    if buffer.dimensions() > 1 && !is_numpy(value)? {
        return Err(wrong(py, &format!("{} dimensions", buffer.dimensions())));
    }
    numbers.map_or_else(|| Ok(Vec::new()), |numbers| numbers.to_vec(py))
}

/// An array of the kind and shape of `value`.
fn lay_out<'py>(value: &Bound<'py, PyAny>, numbers: &[f64]) -> PyResult<Bound<'py, PyAny>> {
    let py = value.py();
    let made = if is_numpy(value)? {
        py.import("numpy")?
            .call_method1("empty", (value.getattr("shape")?,))?
    } else {
        let empty = py.import("array")?.call_method1("array", ("d", (0.0,)))?;
        empty.mul(numbers.len())?
    };
    if !numbers.is_empty() {
        PyBuffer::get(&made)?.copy_from_slice(py, numbers)?;
    }
    Ok(made)
}

fn is_numpy(value: &Bound<'_, PyAny>) -> PyResult<bool> {
    Ok(value.get_type().module()?.to_cow()? == "numpy")
}

fn wrong(py: Python<'_>, given: &str) -> PyErr {
    let expected = "a number, a list of numbers or a buffer of float64 is needed; an array of another type is converted \
                    with astype(\"float64\"), one with a mask with filled(nan), a series with to_numpy()";
    refused(
        py,
        &Error::new(ErrorKind::WrongType, given, expected).at("value"),
    )
}
