//! What the oven does while a bird roasts: its settings, how it lags behind them, its door, and foil over the bird.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::math;
use crate::units::{Duration, DurationUnit, Temperature};

use super::boundary::Boundary;
use super::curve::Stretch;
use super::limits::within;
use super::parameters as p;
use super::roast::{RoastSimulationQuery, celsius, fahrenheit};
use super::surroundings::Surroundings;

/// An oven at one setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OvenStage {
    /// True temperature of the oven, 300 °F to 480 °F.
    pub temperature: Temperature,
    /// Whether a fan moves the air.
    #[serde(default)]
    pub fan: bool,
    /// How long; only the last stage may leave it out, and then lasts until the food is done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duration: Option<Duration>,
}

impl OvenStage {
    /// A still oven that stays at this temperature until the food is done.
    #[must_use]
    pub const fn until_done(temperature: Temperature) -> Self {
        Self {
            temperature,
            fan: false,
            duration: None,
        }
    }
}

/// An oven that follows its setting slowly, as one body with a time constant: what is left of a difference shrinks to
/// 37 % in that time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OvenLag {
    /// The time constant, 30 seconds to 1 hour.
    pub time_constant: Duration,
    /// How hot the oven is when the food goes in, 10 °C to 480 °F; as hot as its first setting when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<Temperature>,
}

/// The door stands open, such as for basting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DoorOpening {
    /// When it is opened, from the start of the roast.
    pub at: Duration,
    /// How long it stays open, 1 second to 10 minutes.
    pub duration: Duration,
}

/// Foil laid loosely over the top of the bird.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FoilTent {
    /// When it is put on, from the start of the roast; at the start when left out.
    #[serde(default = "at_once")]
    pub from: Duration,
    /// When it is taken off; never when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<Duration>,
}

const fn at_once() -> Duration {
    Duration::ZERO
}

/// No roast goes on for longer.
const LONGEST_S: f64 = 24.0 * 3600.0;

/// Most settings of the oven, and most openings of its door, in one roast.
const MOST_STAGES: usize = 8;
const MOST_OPENINGS: usize = 24;

const COOLEST_OVEN: Temperature = fahrenheit(300_000);
const HOTTEST_OVEN: Temperature = fahrenheit(480_000);
const COLDEST_START: Temperature = celsius(10_000);
const QUICKEST: Duration = Duration::from_steps(30_000, DurationUnit::Minute);
const SLOWEST: Duration = Duration::from_steps(3_600_000, DurationUnit::Hour);
const BRIEFEST: Duration = Duration::from_steps(1_000, DurationUnit::Second);
const WIDEST: Duration = Duration::from_steps(600_000, DurationUnit::Minute);

/// A lagging oven is taken in pieces of this length at their mean temperature, until it is as near to where it is going.
const PIECE_S: f64 = 60.0;
const NEAR_K: f64 = 0.1;

/// Surroundings of the bird, in order, for a day at most.
///
/// While the door is open the air is that of the room, and an oven with a lag cools toward the room; without one the
/// walls keep their temperature. After it closes, air and walls are one again.
pub(super) fn stretches_of(query: &RoastSimulationQuery) -> Result<Vec<Stretch>, Error> {
    let ends = stage_ends(&query.oven)?;
    let lag_s = query
        .oven_lag
        .map(|lag| lag.time_constant.as_seconds())
        .unwrap_or_default();
    let start = query.oven_lag.and_then(|lag| lag.start);
    let mut walls = start.unwrap_or(query.oven[0].temperature).as_celsius();
    let mut stretches = Vec::with_capacity(query.oven.len());
    let mut stage = 0;
    for pair in breaks(query, &ends).windows(2) {
        let (from, to) = (pair[0], pair[1]);
        while ends[stage] <= from {
            stage += 1;
        }
        let moment = Moment {
            stage: query.oven[stage],
            open: query.door_openings.iter().any(|opening| {
                let begun = opening.at.as_seconds();
                begun <= from && from < begun + opening.duration.as_seconds()
            }),
            tented: query.tent.is_some_and(|tent| {
                let off = tent.until.map_or(f64::INFINITY, Duration::as_seconds);
                tent.from.as_seconds() <= from && from < off
            }),
        };
        moment.add(&mut walls, lag_s, to - from, &mut stretches);
    }
    Ok(stretches)
}

/// One setting with the door open or shut and the foil on or off.
struct Moment {
    stage: OvenStage,
    open: bool,
    tented: bool,
}

impl Moment {
    /// Adds `seconds` of it; `walls` is how hot the oven is, before and after.
    fn add(&self, walls: &mut f64, lag_s: f64, seconds: f64, stretches: &mut Vec<Stretch>) {
        let setting = self.stage.temperature.as_celsius();
        if lag_s <= 0.0 {
            *walls = setting;
            stretches.push(Stretch::after_a_jump(self.around(*walls), seconds));
            return;
        }
        let goal = if self.open { p::KITCHEN_DEGC } else { setting };
        let mut left = seconds;
        let mut jump = true;
        while left > 0.0 {
            let away = *walls - goal;
            let near = away.abs() < NEAR_K;
            let piece = if near { left } else { left.min(PIECE_S) };
            let share_left = if near { 0.0 } else { math::exp(-piece / lag_s) };
            let mean = goal + away * (1.0 - share_left) * lag_s / piece;
            *walls = goal + away * share_left;
            let around = self.around(if near { goal } else { mean });
            stretches.push(Stretch {
                around,
                seconds: piece,
                jump,
            });
            jump = false;
            left -= piece;
        }
    }

