//! What a rule asks: one variant for each shape that the published texts take.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::bird::Place;
use crate::units::{Duration, Fraction, Length, Mass, Temperature, TemperatureDifference, Volume};

use super::verdict::{TemperatureLimit, TimeLimit};

/// A temperature that must hold for a time, as an alternative to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoldPoint {
    /// The core temperature.
    pub temperature: Temperature,
    /// How long it must hold; zero when it counts at once.
    pub hold: Duration,
}

/// From when the time of a cooling stage is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CountedFrom {
    /// From the start of the first stage: a quick first stage buys time later.
    FirstStage,
    /// From the start of this stage: nothing carries over.
    ThisStage,
}

/// One stage of a cooling rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolingStage {
    /// Where the stage starts.
    pub from: Temperature,
    /// Where it ends.
    pub to: TemperatureLimit,
    /// In what time.
    pub within: TimeLimit,
    /// From when that time is counted.
    pub counted_from: CountedFrom,
}

/// How separate periods out of control are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Counting {
    /// All periods together.
    Cumulative,
    /// Each period by itself.
    Single,
    /// One period only; a second one is not allowed.
    Once,
}

/// One row of a table by mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MassRow {
    /// Smallest mass of the row.
    pub from: Mass,
    /// Largest mass of the row.
    pub to: Mass,
    /// The shorter printed time.
    pub low: Duration,
    /// The longer printed time.
    pub high: Duration,
}

/// Where food is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Keeping {
    /// In the refrigerator.
    Refrigerator,
    /// In the freezer.
    Freezer,
}

/// The shape of a rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "type", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Requirement {
    /// A core temperature to reach at every place named, held where `hold` says so; or any of `equivalents`.
    MinimumTemperature {
        /// The places that must all reach it; empty when the rule names none.
        #[serde(default)]
        places: Vec<Place>,
        /// The limit.
        limit: TemperatureLimit,
        /// How long the limit must hold.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hold: Option<TimeLimit>,
        /// Other pairs of temperature and time that count as the same.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        equivalents: Vec<HoldPoint>,
    },
    /// A temperature to stay on one side of: cold holding, hot holding, oven floor, water.
    Temperature {
        /// The limit.
        limit: TemperatureLimit,
    },
    /// A longest or shortest time.
    Time {
        /// The limit.
        limit: TimeLimit,
        /// Applies only where the surroundings are as stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        surroundings: Option<TemperatureLimit>,
        /// How separate periods count.
        counting: Counting,
        /// What to do with the food past the limit.
        then: String,
    },
    /// Time in place of temperature: start, ceiling on the way, and end.
    TimeAsControl {
        /// Where the food must start.
        start: TemperatureLimit,
        /// The warmest part must stay on this side all along.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ceiling: Option<TemperatureLimit>,
        /// The limit.
        limit: TimeLimit,
    },
    /// Cooling in stages.
    StagedCooling {
        /// The stages in order.
        stages: Vec<CoolingStage>,
    },
    /// How long food keeps.
    Keep {
        /// Where.
        keeping: Keeping,
        /// The shorter printed time.
        low: Duration,
        /// The longer printed time.
        high: Duration,
        /// True where the time is about quality and the food stays safe beyond it.
        quality_only: bool,
    },
    /// A temperature setting to move by a difference.
    SettingChange {
        /// The difference; negative for a lower setting.
        by: TemperatureDifference,
    },
    /// A time for each step of mass.
    TimePerMass {
        /// The time …
        time: Duration,
        /// … for each of this mass.
        per: Mass,
        /// The longer time where the source prints a range.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        time_high: Option<Duration>,
        /// A fixed time on top.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        plus: Option<Duration>,
        /// The smallest mass it is printed for.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from: Option<Mass>,
        /// The largest mass it is printed for.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        to: Option<Mass>,
        /// Oven, chamber, oil or surroundings it is for; the lower end where the source prints a range.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting: Option<Temperature>,
        /// The upper end of that range.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting_high: Option<Temperature>,
    },
    /// A table of times by mass.
    TimeByMass {
        /// Oven setting or surroundings the table is for.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting: Option<Temperature>,
        /// The rows in order of mass.
        rows: Vec<MassRow>,
    },
    /// A range of time.
    TimeRange {
        /// The shorter time.
        low: Duration,
        /// The longer time.
        high: Duration,
        /// Oven, chamber or oil it is for; the lower end where the source prints a range.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting: Option<Temperature>,
        /// The upper end of that range.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        setting_high: Option<Temperature>,
    },
    /// A factor on another rule's time.
    AtLeastTimes {
        /// The factor.
        factor: Fraction,
        /// Applies only from this height above the sea.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from_altitude: Option<Length>,
    },
    /// Food to buy or make for each person.
    MassPerPerson {
        /// The smaller amount.
        low: Mass,
        /// The larger amount.
        high: Mass,
    },
    /// Volume for each person.
    VolumePerPerson {
        /// The smaller amount.
        low: Volume,
        /// The larger amount.
        high: Volume,
    },
    /// A share of a mass.
    Share {
        /// The smaller share.
        low: Fraction,
        /// The larger share.
        high: Fraction,
    },
    /// A volume of one thing for a mass of another.
    VolumePerMass {
        /// The volume …
        volume: Volume,
        /// … for each of this mass.
        per: Mass,
    },
    /// A volume of one thing for a volume of another.
    VolumePerVolume {
        /// The volume …
        volume: Volume,
        /// … for each of this volume.
        per: Volume,
    },
    /// The greatest depth or thickness of food in a pan or container.
    DepthLimit {
        /// The greatest depth.
        to: Length,
    },
    /// A mass range that a method is made for.
    MassLimit {
        /// The smallest mass; none when the source sets none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from: Option<Mass>,
        /// The largest mass.
        to: Mass,
    },
    /// What to do.
    Do {
        /// The instruction.
        text: String,
    },
    /// What never to do.
    Never {
        /// What is not allowed.
        text: String,
        /// Why.
        why: String,
    },
}
