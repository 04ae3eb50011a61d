//! Growth along a log, from arrays of the caller's.

use poulter_core::growth::{GrowthModel as CoreModel, GrowthRequest};
use poulter_core::{Error, ErrorKind};

use crate::boundary::{array_in, report};
use crate::error::CallError;
use crate::one_log::of_sound_log;

use crate::status::StatusNumber;

/// An organism in a food whose rate of growth a source gives. Every one is experimental.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum GrowthModel {
    /// Clostridium perfringens in roasted chicken without nitrite.
    PerfringensRoastedChicken = 1,
}

fn model(number: u32) -> Result<CoreModel, Error> {
    if number == GrowthModel::PerfringensRoastedChicken as u32 {
        return Ok(CoreModel::PerfringensRoastedChicken);
    }
    let expected = "one of POULTER_GROWTH_MODEL_* is needed";
    Err(Error::new(ErrorKind::UnknownValue, number, expected).at("model"))
}

fn growth(elapsed_s: &[f64], temp_degc: &[f64], number: u32) -> Result<f64, Error> {
    let model = model(number)?;
    of_sound_log(elapsed_s, temp_degc, |log| {
        let found = GrowthRequest::new(model).assess(log)?;
        let bounds = found
            .places
            .iter()
            .map(|place| place.without_lag.as_log10());
        Ok(bounds.fold(0.0, f64::max))
    })
}

/// Adds up growth along a log of one place, in powers of ten, without lag and without a ceiling: the careful bound.
///
/// The arrays are as for `poulter_lethality`, and a log at fault is refused in the same way. `model` is one of
/// POULTER_GROWTH_MODEL_*. The figure explains and is no verdict. `error` may be NULL.
///
/// # Safety
/// `elapsed_s` and `temp_degC` are null or point to `len` readable numbers. `log_growth` is null or may be written.
/// `error` is null, or came from `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
pub unsafe extern "C" fn poulter_growth(
    elapsed_s: *const f64,
    temp_degC: *const f64,
    len: usize,
    model: u32,
    log_growth: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about both arrays is the same.
            let seconds = array_in(elapsed_s, len, "elapsed_s")?;
            // SAFETY: as above.
            let readings = array_in(temp_degC, len, "temp_degC")?;
            if log_growth.is_null() {
                return Err(CallError::null("log_growth"));
            }
            let found = growth(seconds, readings, model)?;
            // SAFETY: not null, and writable by the caller's word.
            log_growth.write(found);
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_at_one_temperature_is_the_published_rate() {
        // 40 °C: 4.914 550 057 natural logarithms an hour, computed in Python from the published parameters.
        let elapsed_s: Vec<f64> = (0..=60).map(|minute| f64::from(minute) * 60.0).collect();
        // A ripple of two thousandths of a degree, so that the probe does not look stuck.
        let readings: Vec<f64> = (0..=60)
            .map(|minute| 40.0 + f64::from(minute % 2) * 0.002)
            .collect();
        let found = growth(&elapsed_s, &readings, 1).unwrap() * std::f64::consts::LN_10;
        assert!((found - 4.914_550_057).abs() < 1e-3, "{found}");
        assert_eq!(
            growth(&elapsed_s, &readings, 0).unwrap_err().field(),
            "model"
        );
        assert_eq!(
            growth(&elapsed_s[..1], &readings[..1], 1)
                .unwrap_err()
                .field(),
            "temp_degC"
        );
    }
}
