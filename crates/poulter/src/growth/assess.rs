//! What a log says of growth, place by place.

use std::borrow::Cow;
use std::f64::consts::LN_10;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::SerializeStruct;
use serde::{Deserialize, Serialize, Serializer};

use crate::error::{Error, ErrorKind};
use crate::lethality::{NumberSource, ReadingStatus};
use crate::log::{LogFault, Place, Room, Run, SoundLog, Trace};
use crate::units::{ExactTemperature, Temperature, TemperatureUnit};

use super::baranyi::Lag;
use super::kernel;
use super::rate::{CardinalRate, SquareRootRate, celsius_of_steps};

const MS_PER_HOUR: f64 = 3.6e6;

const fn celsius(thousandths: i64) -> Temperature {
    Temperature::from_exact(
        ExactTemperature::from_millicelsius(thousandths),
        TemperatureUnit::Celsius,
    )
}

/// Clostridium perfringens in roasted chicken while cooling: one-step analysis of changing temperatures, Food
/// Control (roasted chicken and braised beef). Read in the abstract; that the fit used the cardinal form is
/// recalled. The fit leaves 0.2 to 0.3 log10, and 94 % of the residuals lie within 0.5 log10.
const PERFRINGENS_ROASTED_CHICKEN: CardinalRate = CardinalRate {
    lowest: celsius(8_800),
    best: celsius(46_400),
    highest: celsius(51_500),
    best_rate_per_h: 6.06,
};

/// An organism in a food, or a rate of the caller's.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "model", rename_all = "kebab-case", deny_unknown_fields)]
#[non_exhaustive]
pub enum GrowthModel {
    /// Clostridium perfringens in roasted chicken without nitrite. Experimental: the published parameters without
    /// lag exceed the growth that the cooling rules themselves allow.
    PerfringensRoastedChicken,
    /// A cardinal temperature model of the caller's.
    Cardinal(CardinalRate),
    /// A square root model of the caller's.
    SquareRoot(SquareRootRate),
}

/// What to work out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GrowthRequest {
    /// The organism and food.
    pub model: GrowthModel,
    /// The initial state, for a figure with lag beside the one without.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lag: Option<Lag>,
}

/// Growth in powers of ten. On the wire it is `{"value": 1, "unit": "log10"}`.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct LogGrowth(f64);

/// What the log says of one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlaceGrowth {
    /// The place.
    pub place: Place,
    /// Growth without lag and without a ceiling: the careful bound, to be shown first.
    pub without_lag: LogGrowth,
    /// Growth with the lag and the ceiling asked for.
    pub with_lag: Option<LogGrowth>,
}

/// What the log says of growth.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Growth {
    /// The organism and food.
    pub model: GrowthModel,
    /// True for every model here: a figure that explains and never passes food.
    pub is_experimental: bool,
    /// Where the parameters come from.
    pub citation: NumberSource,
    /// Every place inside the food.
    pub places: Vec<PlaceGrowth>,
    /// The place with the most growth: the one that decides.
    pub governing: Place,
    /// What must stand beside the figures.
    pub cautions: Vec<LogFault>,
}

impl GrowthModel {
    pub(crate) fn check(&self) -> Result<(), Error> {
        match self {
            Self::PerfringensRoastedChicken => Ok(()),
            Self::Cardinal(own) => own.check(),
            Self::SquareRoot(own) => own.check(),
        }
    }

    pub(crate) fn citation(&self) -> NumberSource {
        match self {
            Self::PerfringensRoastedChicken => NumberSource {
                document: "Food Control, one-step dynamic analysis of Clostridium perfringens in roasted chicken and \
                           braised beef",
                section: "abstract: Tmin 8.8, Topt 46.4, Tmax 51.5 °C, 6.06 an hour; cardinal form recalled",
                status: ReadingStatus::Memory,
            },
            Self::Cardinal(_) | Self::SquareRoot(_) => NumberSource {
                document: "given by the caller",
                section: "",
                status: ReadingStatus::Caller,
            },
        }
    }

