//! What can be wrong with a log.

use std::fmt;

use schemars::JsonSchema;
use serde::Serialize;

use crate::units::{Duration, TemperatureDifference};

use super::Place;

/// One kind of fault.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "fault", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Fault {
    /// Fewer than two rows, or no place: nothing lasted any time.
    TooShort,
    /// A row without a readable time from 0 to 20 years.
    NoTime,
    /// A row with the time of the row before.
    DuplicateTime,
    /// A row earlier than a row before it.
    BackwardTime,
    /// Too long a time since the row before.
    Gap {
        /// The longest such time.
        lasted: Duration,
    },
    /// A row without a readable temperature.
    NoReading,
    /// A temperature outside −200 °C to 600 °C.
    OutOfRange,
    /// A change faster than a probe in food can follow.
    Jump {
        /// The largest such change.
        change: TemperatureDifference,
    },
    /// The same reading to the last digit for too long.
    FlatLine {
        /// How long it stayed the same.
        lasted: Duration,
    },
    /// Readings that make sense only in another unit.
    UnitMixUp {
        /// The unit the column claims.
        stored: &'static str,
        /// The unit the readings look like.
        suspected: &'static str,
    },
    /// Readings that make sense in another unit too.
    UnitDoubtful {
        /// The unit the column claims.
        stored: &'static str,
        /// The other unit.
        possible: &'static str,
    },
    /// Steps too large for the straight line between readings to be trusted.
    CoarseSampling {
        /// The largest step.
        largest: TemperatureDifference,
    },
}

impl Fault {
    /// True when nothing may be concluded from the log; false when a conclusion needs a caution beside it.
    #[must_use]
    pub const fn blocks(&self) -> bool {
        !matches!(
            self,
            Self::CoarseSampling { .. } | Self::UnitDoubtful { .. }
        )
    }

    /// The name on the wire.
    ///
    /// ```
    /// assert_eq!(poulter::log::Fault::NoReading.name(), "no-reading");
    /// ```
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::TooShort => "too-short",
            Self::NoTime => "no-time",
            Self::DuplicateTime => "duplicate-time",
            Self::BackwardTime => "backward-time",
            Self::Gap { .. } => "gap",
            Self::NoReading => "no-reading",
            Self::OutOfRange => "out-of-range",
            Self::Jump { .. } => "jump",
            Self::FlatLine { .. } => "flat-line",
            Self::UnitMixUp { .. } => "unit-mix-up",
            Self::UnitDoubtful { .. } => "unit-doubtful",
            Self::CoarseSampling { .. } => "coarse-sampling",
        }
    }
}

/// A fault with the rows where it was found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LogFault {
    /// The place, or nothing when the whole row is at fault.
    pub place: Option<Place>,
    /// The first row at fault, counted from 1 below the heading.
    pub first_row: usize,
    /// The last row at fault of the same run.
    pub last_row: usize,
    /// What is wrong.
    #[serde(flatten)]
    pub fault: Fault,
}

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}, ")?;
        }
        if self.first_row == self.last_row {
            write!(f, "row {}: ", self.first_row)?;
        } else {
            write!(f, "rows {} to {}: ", self.first_row, self.last_row)?;
        }
        match &self.fault {
            Fault::TooShort => f.write_str("two rows and a place are needed"),
            Fault::NoTime => f.write_str("no readable time"),
            Fault::DuplicateTime => f.write_str("the same time as the row before"),
            Fault::BackwardTime => f.write_str("earlier than a row before"),
            Fault::Gap { lasted } => write!(f, "nothing recorded for {}", lasted.shown()),
            Fault::NoReading => f.write_str("no readable temperature"),
            Fault::OutOfRange => f.write_str("outside -200 °C to 600 °C"),
            Fault::Jump { change } => write!(f, "a jump of {}", change.shown()),
            Fault::FlatLine { lasted } => write!(f, "unchanged for {}", lasted.shown()),
            Fault::UnitMixUp { stored, suspected } => {
                write!(f, "recorded as {stored} but looks like {suspected}")
            }
            Fault::UnitDoubtful { stored, possible } => {
                write!(
                    f,
                    "recorded as {stored}, but food may read so in {possible} too; make sure of the unit"
                )
            }
            Fault::CoarseSampling { largest } => {
                write!(f, "steps up to {} between readings", largest.shown())
            }
        }
    }
}

/// Every fault of a log that cannot be used, and the cautions beside them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(transparent)]
pub struct LogFaults(pub Vec<LogFault>);

impl fmt::Display for LogFaults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, fault) in self.0.iter().enumerate() {
            if at > 0 {
                f.write_str("; ")?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for LogFaults {}
