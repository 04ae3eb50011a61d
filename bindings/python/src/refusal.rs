//! Errors of the core as Python exceptions.

use poulter::{Error, ErrorKind};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyModule, PyString, PyType};

/// The exception for an error of the core. The classes, and the table from codes to classes, are Python's.
pub(crate) fn refused(py: Python<'_>, error: &Error) -> PyErr {
    exception(py, error).map_or_else(|problem| problem, PyErr::from_value)
}

fn exception<'py>(py: Python<'py>, error: &Error) -> PyResult<Bound<'py, PyAny>> {
    let errors = PyModule::import(py, "poulter.errors")?;
    let class = errors.getattr("class_for")?.call1((error.code(),))?;
    let parts = PyDict::new(py);
    parts.set_item("code", error.code())?;
    parts.set_item("slug", error.kind().slug())?;
    parts.set_item("field", error.field())?;
    parts.set_item("given", error.given())?;
    parts.set_item("expected", error.expected())?;
    parts.set_item("advice", error.kind().advice())?;
    parts.set_item("citations", error.citations())?;
    class
        .cast::<PyType>()?
        .call((error.to_string(),), Some(&parts))
}

/// Make the exception for input that was refused before it reached the core.
#[pyfunction]
#[pyo3(signature = (slug, *, field, given, expected))]
pub(crate) fn refuse<'py>(
    py: Python<'py>,
    slug: &str,
    field: &str,
    given: &Bound<'py, PyString>,
    expected: &str,
) -> PyResult<Bound<'py, PyAny>> {
    let kind = ErrorKind::ALL
        .into_iter()
        .find(|kind| kind.slug() == slug)
        .unwrap_or(ErrorKind::Internal);
    exception(
        py,
        &Error::new(kind, given.to_string_lossy(), expected).at(field),
    )
}

/// All kinds of error, as (code, slug, advice).
#[pyfunction]
pub(crate) fn error_kinds() -> Vec<(u16, &'static str, &'static str)> {
    ErrorKind::ALL
        .into_iter()
        .map(|kind| (kind.code(), kind.slug(), kind.advice()))
        .collect()
}
