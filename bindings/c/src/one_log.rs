//! A log of one place in arrays of the caller's, checked before a figure is taken from it.

use poulter_core::log::{
    ColumnSlice, ElapsedSlice, LogChecks, LogFaults, Place, SoundLog, TemperatureLog,
};
use poulter_core::units::TemperatureUnit;
use poulter_core::{Error, ErrorKind};

/// What `figure` takes from a log without a fault.
pub(crate) fn of_sound_log(
    elapsed_s: &[f64],
    temp_degc: &[f64],
    figure: impl FnOnce(&SoundLog<'_>) -> Result<f64, Error>,
) -> Result<f64, Error> {
    let log = TemperatureLog::from_slices(ElapsedSlice { elapsed_s }, &[core(temp_degc)])?;
    let sound = log.sound(&LogChecks::default()).map_err(|f| refused(&f))?;
    figure(&sound)
}

/// Readings of the core.
pub(crate) const fn core(temp_degc: &[f64]) -> ColumnSlice<'_> {
    ColumnSlice {
        place: Place::CORE,
        unit: TemperatureUnit::Celsius,
        temperatures: temp_degc,
    }
}

/// The refusal of a log at fault.
pub(crate) fn refused(faults: &LogFaults) -> Error {
    let expected = "readings forward in time without a gap or a missing value are needed";
    Error::new(ErrorKind::OutOfRange, faults, expected).at("temp_degC")
}
