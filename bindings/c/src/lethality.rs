//! Kill along a log, from arrays of the caller's.

use poulter_core::lethality::{LethalityRequest, Scheme as CoreScheme};
use poulter_core::log::{ElapsedSlice, LogChecks};
use poulter_core::{Error, ErrorKind};

use crate::boundary::{array_in, report};
use crate::error::CallError;
use crate::one_log::{core, refused};
use crate::status::StatusNumber;

/// A published lethality scheme: a target with the temperatures and times that belong to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Scheme {
    /// The longer hold of chicken and turkey, 7-log10 Salmonella: for every bird and for mixtures.
    Poultry = 1,
    /// Chicken, 7-log10 Salmonella.
    Chicken = 2,
    /// Turkey, 7-log10 Salmonella.
    Turkey = 3,
    /// Meat without poultry, 6.5-log10 Salmonella; never for poultry.
    Meat = 4,
    /// 70 °C for 2 min, six powers of ten of Listeria.
    Uk = 5,
}

fn scheme(number: u32) -> Result<CoreScheme, Error> {
    for (known, scheme) in [
        (Scheme::Poultry, CoreScheme::Poultry7Log),
        (Scheme::Chicken, CoreScheme::Poultry7LogChicken),
        (Scheme::Turkey, CoreScheme::Poultry7LogTurkey),
        (Scheme::Meat, CoreScheme::Meat65Log),
        (Scheme::Uk, CoreScheme::Uk702),
    ] {
        if known as u32 == number {
            return Ok(scheme);
        }
    }
    let expected = "one of POULTER_SCHEME_* is needed";
    Err(Error::new(ErrorKind::UnknownValue, number, expected).at("scheme"))
}

fn kill(elapsed_s: &[f64], temp_degc: &[f64], number: u32) -> Result<f64, Error> {
    let scheme = scheme(number)?;
    let (clock, core) = (ElapsedSlice { elapsed_s }, core(temp_degc));
    let found =
        LethalityRequest::new(scheme).assess_columns(clock, &[core], &LogChecks::default())?;
    let found = found.map_err(|faults| refused(&faults))?;
    let estimates = found.places.iter().map(|place| place.estimate.as_log10());
    Ok(estimates.fold(f64::INFINITY, f64::min))
}

/// Adds up the kill along a log of one place, in powers of ten; exact for straight lines between readings.
///
/// `elapsed_s` and `temp_degC` hold `len` numbers each: seconds since the log began, and temperatures in degrees
/// Celsius. `scheme` is one of POULTER_SCHEME_*. A log at fault (a reading missing or out of range, time that does
/// not go forward, more than 15 min without a reading) is refused, and the message names its rows. The figure
/// explains and is no verdict. `error` may be NULL.
///
/// # Safety
/// `elapsed_s` and `temp_degC` are null or point to `len` readable numbers. `log_reduction` is null or may be written.
/// `error` is null, or came from `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
pub unsafe extern "C" fn poulter_lethality(
    elapsed_s: *const f64,
    temp_degC: *const f64,
    len: usize,
    scheme: u32,
    log_reduction: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about both arrays is the same.
            let seconds = array_in(elapsed_s, len, "elapsed_s")?;
            // SAFETY: as above.
            let readings = array_in(temp_degC, len, "temp_degC")?;
            if log_reduction.is_null() {
                return Err(CallError::null("log_reduction"));
            }
            let found = kill(seconds, readings, scheme)?;
            // SAFETY: not null, and writable by the caller's word.
            log_reduction.write(found);
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use std::ptr;

    use super::*;

    #[test]
    fn a_row_of_the_table_held_for_its_time_is_its_target() {
        // FSA: 70 °C for 2 min. FSIS, meat: 140 °F (60 °C) for 12 min.
        for (number, celsius, seconds, target) in [
            (Scheme::Uk, 70.0, 120.0, 6.0),
            (Scheme::Meat, 60.0, 720.0, 6.5),
        ] {
            let found = kill(&[0.0, seconds], &[celsius, celsius], number as u32).unwrap();
            assert!((found - target).abs() < 1e-9, "{found}");
        }
    }

    #[test]
    fn null_and_long_arrays_and_unknown_schemes_are_refused() {
        let (times, readings) = ([0.0, 60.0], [60.0, 61.0]);
        let mut out = -1.0;
        let null = ptr::null();
        for (t, x, len, number, status) in [
            (null, readings.as_ptr(), 2, 1, 1),
            (times.as_ptr(), null, 2, 1, 1),
            (times.as_ptr(), readings.as_ptr(), usize::MAX / 8, 1, 108),
            (times.as_ptr(), readings.as_ptr(), 2, 0, 105),
            (times.as_ptr(), readings.as_ptr(), 2, 6, 105),
            (times.as_ptr(), readings.as_ptr(), 1, 1, 106),
        ] {
            // SAFETY: a length beyond the arrays is refused before they are read.
            let found =
                unsafe { poulter_lethality(t, x, len, number, &raw mut out, ptr::null_mut()) };
            assert_eq!((found, out.to_bits()), (status, (-1.0_f64).to_bits()));
        }
    }
}