    fn around(&self, walls_degc: f64) -> Boundary {
        let mut around = Surroundings::Oven {
            temperature: self.stage.temperature,
            fan: self.stage.fan,
        }
        .boundary();
        around.walls_degc = walls_degc;
        around.air_degc = walls_degc;
        if self.open {
            around.air_degc = p::KITCHEN_DEGC;
            around.convection = p::ROOM_W_M2_K;
            around.vapour_pa = p::ROOM_VAPOUR_PA;
        }
        if self.tented {
            around = under_foil(around);
        }
        around
    }
}

/// Foil over a share of the surface: there it is a radiation shield and a second film of air in series, and lets no
/// vapour through.
fn under_foil(bare: Boundary) -> Boundary {
    let covered = p::FOIL_COVER;
    let two_faces = 2.0 / p::FOIL_EMISSIVITY - 1.0;
    let shielded = 1.0 / (1.0 / bare.emissivity + two_faces);
    Boundary {
        emissivity: (1.0 - covered) * bare.emissivity + covered * shielded,
        convection: (1.0 - 0.5 * covered) * bare.convection,
        skin: (1.0 - covered) * bare.skin,
        ..bare
    }
}

/// When anything changes, from 0 to the end of the last setting, s.
fn breaks(query: &RoastSimulationQuery, ends: &[f64]) -> Vec<f64> {
    let end = ends[ends.len() - 1];
    let doors = query.door_openings.iter().flat_map(|opening| {
        let at = opening.at.as_seconds();
        [at, at + opening.duration.as_seconds()]
    });
    let foil = query.tent.iter().flat_map(|tent| {
        let until = tent.until.map(Duration::as_seconds);
        [Some(tent.from.as_seconds()), until].into_iter().flatten()
    });
    let mut breaks: Vec<f64> = [0.0]
        .into_iter()
        .chain(ends.iter().copied())
        .chain(doors)
        .chain(foil)
        .filter(|at| *at <= end)
        .collect();
    breaks.sort_by(f64::total_cmp);
    breaks.dedup();
    breaks
}

/// When each setting ends, s.
fn stage_ends(oven: &[OvenStage]) -> Result<Vec<f64>, Error> {
    let mut end = 0.0;
    let mut ends = Vec::with_capacity(oven.len());
    for (at, stage) in oven.iter().enumerate() {
        let seconds = match stage.duration {
            Some(duration) => duration.as_seconds(),
            None if at + 1 == oven.len() => LONGEST_S,
            None => {
                return Err(Error::new(
                    ErrorKind::Conflict,
                    "no duration",
                    "a duration is needed for every setting but the last",
                )
                .at(&format!("oven[{at}].duration")));
            }
        };
        end = LONGEST_S.min(end + seconds);
        ends.push(end);
    }
    Ok(ends)
}

/// Refuses an oven that the model does not cover.
pub(super) fn check(query: &RoastSimulationQuery) -> Result<(), Error> {
    if !(1..=MOST_STAGES).contains(&query.oven.len()) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            query.oven.len(),
            format!("one to {MOST_STAGES} settings of the oven are needed"),
        )
        .at("oven"));
    }
    for (at, stage) in query.oven.iter().enumerate() {
        let field = format!("oven[{at}]");
        within(
            "temperature",
            &stage.temperature,
            &COOLEST_OVEN,
            &HOTTEST_OVEN,
        )
        .map_err(|error| error.at(&field))?;
        if stage.duration == Some(Duration::ZERO) {
            return Err(Error::new(
                ErrorKind::OutOfRange,
                Duration::ZERO,
                "a duration above nothing is needed",
            )
            .at("duration")
            .at(&field));
        }
    }
    if let Some(lag) = &query.oven_lag {
        within("time_constant", &lag.time_constant, &QUICKEST, &SLOWEST)
            .and_then(|()| match &lag.start {
                Some(start) => within("start", start, &COLDEST_START, &HOTTEST_OVEN),
                None => Ok(()),
            })
            .map_err(|error| error.at("oven_lag"))?;
    }
    check_doors(&query.door_openings)?;
    match query.tent {
        Some(FoilTent {
            from,
            until: Some(until),
        }) if until <= from => Err(Error::new(
            ErrorKind::Conflict,
            until,
            format!("a time after {from}, when the foil is put on, is needed"),
        )
        .at("tent.until")),
        _ => Ok(()),
    }
}

fn check_doors(openings: &[DoorOpening]) -> Result<(), Error> {
    if openings.len() > MOST_OPENINGS {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            openings.len(),
            format!("at most {MOST_OPENINGS} openings of the door are needed"),
        )
        .at("door_openings"));
    }
    let mut shut_s = 0.0;
    for (at, opening) in openings.iter().enumerate() {
        let field = format!("door_openings[{at}]");
        within("duration", &opening.duration, &BRIEFEST, &WIDEST)
            .map_err(|error| error.at(&field))?;
        if opening.at.as_seconds() < shut_s {
            return Err(Error::new(
                ErrorKind::Conflict,
                opening.at,
                "openings in order, each after the one before has ended, are needed",
            )
            .at("at")
            .at(&field));
        }
        shut_s = opening.at.as_seconds() + opening.duration.as_seconds();
    }
    Ok(())
}