    /// M over a log, in natural logarithms.
    pub(crate) fn integral(&self, trace: Trace<'_>) -> f64 {
        let closed = self
            .cardinal()
            .and_then(|rate| kernel::integrate_trace(rate, trace));
        let one_by_one = || {
            let mut room = Room::EMPTY;
            let of_run = |run: Run<'_>| {
                let (clock, steps) = run.read(&mut room);
                self.segments(clock, steps)
            };
            trace.runs().map(of_run).sum()
        };
        closed.unwrap_or_else(one_by_one) / MS_PER_HOUR
    }

    /// The same over columns of milliseconds and of steps.
    pub(crate) fn over(&self, clock: &[f64], steps: &[f64]) -> f64 {
        let closed = self
            .cardinal()
            .and_then(|rate| kernel::integrate(rate, clock, steps));
        closed.unwrap_or_else(|| self.segments(clock, steps)) / MS_PER_HOUR
    }

    const fn cardinal(&self) -> Option<&CardinalRate> {
        match self {
            Self::PerfringensRoastedChicken => Some(&PERFRINGENS_ROASTED_CHICKEN),
            Self::Cardinal(own) => Some(own),
            Self::SquareRoot(_) => None,
        }
    }

    /// Rate times milliseconds, one segment after another.
    fn segments(&self, clock: &[f64], steps: &[f64]) -> f64 {
        let segments = clock.windows(2).zip(steps.windows(2));
        let of = |(t, x): (&[f64], &[f64])| {
            let (from, to) = (celsius_of_steps(x[0]), celsius_of_steps(x[1]));
            match self {
                Self::PerfringensRoastedChicken => {
                    PERFRINGENS_ROASTED_CHICKEN.integral(t[1] - t[0], from, to)
                }
                Self::Cardinal(own) => own.integral(t[1] - t[0], from, to),
                Self::SquareRoot(own) => own.integral(t[1] - t[0], from, to),
            }
        };
        segments.map(of).sum()
    }
}

impl GrowthRequest {
    /// A request without lag.
    #[must_use]
    pub const fn new(model: GrowthModel) -> Self {
        Self { model, lag: None }
    }

    /// Works the log out, place by place. Places on or round the food are passed over.
    ///
    /// # Errors
    ///
    /// A log without a place inside the food, or parameters of the caller's out of range.
    pub fn assess(&self, log: &SoundLog<'_>) -> Result<Growth, Error> {
        self.model.check().map_err(|e| e.at("model"))?;
        if let Some(lag) = &self.lag {
            lag.check().map_err(|e| e.at("lag"))?;
        }
        let places: Vec<PlaceGrowth> = log
            .inside()
            .map(|(place, trace)| {
                let m = self.model.integral(trace);
                PlaceGrowth {
                    place: place.clone(),
                    without_lag: LogGrowth(m / LN_10),
                    with_lag: self.lag.map(|lag| LogGrowth(lag.growth_log10(m))),
                }
            })
            .collect();
        let most = places
            .iter()
            .max_by(|a, b| a.without_lag.0.total_cmp(&b.without_lag.0));
        let Some(governing) = most.map(|place| place.place.clone()) else {
            return Err(Error::new(
                ErrorKind::MissingField,
                "",
                "a place inside the food is needed, such as breast, thigh or core",
            )
            .at("places"));
        };
        Ok(Growth {
            model: self.model,
            is_experimental: true,
            citation: self.model.citation(),
            places,
            governing,
            cautions: log.cautions().to_vec(),
        })
    }
}

impl LogGrowth {
    pub(crate) const fn of(value: f64) -> Self {
        Self(value)
    }

    /// Powers of ten.
    #[must_use]
    pub const fn as_log10(self) -> f64 {
        self.0
    }
}

impl fmt::Display for LogGrowth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.2} log10", self.0)
    }
}

impl Serialize for LogGrowth {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_struct("LogGrowth", 2)?;
        map.serialize_field("value", &self.0)?;
        map.serialize_field("unit", "log10")?;
        map.end()
    }
}

impl JsonSchema for LogGrowth {
    fn schema_name() -> Cow<'static, str> {
        "LogGrowth".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "object",
            "properties": { "value": { "type": "number" }, "unit": { "const": "log10" } },
            "required": ["value", "unit"],
            "additionalProperties": false
        })
    }
}
