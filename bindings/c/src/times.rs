//! Thaw and roast times, and the minimum temperature inside.

use poulter_core::TimeEstimate;
use poulter_core::units::{Duration, Mass};

use crate::boundary::{array_in, each_out, not_null, report};
use crate::error::CallError;
use crate::status::StatusNumber;
use crate::words::{comparison, subject, thaw_method};

/// A shortest, likely and longest time in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct Time {
    /// The quick case.
    pub low_s: f64,
    /// The likely case.
    pub likely_s: f64,
    /// The slow case; plan with it.
    pub high_s: f64,
}

impl From<TimeEstimate> for Time {
    #[inline]
    fn from(time: TimeEstimate) -> Self {
        Self {
            low_s: time.low.as_seconds(),
            likely_s: time.likely.as_seconds(),
            high_s: time.high.as_seconds(),
        }
    }
}

/// A minimum temperature inside a cooked bird, to show and to set an alarm by. A verdict is `check_cooking`'s.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
pub struct Minimum {
    /// In degrees Celsius; where the rule binds in Fahrenheit it may have no end as a decimal number.
    pub temp_degC: f64,
    /// In degrees Fahrenheit.
    pub temp_degF: f64,
    /// How long it must hold, in seconds; 0 where it counts at once.
    pub hold_s: f64,
    /// One of POULTER_COMPARISON_*.
    pub comparison: u32,
    /// 1 where the rule is written in Fahrenheit, else 0.
    pub binds_in_fahrenheit: u32,
}

/// A mass of the caller's.
#[inline]
pub(crate) fn mass(mass_kg: f64, argument: &str) -> Result<Mass, CallError> {
    Mass::from_kilograms(mass_kg).map_err(|error| error.at(argument).into())
}

/// How long a bird of `mass_kg` thaws by `method`, one of POULTER_THAW_METHOD_*.
///
/// Refused with POULTER_STATUS_NO_PUBLISHED_ROW where no row is printed, and where the standard forbids the method; the
/// message then says why. `error` may be NULL.
///
/// # Safety
/// `out` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_thaw_time(
    standard: u32,
    species: u32,
    cut: u32,
    method: u32,
    mass_kg: f64,
    out: *mut Time,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(out, "out")?;
            let bird = subject(standard, species, cut)?;
            let found = bird.thaw_time(thaw_method(method)?, mass(mass_kg, "mass_kg")?)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(found.into());
            Ok(())
        })
    }
}

/// The same for `len` masses.
///
/// # Safety
/// `mass_kg` is null or points to `len` readable numbers; `out` is null or has room for as many times. `error` is null,
/// or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_thaw_times(
    standard: u32,
    species: u32,
    cut: u32,
    method: u32,
    mass_kg: *const f64,
    len: usize,
    out: *mut Time,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let masses = array_in(mass_kg, len, "mass_kg")?;
            let (bird, method) = (subject(standard, species, cut)?, thaw_method(method)?);
            // SAFETY: as above.
            each_out(len, out, "out", |at| {
                let found =
                    Mass::from_kilograms(masses[at]).and_then(|mass| bird.thaw_time(method, mass));
                Ok(found
                    .map_err(|error| error.at(&format!("mass_kg[{at}]")))?
                    .into())
            })
        })
    }
}

/// How long a thawed bird of `mass_kg` roasts in a steady oven at sea level; `stuffed` is 0 or 1.
///
/// The thermometer decides, never the time. Refused with POULTER_STATUS_NO_PUBLISHED_ROW where no row is printed.
/// `error` may be NULL.
///
/// # Safety
/// `out` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_roast_time(
    standard: u32,
    species: u32,
    cut: u32,
    stuffed: u32,
    mass_kg: f64,
    out: *mut Time,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(out, "out")?;
            let bird = subject(standard, species, cut)?;
            let found = bird.roast_time(mass(mass_kg, "mass_kg")?, stuffed != 0)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(found.into());
            Ok(())
        })
    }
}

/// The same for `len` masses.
///
/// # Safety
/// `mass_kg` is null or points to `len` readable numbers; `out` is null or has room for as many times. `error` is null,
/// or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_roast_times(
    standard: u32,
    species: u32,
    cut: u32,
    stuffed: u32,
    mass_kg: *const f64,
    len: usize,
    out: *mut Time,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let masses = array_in(mass_kg, len, "mass_kg")?;
            let bird = subject(standard, species, cut)?;
            // SAFETY: as above.
            each_out(len, out, "out", |at| {
                let found = Mass::from_kilograms(masses[at])
                    .and_then(|mass| bird.roast_time(mass, stuffed != 0));
                Ok(found
                    .map_err(|error| error.at(&format!("mass_kg[{at}]")))?
                    .into())
            })
        })
    }
}

/// The minimum temperature inside; of the stuffing where `stuffing` is not 0.
///
/// Refused with POULTER_STATUS_NO_PUBLISHED_ROW where the standard names none. `error` may be NULL.
///
/// # Safety
/// `out` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_minimum_temperature(
    standard: u32,
    species: u32,
    cut: u32,
    stuffing: u32,
    out: *mut Minimum,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(out, "out")?;
            let found = subject(standard, species, cut)?.minimum_temperature(stuffing != 0)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(Minimum {
                temp_degC: found.temperature.as_celsius(),
                temp_degF: found.temperature.as_fahrenheit(),
                hold_s: found.hold.map_or(0.0, Duration::as_seconds),
                comparison: comparison(found.is) as u32,
                binds_in_fahrenheit: u32::from(found.temperature.unit().name() == "degF"),
            });
            Ok(())
        })
    }
}
