//! Numbers in memory that another library lends.

use std::ffi::CStr;

use pyo3::buffer::{Element, PyBuffer, PyUntypedBuffer};
use pyo3::prelude::*;

/// What keeps `values` from being read as the numbers that lie in their memory: a mask, which lies elsewhere, the ticks
/// of a clock, or the byte order of another machine.
pub(crate) fn unreadable(values: &Bound<'_, PyAny>) -> PyResult<Option<String>> {
    // The series of pandas have a method of that name.
    let mask = values.getattr_opt("mask")?;
    if mask.is_some_and(|mask| !mask.is_callable()) {
        return Ok(Some("an array with a mask".to_owned()));
    }
    if let Some(given) = ticks(values)? {
        return Ok(Some(given));
    }
    let buffer = PyUntypedBuffer::get(values).ok();
    Ok(buffer
        .filter(|buffer| is_foreign(buffer.format()))
        .map(|buffer| described(buffer.format())))
}

/// The type of an array or of one item that counts the ticks of a clock.
pub(crate) fn ticks(values: &Bound<'_, PyAny>) -> PyResult<Option<String>> {
    let Some(dtype) = values.getattr_opt("dtype")? else {
        return Ok(None);
    };
    let Some(kind) = dtype.getattr_opt("kind")? else {
        return Ok(None);
    };
    let is_clock = kind.eq("m")? || kind.eq("M")?;
    Ok(is_clock.then_some(dtype.str()?.to_string()))
}

/// The memory of `values` as float64, or nothing where there are no numbers in it; `refuse` is told what is wrong.
pub(crate) fn float64(
    values: &Bound<'_, PyAny>,
    buffer: &PyUntypedBuffer,
    refuse: impl Fn(&str) -> PyErr,
) -> PyResult<Option<PyBuffer<f64>>> {
    let other = || refuse(&described(buffer.format()));
    if !f64::is_compatible_format(buffer.format()) {
        return Err(other());
    }
    // Memory of no numbers need not be aligned for one.
    if buffer.item_count() == 0 {
        return Ok(None);
    }
    PyBuffer::get(values).map(Some).map_err(|_| other())
}

/// Whether a format of Python's `struct` names the byte order that this machine has not.
fn is_foreign(format: &CStr) -> bool {
    let big = matches!(format.to_bytes(), [b'>' | b'!', ..]);
    let little = format.to_bytes().starts_with(b"<");
    if cfg!(target_endian = "little") {
        big
    } else {
        little
    }
}

fn described(format: &CStr) -> String {
    format!("a buffer of format {}", format.to_string_lossy())
}
