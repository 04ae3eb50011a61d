//! Thermal lethality: the reduction of bacteria that a temperature log stands for.
//!
//! Two readings of a log are kept apart. The *dwell* is the literal one: was some row of the published table held
//! for its printed time without a break? The *estimate* adds up kill over the whole log:
//! LR = ∫ dt / D(T), exact for straight lines between readings. For a table the logarithm of time is linear in
//! temperature between rows, there is no credit below the first row, and the rate stops rising at the last row
//! with a time. An estimate explains; it is not a verdict.
//!
//! A [`Scheme`] holds a target together with the temperatures and rates that belong to it, so that one scheme's
//! numbers never meet another's target. The place with the least kill decides, never the mean.
//!
//! ```
//! use poulter::lethality::{DwellOutcome, LethalityRequest, Scheme};
//! use poulter::log::{LogChecks, TemperatureLog};
//! let log = TemperatureLog::from_csv("elapsed_s,breast_temp_degF\n0,150\n294,150\n")?;
//! let checks = LogChecks::default();
//! let sound = log.sound(&checks).expect("no fault");
//! let answer = LethalityRequest::new(Scheme::Poultry7Log).assess(&sound)?;
//! assert_eq!(answer.places[0].shown, "at least 7 log10");
//! assert!(matches!(answer.places[0].dwell, DwellOutcome::Met { .. }));
//! # Ok::<(), poulter::Error>(())
//! ```

mod assess;
mod batch;
mod curve;
mod kernel;
mod reduction;
mod scheme;
mod tables;

pub use assess::{DwellOutcome, Lethality, LethalityRequest, PlaceLethality, RowHold};
pub(crate) use batch::Prepared;
pub use batch::{BatchLethality, KillColumns, LogBatch};
pub use reduction::LogReduction;
pub use scheme::{DecimalReduction, Scheme};
pub use tables::{NumberSource, ReadingStatus};
