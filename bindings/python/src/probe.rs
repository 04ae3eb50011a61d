//! The probes in a roast as a Python object.

use std::sync::Mutex;

use poulter::heat::{Probe, ProbePlace, ProbeReading};
use poulter::rules::Rulebook;
use poulter::{Error, ErrorKind, Request, Response};
use pyo3::prelude::*;
use pyo3::types::PyString;
use serde_json::{Value, json};

use crate::refusal::refused;
use crate::{request, response};

/// The probes in one roast; `poulter.Probe` is the class to use.
#[pyclass(frozen, name = "ProbeHandle", module = "poulter._core")]
pub(crate) struct PyProbe(Mutex<Probe>);

#[pymethods]
impl PyProbe {
    #[new]
    #[pyo3(signature = (request, /, default = None))]
    fn new(request: &Bound<'_, PyAny>, default: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let py = request.py();
        let request = request::read(request, default)?;
        py.detach(|| made(request))
            .map(|probe| Self(Mutex::new(probe)))
            .map_err(|error| refused(py, &error))
    }

    /// Add a reading of one place, given as a dict of elapsed time and temperature.
    #[pyo3(signature = (place, reading, /, default = None))]
    fn push(
        &self,
        place: &Bound<'_, PyString>,
        reading: &Bound<'_, PyAny>,
        default: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<()> {
        let py = place.py();
        let reading = request::read(reading, default)?;
        let name = request::utf8(place).map_err(|error| refused(py, &error.at("place")))?;
        py.detach(|| {
            let place = place_of(name)?;
            let ProbeReading {
                elapsed,
                temperature,
            } = ProbeReading::from_value(reading)?;
            self.locked()?.push(place, elapsed, temperature)
        })
        .map_err(|error| refused(py, &error))
    }

    /// The state up to now, as a dict.
    fn state<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let text = py
            .detach(|| {
                let state = self.locked()?.state(Rulebook::builtin())?;
                response::to_json(&Response::Forecast(state))
            })
            .map_err(|error| refused(py, &error))?;
        response::to_python(py, &text)
    }
}

impl PyProbe {
    fn locked(&self) -> Result<std::sync::MutexGuard<'_, Probe>, Error> {
        self.0.lock().map_err(|_| {
            Error::new(
                ErrorKind::Internal,
                "",
                "a probe that did not fail before is needed",
            )
        })
    }
}

fn made(request: Value) -> Result<Probe, Error> {
    let Request::Forecast(query) = Request::from_value(request)? else {
        let expected = "the kind forecast is needed";
        return Err(Error::new(ErrorKind::UnknownValue, "another", expected).at("kind"));
    };
    Probe::new(&query)
}

fn place_of(name: &str) -> Result<ProbePlace, Error> {
    serde_json::from_value(json!(name)).map_err(|_| {
        let expected = "breast, thigh, wing, stuffing or oven is needed";
        Error::new(ErrorKind::UnknownValue, name, expected).at("place")
    })
}
