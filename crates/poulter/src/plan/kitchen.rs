//! The kitchen: ovens, refrigerator, sinks and cooler, and the hours of those who work in it.

use std::collections::BTreeMap;

use jiff::civil::{Date, Time};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::messages::fill;
use crate::roast::Oven;
use crate::units::{Duration, Length, Temperature, TemperatureDifference, Volume};

use super::moment::Moment;

/// The kitchen.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Kitchen {
    /// Measured temperature of the refrigerator.
    #[serde(default)]
    pub refrigerator: Option<Temperature>,
    /// Free room in the refrigerator; taken as enough when left out, and the plan says so.
    #[serde(default)]
    pub refrigerator_room: Option<Volume>,
    /// Free room on single days, where it differs.
    #[serde(default)]
    pub refrigerator_days: Vec<DayRoom>,
    /// The oven, where there is one that holds every bird; not together with `ovens`.
    #[serde(default)]
    pub oven: Oven,
    /// The ovens, where there are several or where what one holds matters.
    #[serde(default)]
    pub ovens: Vec<KitchenOven>,
    /// Sinks or tubs for thawing in water, each for the birds of one line of the order; one when left out.
    #[serde(default)]
    pub sinks: Option<u32>,
    /// An insulated box with ice, in which a bird may lie in its brine.
    #[serde(default)]
    pub cooler: Option<Cooler>,
    /// Height above the sea.
    #[serde(default)]
    pub altitude: Option<Length>,
}

/// One of the ovens.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KitchenOven {
    /// What it is called; its number when left out.
    #[serde(default)]
    pub name: Option<String>,
    /// How much hotter it runs than its dial says; negative when it runs cold.
    #[serde(default)]
    pub offset: Option<TemperatureDifference>,
    /// Whether a fan moves the air.
    #[serde(default)]
    pub fan: bool,
    /// How many birds it holds at once; as many as a line of the order has when left out.
    #[serde(default)]
    pub birds_at_once: Option<u32>,
    /// How many dishes it holds at once, at one temperature; one when left out.
    #[serde(default)]
    pub dishes_at_once: Option<u32>,
}

impl Kitchen {
    /// The ovens; the one of `oven` holds every bird of a line.
    pub(super) fn every_oven(&self) -> Vec<KitchenOven> {
        if !self.ovens.is_empty() {
            return self.ovens.clone();
        }
        vec![KitchenOven {
            offset: self.oven.offset,
            fan: self.oven.fan,
            ..KitchenOven::default()
        }]
    }

    /// The place of an oven by its name, or its number from 1.
    pub(super) fn oven_called(&self, name: &str) -> Option<usize> {
        let ovens = self.every_oven();
        let named = |oven: &KitchenOven| oven.name.as_deref() == Some(name);
        ovens.iter().position(named).or_else(|| {
            let number: usize = name.parse().ok()?;
            (1..=ovens.len()).contains(&number).then(|| number - 1)
        })
    }

    /// What an oven is called: its name, or its number.
    pub(super) fn oven_name(&self, place: usize) -> String {
        let name = self.ovens.get(place).and_then(|oven| oven.name.clone());
        name.unwrap_or_else(|| fill("oven-number", &[("number", &(place + 1))]))
    }
}

/// Free room in the refrigerator on one day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DayRoom {
    /// The day by the clock of the serving time.
    #[schemars(with = "String")]
    pub day: Date,
    /// The free room.
    pub room: Volume,
}

/// An insulated box with ice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cooler {
    /// What it holds.
    pub room: Volume,
}

/// The cook's hours and pace.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cook {
    /// When the cook sleeps, by the clock; 22:00 to 7:00 when left out.
    #[serde(default)]
    pub asleep: Option<Sleep>,
    /// The hours that the cook has for it; every waking hour when left out.
    #[serde(default)]
    pub free: Vec<Block>,
    /// Hands-on time of steps by their id, such as `prepare` or `carve`, where the cook is slower or quicker.
    #[serde(default)]
    pub hands_on: BTreeMap<String, Duration>,
}

/// Hours of sleep by the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sleep {
    /// When it begins, such as `22:00`.
    #[schemars(with = "String")]
    pub from: Time,
    /// When it ends, such as `07:00`.
    #[schemars(with = "String")]
    pub to: Time,
}

/// A stretch of time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Block {
    /// When it begins.
    pub from: Moment,
    /// When it ends.
    pub to: Moment,
}

/// A class that cooks together. Every station is a kitchen of its own as described, but for the refrigerator, which
/// all share.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Class {
    /// How many students.
    pub students: u32,
    /// How many stations.
    pub stations: u32,
    /// Birds of each line of the order at a station; one when left out.
    #[serde(default)]
    pub birds_per_station: Option<u32>,
    /// When the class meets: what falls outside is the teacher's to do.
    pub lessons: Vec<Block>,
}
