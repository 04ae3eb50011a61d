//! A quantity as a Python value object.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use poulter::units::AnyQuantity;
use poulter::{Error, ErrorKind};
use pyo3::basic::CompareOp;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyFloat, PyInt, PyString};

use crate::refusal::refused;
use crate::request::utf8;

/// What a pickle holds: the exact count of steps, and the unit to show.
type Parts = (i64, &'static str);

/// A number with its unit. Equal to any other quantity that is exactly the same amount, whatever its unit.
///
/// Parameters
/// ----------
/// value : float | str
///     The number; finite. Text without ``unit`` is read as `Quantity.parse` reads it.
/// unit : str, optional
///     One of `poulter.units`, such as ``"degF"``. A difference of temperatures is ``"delta_degF"``. A number needs it.
///
/// Raises
/// ------
/// UnitError
///     The unit is missing or not known.
/// InputError
///     The number is not finite, too large, or a temperature below absolute zero; or the text is not a quantity.
///
/// Examples
/// --------
/// >>> from poulter import Quantity
/// >>> Quantity("4 lb") == Quantity(4, "lb")
/// True
/// >>> Quantity(4, "lb") + Quantity(8, "oz")
/// Quantity(4.5, 'lb')
/// >>> Quantity(41, "degF") == Quantity(5, "degC")
/// True
#[pyclass(frozen, name = "Quantity", module = "poulter")]
#[derive(Clone, Copy)]
pub(crate) struct PyQuantity(AnyQuantity);

#[pymethods]
impl PyQuantity {
    #[new]
    #[pyo3(signature = (value, unit=None))]
    fn new(value: &Bound<'_, PyAny>, unit: Option<&Bound<'_, PyString>>) -> PyResult<Self> {
        match (value.cast::<PyString>(), unit) {
            (Ok(text), None) => Self::parse(text),
            (_, Some(unit)) => {
                let number = value.extract()?;
                let made = utf8(unit).and_then(|unit| AnyQuantity::new(number, unit));
                Self::held(value.py(), made)
            }
            (Err(_), None) => {
                let expected = "a number goes with its unit, as in Quantity(15, \"lb\")";
                let given = value.str()?;
                let error = Error::new(ErrorKind::UnitMissing, given, expected);
                Err(refused(value.py(), &error))
            }
        }
    }

    /// Read text such as "4 lb 8 oz" or "165 °F".
    ///
    /// Parameters
    /// ----------
    /// text : str
    ///     Numbers, each with a unit as people write it.
    ///
    /// Returns
    /// -------
    /// Quantity
    ///     The amount, in the unit of the first number.
    ///
    /// Raises
    /// ------
    /// InputError
    ///     The text is not a quantity; `UnitError` where the unit is missing or not known.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity.parse("4 lb 8 oz")
    /// Quantity(4.5, 'lb')
    #[staticmethod]
    #[pyo3(signature = (text, /))]
    fn parse(text: &Bound<'_, PyString>) -> PyResult<Self> {
        Self::held(text.py(), utf8(text).and_then(AnyQuantity::parse))
    }

    /// Take anything that is accepted as a quantity: text, a pair, a timedelta, a quantity of Pint.
    ///
    /// Parameters
    /// ----------
    /// value : QuantityLike
    ///     What is accepted wherever this package takes a quantity.
    ///
    /// Returns
    /// -------
    /// Quantity
    ///     The same amount.
    ///
    /// Raises
    /// ------
    /// InputError
    ///     The value is not a quantity; `UnitError` where the unit is missing or not known.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity.of((15, "lb"))
    /// Quantity(15, 'lb')
    #[staticmethod]
    #[pyo3(signature = (value, /))]
    fn of<'py>(value: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = value.py();
        py.import("poulter.quantities")?
            .call_method1("quantity", (value,))
    }

    /// The same amount in another unit.
    ///
    /// Parameters
    /// ----------
    /// unit : str
    ///     A unit of the same sort.
    ///
    /// Returns
    /// -------
    /// Quantity
    ///     The amount, exact to the step that quantities are counted in.
    ///
    /// Raises
    /// ------
    /// UnitError
    ///     The unit is not known or of another sort.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity(41, "degF").to("degC")
    /// Quantity(5, 'degC')
    #[pyo3(signature = (unit, /))]
    fn to(&self, unit: &Bound<'_, PyString>) -> PyResult<Self> {
        let py = unit.py();
        Self::held(py, utf8(unit).and_then(|unit| self.0.in_unit(unit)))
    }

    /// The duration as a `datetime.timedelta`.
    ///
    /// Returns
    /// -------
    /// datetime.timedelta
    ///     The same time, in whole milliseconds.
    ///
    /// Raises
    /// ------
    /// UnitError
    ///     The quantity is no duration.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity(90, "min").to_timedelta()
    /// datetime.timedelta(seconds=5400)
    fn to_timedelta<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        py.import("poulter.quantities")?
            .call_method1("to_timedelta", (slf,))
    }

    /// The same quantity in a unit registry of Pint.
    ///
    /// Parameters
    /// ----------
    /// registry : pint.UnitRegistry
    ///     The registry that it shall belong to.
    ///
    /// Returns
    /// -------
    /// pint.Quantity
    ///     The number with the unit of that name.
    ///
    /// Raises
    /// ------
    /// AttributeError
    ///     The registry is none.
    ///
    /// Examples
    /// --------
    /// >>> from pint import UnitRegistry
    /// >>> from poulter import Quantity
    /// >>> print(Quantity(15, "lb").to_pint(UnitRegistry()))
    /// 15.0 pound
    #[pyo3(signature = (registry, /))]
    fn to_pint<'py>(
        slf: &Bound<'py, Self>,
        registry: &Bound<'py, PyAny>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        py.import("poulter.quantities")?
            .call_method1("to_pint", (slf, registry))
    }

    /// The amount as a cook reads it, rounded: "4 lb 8 oz", "3 h 45 min". `str` gives the exact number.
    ///
    /// Returns
    /// -------
    /// str
    ///     Numbers with their units.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity(3.75, "h").shown()
    /// '3 h 45 min'
    fn shown(&self) -> String {
        self.0.shown()
    }

    /// The number of `unit`.
    ///
    /// Returns
    /// -------
    /// float
    ///     The number.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity(15, "lb").value
    /// 15.0
    #[getter]
    fn value(&self) -> f64 {
        self.0.value()
    }

    /// The name of the unit.
    ///
    /// Returns
    /// -------
    /// str
    ///     One of `poulter.units`.
    ///
    /// Examples
    /// --------
    /// >>> from poulter import Quantity
    /// >>> Quantity(15, "lb").unit
    /// 'lb'
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

    fn __add__<'py>(&self, other: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = other.py();
        match other.cast::<Self>() {
            Ok(other) => Self::object(py, self.0.plus(other.get().0)),
            Err(_) => Ok(py.NotImplemented().into_bound(py)),
        }
    }

    /// `sum` starts from 0.
    fn __radd__<'py>(
        slf: &Bound<'py, Self>,
        other: &Bound<'py, PyAny>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = other.py();
        if other.is_instance_of::<PyInt>() && !other.is_truthy()? {
            return Ok(slf.clone().into_any());
        }
        Ok(py.NotImplemented().into_bound(py))
    }

    fn __sub__<'py>(&self, other: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = other.py();
        match other.cast::<Self>() {
            Ok(other) => Self::object(py, self.0.minus(other.get().0)),
            Err(_) => Ok(py.NotImplemented().into_bound(py)),
        }
    }

    fn __mul__<'py>(&self, factor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = factor.py();
        match number(factor) {
            Some(factor) => Self::object(py, self.0.times(factor)),
            None => Ok(py.NotImplemented().into_bound(py)),
        }
    }

    fn __rmul__<'py>(&self, factor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        self.__mul__(factor)
    }

    fn __truediv__<'py>(&self, divisor: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        let py = divisor.py();
        if let Ok(other) = divisor.cast::<Self>() {
            let ratio = self.0.ratio(other.get().0);
            let ratio = ratio.map_err(|error| refused(py, &error))?;
            return Ok(PyFloat::new(py, ratio.value).into_any());
        }
        match number(divisor) {
            Some(divisor) => Self::object(py, self.0.divided_by(divisor)),
            None => Ok(py.NotImplemented().into_bound(py)),
        }
    }

    fn __neg__(&self, py: Python<'_>) -> PyResult<Self> {
        Self::held(py, self.0.times(-1.0))
    }

    fn __abs__(&self, py: Python<'_>) -> PyResult<Self> {
        if self.0.value() < 0.0 {
            return self.__neg__(py);
        }
        Self::held(py, self.0.times(1.0))
    }

    /// The number is formatted, the unit follows: `f"{mass:.1f}"`.
    fn __format__(&self, spec: &Bound<'_, PyString>) -> PyResult<String> {
        if spec.is_empty()? {
            return Ok(self.__str__());
        }
        let value = PyFloat::new(spec.py(), self.0.value());
        let text = value.call_method1("__format__", (spec,))?;
        Ok(format!("{text} {}", self.0.unit()))
    }

    fn _repr_html_(&self) -> String {
        let shown = self.0.shown();
        format!("<span class=\"poulter\">{shown}</span>")
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

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, Parts)> {
        let restore = slf.py().import("poulter._core")?.getattr("restore")?;
        Ok((restore, (slf.get().0.steps(), slf.get().0.unit())))
    }
}

impl PyQuantity {
    fn held(py: Python<'_>, made: Result<AnyQuantity, Error>) -> PyResult<Self> {
        made.map(Self).map_err(|error| refused(py, &error))
    }

    fn object(py: Python<'_>, made: Result<AnyQuantity, Error>) -> PyResult<Bound<'_, PyAny>> {
        Ok(Bound::new(py, Self::held(py, made)?)?.into_any())
    }
}

/// Make a pickled quantity again.
#[pyfunction]
#[pyo3(signature = (steps, unit, /))]
pub(crate) fn restore(py: Python<'_>, steps: i64, unit: &str) -> PyResult<PyQuantity> {
    PyQuantity::held(py, AnyQuantity::from_steps(steps, unit))
}

/// A plain number; a truth value is none.
fn number(value: &Bound<'_, PyAny>) -> Option<f64> {
    if value.is_instance_of::<PyString>() || value.is_instance_of::<PyBool>() {
        return None;
    }
    value.extract().ok()
}
