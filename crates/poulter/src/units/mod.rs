//! Quantities: exact integers with the unit they were written in.
//!
//! A verdict must be right at the line. 41 °F is 5 °C, yet in 64-bit kelvin the two differ in the last bit, so
//! every quantity here is an integer count of a step small enough to hold both the metric and the US units
//! exactly. Physics takes over through [`uom`]: each type converts to and from its `uom` twin.
//!
//! | type | step | units on the wire |
//! |---|---|---|
//! | [`Temperature`] | 1/9 millikelvin | `degC degF K` |
//! | [`TemperatureDifference`] | 1/9 millikelvin | `delta_degC delta_degF K` |
//! | [`Duration`] | 1 millisecond | `s min h d` |
//! | [`Mass`] | 1 nanogram | `mg g kg oz lb` |
//! | [`Volume`] | 1/100 picolitre | `mL L tsp tbsp cup floz qt gal` |
//! | [`Length`] | 1 micrometre | `mm cm m in ft` |
//! | [`Fraction`] | 10⁻⁹ | `% 1` |
//!
//! On the wire a quantity is `{"value": 14, "unit": "lb"}`. Input also takes text: "14 lb", "4 lb 8 oz",
//! "5 h 30 min", "4½ h", "165 °F".

mod any;
mod arithmetic;
mod convert;
mod decimal;
mod quantity;
mod ratio;
mod style;
mod temperature;
mod wire;

pub use any::AnyQuantity;
pub use convert::{Unit, convert, convert_all};
pub use quantity::{
    Duration, DurationUnit, Fraction, FractionUnit, Length, LengthUnit, Mass, MassUnit,
    TemperatureDifference, TemperatureDifferenceUnit, Volume, VolumeUnit,
};
pub use style::{HourClock, UnitSystem};
pub use temperature::{ExactTemperature, Temperature, TemperatureUnit};
pub(crate) use wire::{decode_error, encode_error};
