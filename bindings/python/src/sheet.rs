//! A plan as a sheet: text as `str`, a spreadsheet as `bytes`.

use poulter_worksheet::{Format, worksheet};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyString};

use crate::refusal::refused;

/// Plans an order and writes the sheet.
pub(crate) fn write<'py>(
    py: Python<'py>,
    order: &str,
    kind: &str,
    format: &str,
) -> PyResult<Bound<'py, PyAny>> {
    let bytes = py
        .detach(|| worksheet(order, kind, format))
        .map_err(|error| refused(py, &error))?;
    if Format::from_name(format).is_ok_and(Format::is_text) {
        Ok(PyString::from_bytes(py, &bytes)?.into_any())
    } else {
        Ok(PyBytes::new(py, &bytes).into_any())
    }
}
