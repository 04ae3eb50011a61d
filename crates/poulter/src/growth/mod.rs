//! Growth of bacteria along a temperature log.
//!
//! A secondary model gives the rate µ(T); the primary model of Baranyi and Roberts turns rate into numbers. With a
//! constant initial state and ceiling the primary model depends on time only through M = ∫ µ(T(t)) dt, so one
//! integral along the log replaces an equation solver.
//!
//! What is shown first is M itself: growth without lag and without a ceiling, the careful bound. Lag can only
//! lower it. Only an organism and a food whose coefficients a source gives are offered, and they are marked
//! experimental; a model explains and never passes food.
//!
//! ```
//! use poulter::growth::{GrowthModel, GrowthRequest};
//! use poulter::log::{LogChecks, TemperatureLog};
//! let log = TemperatureLog::from_csv("elapsed_min,core_temp_degC\n0,54.4\n90,26.7\n390,4.4\n")?;
//! let checks: LogChecks = serde_json::from_str(r#"{"longest_gap": "6 h"}"#).unwrap();
//! let sound = log.sound(&checks).expect("no fault");
//! let answer = GrowthRequest::new(GrowthModel::PerfringensRoastedChicken).assess(&sound)?;
//! assert!((answer.places[0].without_lag.as_log10() - 3.45).abs() < 0.02);
//! # Ok::<(), poulter::Error>(())
//! ```

mod assess;
mod baranyi;
mod kernel;
mod rate;

pub use assess::{Growth, GrowthModel, GrowthRequest, LogGrowth, PlaceGrowth};
pub use baranyi::Lag;
pub use rate::{CardinalRate, SquareRootRate};
