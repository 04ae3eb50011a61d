//! A quantity as a Python value object.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use poulter::units::AnyQuantity;
use pyo3::basic::CompareOp;
use pyo3::prelude::*;

use crate::refusal::refused;

/// A number with its unit. Equal to any other quantity that is exactly the same amount, whatever its unit.
#[pyclass(frozen, name = "Quantity", module = "poulter")]
#[derive(Clone, Copy)]
pub(crate) struct PyQuantity(AnyQuantity);

#[pymethods]
impl PyQuantity {
    #[new]
    #[pyo3(signature = (value, unit))]
    fn new(py: Python<'_>, value: f64, unit: &str) -> PyResult<Self> {
        AnyQuantity::new(value, unit)
            .map(Self)
            .map_err(|error| refused(py, &error))
    }

    /// Read text such as "4 lb 8 oz" or "165 °F".
    #[staticmethod]
    #[pyo3(signature = (text, /))]
    fn parse(py: Python<'_>, text: &str) -> PyResult<Self> {
        AnyQuantity::parse(text)
            .map(Self)
            .map_err(|error| refused(py, &error))
    }

    /// The same amount in another unit.
    #[pyo3(signature = (unit, /))]
    fn to(&self, py: Python<'_>, unit: &str) -> PyResult<Self> {
        self.0
            .in_unit(unit)
            .map(Self)
            .map_err(|error| refused(py, &error))
    }

    /// The amount as a cook reads it, rounded: "4 lb 8 oz", "3 h 45 min". `str` gives the exact number.
    fn shown(&self) -> String {
        self.0.shown()
    }

    /// The number of `unit`.
    #[getter]
    fn value(&self) -> f64 {
        self.0.value()
    }

    /// The name of the unit.
    #[getter]
    fn unit(&self) -> &'static str {
        self.0.unit()
    }

    fn __richcmp__(&self, other: &Bound<'_, PyAny>, operation: CompareOp) -> PyResult<Py<PyAny>> {
        let py = other.py();
        let order = match (other.cast::<Self>(), operation) {
            (Ok(other), CompareOp::Eq) => Some(self.0 == other.get().0),
            (Ok(other), CompareOp::Ne) => Some(self.0 != other.get().0),
            (Ok(other), _) => self
                .0
                .partial_cmp(&other.get().0)
                .map(|order| operation.matches(order)),
            (Err(_), _) => None,
        };
        // NotImplemented lets Python try the other side, and raise TypeError for an order that does not exist.
        order.map_or_else(
            || Ok(py.NotImplemented()),
            |known| Ok(known.into_pyobject(py)?.to_owned().into_any().unbind()),
        )
    }

    fn __hash__(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.0.hash(&mut hasher);
        hasher.finish()
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(&self) -> String {
        format!("Quantity({}, '{}')", self.0.value(), self.0.unit())
    }

    fn __reduce__<'py>(
        slf: &Bound<'py, Self>,
    ) -> (Bound<'py, pyo3::types::PyType>, (f64, &'static str)) {
        let quantity = slf.get().0;
        (slf.get_type(), (quantity.value(), quantity.unit()))
    }
}
