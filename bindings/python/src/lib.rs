//! The compiled half of the Python package `poulter`: conversion between Python objects and the core, nothing else.

mod batch;
mod buffer;
mod cast;
mod columns;
mod convert;
mod probe;
mod producer;
mod quantity;
mod refusal;
mod request;
mod response;
mod rows;
mod sheet;
mod table;

use pyo3::prelude::*;
use pyo3::types::PyString;

use quantity::PyQuantity;
use refusal::refused;

/// Answer a question given as JSON text, with JSON text.
///
/// The answer is the same, byte for byte, in every language. The interpreter lock is released meanwhile.
///
/// Parameters
/// ----------
/// text : str
///     A request by `request_schema`.
///
/// Returns
/// -------
/// str
///     A response by `response_schema`.
///
/// Raises
/// ------
/// InputError
///     The text is not JSON, the kind is unknown, or a field is missing, unknown or out of range.
/// PoulterError
///     What the function named as the kind raises.
///
/// Examples
/// --------
/// >>> import json
/// >>> import poulter
/// >>> text = '{"kind": "thaw_time", "mass": "15 lb", "method": "refrigerator"}'
/// >>> json.loads(poulter.evaluate_json(text)).keys() >= {"answer", "cautions"}
/// True
#[pyfunction]
#[pyo3(signature = (text, /))]
fn evaluate_json(text: &Bound<'_, PyString>) -> PyResult<String> {
    let py = text.py();
    let text = request::utf8(text).map_err(|error| refused(py, &error))?;
    py.detach(|| poulter::evaluate_json(text))
        .map_err(|error| refused(py, &error))
}

/// Answer a question given as a dict, with a dict.
///
/// `default(value, field)` is called for a value that JSON has no form for and returns one that it has.
#[pyfunction]
#[pyo3(signature = (request, /, default = None))]
fn evaluate<'py>(
    request: &Bound<'py, PyAny>,
    default: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let py = request.py();
    let request = request::read(request, default)?;
    let text = py
        .detach(|| {
            let response = poulter::evaluate_value(request)?;
            response::to_json(&response)
        })
        .map_err(|error| refused(py, &error))?;
    response::to_python(py, &text)
}

/// The JSON text of a request, with `default` as in `evaluate`.
#[pyfunction]
#[pyo3(signature = (request, /, default = None))]
fn request_json(
    request: &Bound<'_, PyAny>,
    default: Option<&Bound<'_, PyAny>>,
) -> PyResult<String> {
    request::read(request, default).map(|value| value.to_string())
}

/// Plan an order given as JSON text and write a sheet of a kind in a format; a spreadsheet comes as bytes.
#[pyfunction]
#[pyo3(signature = (order, kind, format, /))]
fn worksheet<'py>(
    py: Python<'py>,
    order: &str,
    kind: &str,
    format: &str,
) -> PyResult<Bound<'py, PyAny>> {
    sheet::write(py, order, kind, format)
}

/// Run the command line and return its exit code; the first argument is the name it goes by.
#[pyfunction]
#[pyo3(signature = (arguments, /))]
fn command_line(py: Python<'_>, arguments: Vec<std::ffi::OsString>) -> u8 {
    py.detach(|| poulter_cli::run(arguments))
}

/// The JSON Schema of a request, as JSON text.
///
/// Returns
/// -------
/// str
///     The schema, draft 2020-12.
///
/// Examples
/// --------
/// >>> import json
/// >>> import poulter
/// >>> len(json.loads(poulter.request_schema()).get("oneOf")) == len(poulter.kinds())
/// True
#[pyfunction]
const fn request_schema() -> &'static str {
    poulter::REQUEST_SCHEMA
}

/// The JSON Schema of a response, as JSON text.
///
/// Returns
/// -------
/// str
///     The schema, draft 2020-12.
///
/// Examples
/// --------
/// >>> import json
/// >>> import poulter
/// >>> "oneOf" in json.loads(poulter.response_schema())
/// True
#[pyfunction]
const fn response_schema() -> &'static str {
    poulter::RESPONSE_SCHEMA
}

/// The names of all units, as quantities carry them.
///
/// Returns
/// -------
/// list of str
///     The names; each is case-sensitive.
///
/// Examples
/// --------
/// >>> import poulter
/// >>> "degF" in poulter.units(), "F" in poulter.units()
/// (True, False)
#[pyfunction]
fn units() -> Vec<&'static str> {
    poulter::units::AnyQuantity::units()
}

/// The kinds of question that `evaluate` answers.
///
/// Returns
/// -------
/// list of str
///     The kinds; each has a function of its name.
///
/// Examples
/// --------
/// >>> import poulter
/// >>> "thaw_time" in poulter.kinds()
/// True
#[pyfunction]
fn kinds() -> Vec<&'static str> {
    poulter::KINDS.to_vec()
}

/// Module contents.
#[pymodule]
fn _core(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("__version__", env!("CARGO_PKG_VERSION"))?;
    module.add_class::<PyQuantity>()?;
    module.add_class::<probe::PyProbe>()?;
    module.add_function(wrap_pyfunction!(command_line, module)?)?;
    module.add_function(wrap_pyfunction!(convert::convert, module)?)?;
    module.add_function(wrap_pyfunction!(refusal::error_kinds, module)?)?;
    module.add_function(wrap_pyfunction!(evaluate, module)?)?;
    module.add_function(wrap_pyfunction!(evaluate_json, module)?)?;
    module.add_function(wrap_pyfunction!(batch::check_logs, module)?)?;
    module.add_function(wrap_pyfunction!(columns::evaluate_log, module)?)?;
    module.add_function(wrap_pyfunction!(kinds, module)?)?;
    module.add_function(wrap_pyfunction!(refusal::refuse, module)?)?;
    module.add_function(wrap_pyfunction!(quantity::restore, module)?)?;
    module.add_function(wrap_pyfunction!(request_json, module)?)?;
    module.add_function(wrap_pyfunction!(request_schema, module)?)?;
    module.add_function(wrap_pyfunction!(response_schema, module)?)?;
    module.add_function(wrap_pyfunction!(units, module)?)?;
    module.add_function(wrap_pyfunction!(worksheet, module)?)
}
