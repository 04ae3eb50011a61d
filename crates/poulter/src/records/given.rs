//! What every check of a log is given.

use std::borrow::Cow;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::log::{LogChecks, LogColumns, Place, PlaceColumn, PlaceRole, TemperatureLog};
use crate::rules::{Case, Comparison, TemperatureLimit};
use crate::units::{Temperature, TemperatureDifference};

/// A log as columns that share one clock, or as CSV text.
///
/// ```
/// use poulter::records::GivenLog;
/// let log: GivenLog = serde_json::from_str(r#"{"csv": "elapsed_s,core_temp_degC\n0,4\n60,5\n"}"#).unwrap();
/// assert_eq!(log.read()?.len(), 2);
/// assert_eq!(GivenLog::default().read().unwrap_err().field(), "log");
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenLog {
    /// Seconds since the log began, with `places`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elapsed_s: Option<Vec<f64>>,
    /// One column a place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub places: Option<Vec<PlaceColumn>>,
    /// Text as [`TemperatureLog::from_csv`] reads it, in place of columns.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub csv: Option<String>,
    /// A log that is read already, in place of all three; not part of the wire.
    #[serde(skip)]
    pub log: Option<TemperatureLog>,
}

impl GivenLog {
    /// Reads the log, faults and all.
    ///
    /// # Errors
    ///
    /// Columns together with text, neither of them, or what [`TemperatureLog::from_columns`] and
    /// [`TemperatureLog::from_csv`] refuse.
    pub fn read(&self) -> Result<Cow<'_, TemperatureLog>, Error> {
        if let Some(log) = &self.log {
            return Ok(Cow::Borrowed(log));
        }
        let refuse = |kind| {
            let expected = "either csv, or elapsed_s with places, is needed";
            Err(Error::new(kind, "", expected).at("log"))
        };
        match (&self.elapsed_s, &self.places, &self.csv) {
            (None, None, Some(text)) => {
                let log = TemperatureLog::from_csv(text);
                Ok(Cow::Owned(log.map_err(|error| error.at("log.csv"))?))
            }
            (Some(elapsed_s), Some(places), None) => {
                let columns = LogColumns {
                    elapsed_s: elapsed_s.clone(),
                    places: places.clone(),
                };
                let log = TemperatureLog::from_columns(&columns);
                Ok(Cow::Owned(log.map_err(|error| error.at("log"))?))
            }
            (_, _, Some(_)) => refuse(ErrorKind::Conflict),
            _ => refuse(ErrorKind::MissingField),
        }
    }
}

/// The common part of a request, read and checked.
pub(crate) struct Given<'a> {
    pub(crate) log: Cow<'a, TemperatureLog>,
    pub(crate) checks: LogChecks,
    pub(crate) accuracy: TemperatureDifference,
    pub(crate) case: Case<'a>,
    /// False where the estimates beside a verdict are worked out elsewhere.
    pub(crate) explains: bool,
}

/// The widest error of a thermometer that is accepted, the same as for a lethality.
const WIDEST_ACCURACY: i64 = 10 * 9_000;

impl<'a> Given<'a> {
    pub(crate) fn new(
        log: &'a GivenLog,
        checks: LogChecks,
        accuracy: Option<TemperatureDifference>,
        case: Case<'a>,
    ) -> Result<Self, Error> {
        let mut given = Self::without_log(checks, accuracy, case)?;
        given.log = log.read()?;
        Ok(given)
    }

    /// Everything but the log, which is empty and to be filled in.
    pub(crate) fn without_log(
        checks: LogChecks,
        accuracy: Option<TemperatureDifference>,
        case: Case<'a>,
    ) -> Result<Self, Error> {
        let accuracy = accuracy.unwrap_or(TemperatureDifference::ZERO);
        if !(0..=WIDEST_ACCURACY).contains(&accuracy.steps()) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                accuracy,
                "an accuracy from 0 to 10 kelvin (18 delta_degF) is needed",
            )
            .at("accuracy"));
        }
        Ok(Self {
            log: Cow::Owned(TemperatureLog::EMPTY),
            checks,
            accuracy,
            case,
            explains: true,
        })
    }

    pub(super) fn places(&self, keep: impl Fn(&Place) -> bool) -> Vec<Place> {
        self.log.places().filter(|p| keep(p)).cloned().collect()
    }

    pub(crate) fn inside(&self) -> Vec<Place> {
        self.places(|place| place.role() == PlaceRole::Inside)
    }

    /// A reading with the thermometer's error taken on the unsafe side of a limit.
    pub(super) fn sure(&self, limit: &TemperatureLimit, reading: Temperature) -> Temperature {
        match limit.is {
            Comparison::AtLeast | Comparison::Above => {
                reading.raised_by(TemperatureDifference::ZERO.minus(self.accuracy))
            }
            Comparison::AtMost | Comparison::Below => reading.raised_by(self.accuracy),
        }
    }

    /// A limit moved by the thermometer's error, so that readings may be compared with it as they are.
    pub(super) fn moved(&self, limit: &TemperatureLimit) -> Temperature {
        match limit.is {
            Comparison::AtLeast | Comparison::Above => limit.temperature.raised_by(self.accuracy),
            Comparison::AtMost | Comparison::Below => limit
                .temperature
                .raised_by(TemperatureDifference::ZERO.minus(self.accuracy)),
        }
    }
}

/// A request about a log: the log and the fields that every check shares, beside its own.
macro_rules! record_check {
    ($(#[$doc:meta])* $name:ident { $( $(#[$field_doc:meta])* $field:ident : $type:ty, )* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            /// The log.
            pub log: $crate::records::GivenLog,
            $( $(#[$field_doc])* pub $field: $type, )*
            /// The limits beyond which the log is at fault.
            #[serde(default)]
            pub checks: $crate::log::LogChecks,
            /// How far the thermometer may be wrong; always taken on the unsafe side.
            #[serde(default)]
            pub accuracy: Option<$crate::units::TemperatureDifference>,
            /// The standard; `us-consumer` when left out.
            #[serde(default = "crate::answer::default::standard")]
            pub standard: String,
            /// The species; turkey when left out.
            #[serde(default = "crate::answer::default::species")]
            pub species: $crate::bird::Species,
            /// The cut; whole when left out.
            #[serde(default = "crate::answer::default::cut")]
            pub cut: $crate::bird::Cut,
            /// A process word of the rules, such as `option-2`.
            #[serde(default)]
            pub process: Option<String>,
            /// The day whose rules are wanted; the rules that hold now when left out.
            #[serde(default)]
            #[schemars(with = "Option<String>")]
            pub on: Option<jiff::civil::Date>,
        }

        impl $name {
            pub(crate) fn given(&self) -> Result<$crate::records::Given<'_>, $crate::Error> {
                let case = self.case();
                $crate::records::Given::new(&self.log, self.checks, self.accuracy, case)
            }

            pub(crate) fn given_without_log(&self) -> Result<$crate::records::Given<'_>, $crate::Error> {
                let case = self.case();
                $crate::records::Given::without_log(self.checks, self.accuracy, case)
            }

            fn case(&self) -> $crate::rules::Case<'_> {
                $crate::rules::Case {
                    standard: &self.standard,
                    species: self.species,
                    cut: self.cut,
                    state: None,
                    process: self.process.as_deref(),
                    on: self.on,
                }
            }
        }
    };
}
pub(crate) use record_check;
