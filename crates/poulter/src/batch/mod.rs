//! Many logs judged at once, on all cores.
//!
//! A [`LogsQuestion`] is one of the checks of [`crate::records`] without its log; a [`LogTable`] holds the rows of
//! any number of logs. [`LogsQuestion::judge`] gives one row for each log: the verdict with what decided it, and the
//! estimates of kill and growth beside it. Each log is judged by the same code as a single one, so the answers are
//! the same, and they do not depend on how many cores there are.
//!
//! ```
//! use poulter::batch::{LogRows, LogTable, LogsQuestion, TableReadings};
//! use poulter::log::{ColumnSlice, Place};
//! use poulter::rules::Verdict;
//! use poulter::units::TemperatureUnit;
//! let question = serde_json::json!({"check": "cooking", "cut": "boneless-breast"});
//! let columns = [ColumnSlice {
//!     place: Place::CORE,
//!     unit: TemperatureUnit::Fahrenheit,
//!     temperatures: &[160.0, 165.0, 160.0, 164.9],
//! }];
//! let table = LogTable {
//!     rows: LogRows::EndToEnd(&[0, 2, 4]),
//!     elapsed_s: &[0.0, 60.0, 0.0, 60.0],
//!     readings: TableReadings::Columns(&columns),
//! };
//! let answer = LogsQuestion::from_value(question)?.judge(&table)?;
//! assert_eq!(answer.verdict, [Verdict::Meets, Verdict::Fails]);
//! assert_eq!(answer.reached_s[0], 60.0);
//! # Ok::<(), poulter::Error>(())
//! ```

mod judge;
mod question;
mod row;
mod table;

pub use question::LogsQuestion;
pub use row::{LogVerdict, LogVerdicts};
pub use table::{LogRows, LogTable, TableReadings};
