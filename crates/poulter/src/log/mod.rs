//! Temperature logs: readings over time from one or several places, and what can be read off them exactly.
//!
//! A [`TemperatureLog`] keeps what was recorded, faults and all: temperatures as whole ninths of a millikelvin,
//! times as whole milliseconds. Nothing is filled in. [`TemperatureLog::sound`] runs the checks; only a log
//! without a blocking fault becomes a [`SoundLog`], and only a `SoundLog` can be integrated or timed. A fault
//! therefore always ends in "cannot tell", never in an answer built on a guess.
//!
//! Between two readings the temperature is taken to change in a straight line.
//!
//! ```
//! use poulter::log::{LogChecks, TemperatureLog};
//! use poulter::units::Temperature;
//! let log = TemperatureLog::from_csv("elapsed_min,breast_temp_degF\n0,150\n10,160\n20,170\n")?;
//! let sound = log.sound(&LogChecks::default()).expect("no fault");
//! let dwell = sound.longest_dwell(Temperature::parse("165 °F")?..).expect("reached");
//! assert_eq!(dwell.lasted.as_minutes(), 5.0);
//! # Ok::<(), poulter::Error>(())
//! ```

mod build;
mod check;
mod csv;
mod fault;
mod heading;
mod interval;
mod place;
mod snap;
mod sound;
mod spell;
mod survey;
mod trace;
mod unit;
mod values;

pub(crate) use build::check_columns;
pub use build::{ColumnSlice, ElapsedSlice, LogColumns, PlaceColumn, TemperatureLog};
pub use check::LogChecks;
pub use fault::{Fault, LogFault, LogFaults};
pub use heading::Heading;
pub use interval::{CoolingStage, Dwell, Exposure};
pub(crate) use interval::{longest_at_or_above, time_between};
pub use place::{Place, PlaceRole};
pub(crate) use snap::Scale;
pub(crate) use sound::ClearColumn;
pub use sound::SoundLog;
pub(crate) use spell::Rounding;
#[cfg(test)]
pub(crate) use survey::spans_of;
pub(crate) use survey::{EachRun, RUN, Range, Span};
pub(crate) use trace::{RawColumn, Room, Run, Trace};

/// Steps of [`ExactTemperature`](crate::units::ExactTemperature) in a kelvin.
pub(crate) const STEPS_PER_KELVIN: f64 = 9_000.0;
