//! Carry-over: what happens between the oven and the knife.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::Error;
use crate::units::{
    Duration, DurationUnit, Temperature, TemperatureDifference, TemperatureDifferenceUnit,
};

use super::curve::{Curve, Pace, Stretch, Trace, Zone, to_duration};
use super::kill::{Kill, KillBasis};
use super::limits::{REST_LEAVES_OUT, ROAST_SOURCES, within};
use super::roast::{CURVE_EVERY_S, RoastSimulationQuery, celsius, roast_zones};
use super::surroundings::Surroundings;

/// A roast that is taken out when its slowest place is at the roast's target, and then rests.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RestSimulationQuery {
    /// The roast; its target is the temperature at which it comes out.
    pub roast: RoastSimulationQuery,
    /// Temperature of the room, 10 °C to 35 °C.
    pub room: Temperature,
    /// Length of the rest, 1 minute to 2 hours.
    pub duration: Duration,
}

/// A rise in temperature as a range.
///
/// The model's rise times 0.3, 0.7 and 1.2: it lies above the usual figures (5 to 10 °F for turkey, 10 to 15 °F for
/// roasts in general; kitchen texts without a measured series).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CarryOver {
    /// 10th percentile.
    pub low: TemperatureDifference,
    /// Median.
    pub likely: TemperatureDifference,
    /// 90th percentile.
    pub high: TemperatureDifference,
}

/// One place of a resting roast.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RestedZone {
    /// The place.
    pub zone: Zone,
    /// Its temperature when the roast comes out.
    pub at_start: Temperature,
    /// How far it rises.
    pub rise: CarryOver,
    /// When the model has it hottest; the end of the rest when it is still rising.
    pub hottest_after: Duration,
    /// The model's temperature every five minutes of the rest.
    pub curve: Curve,
    /// The kill up to each row of the curve, in powers of ten and no further than the target of the scheme. The first row
    /// is what came about in the oven; the others explain and never count.
    pub kill_log10: Vec<f64>,
}

/// What the model says of a rest.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RestSimulation {
    /// Each place, the slowest first.
    pub zones: Vec<RestedZone>,
    /// Always false: a minimum temperature is met by a thermometer reading, never by an expected rise.
    pub counts_toward_safety: bool,
    /// How the kill was counted, and what it is not.
    pub kill: KillBasis,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

const LOW: f64 = 0.3;
const LIKELY: f64 = 0.7;
const HIGH: f64 = 1.2;

const PACE: Pace = Pace {
    first_s: 20.0,
    longest_s: 60.0,
    rows_s: CURVE_EVERY_S,
};

const COLDEST_ROOM: Temperature = celsius(10_000);
const WARMEST_ROOM: Temperature = celsius(35_000);
const SHORTEST: Duration = Duration::from_steps(60_000, DurationUnit::Minute);
const LONGEST: Duration = Duration::from_steps(7_200_000, DurationUnit::Hour);

/// Simulates the rest of a roast in each of its places.
///
/// # Errors
/// Those of [`simulate_roast`](super::simulate_roast), at `roast`; `model-range` for the room and the duration.
///
/// ```
/// use poulter::heat::{RestSimulationQuery, simulate_rest};
/// let query: RestSimulationQuery = serde_json::from_str(
///     r#"{"roast": {"species": "turkey", "mass": "12 lb", "start": "40 °F", "target": "165 °F",
///                   "oven": [{"temperature": "325 °F"}]},
///         "room": "72 °F", "duration": "30 min"}"#,
/// )?;
/// let rest = simulate_rest(&query)?;
/// assert!(rest.zones[0].rise.likely.as_delta_fahrenheit() > 2.0);
/// assert!(!rest.counts_toward_safety);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn simulate_rest(query: &RestSimulationQuery) -> Result<RestSimulation, Error> {
    within("room", &query.room, &COLDEST_ROOM, &WARMEST_ROOM)?;
    within("duration", &query.duration, &SHORTEST, &LONGEST)?;
    let roasting = roast_zones(&query.roast).map_err(|error| error.at("roast"))?;
    let around = Surroundings::Room {
        temperature: query.room,
    }
    .boundary();
    let room = Stretch::after_a_jump(around, query.duration.as_seconds());
    let unit = query.roast.target.unit();
    let kill = Kill::of(query.roast.species)?;
    let zones = roasting
        .bodies
        .into_iter()
        .zip(&roasting.traces)
        .map(|((zone, mut body), in_oven)| {
            let start = body.core_degc();
            let trace = Trace::follow(&mut body, &[room], PACE, None, |_| false)?;
            let (hottest_s, hottest) = trace.elapsed_s.iter().zip(&trace.core).fold(
                (0.0, start),
                |best, (&elapsed, &core)| {
                    if core > best.1 { (elapsed, core) } else { best }
                },
            );
            let curve = trace.curve(zone, &trace.core, CURVE_EVERY_S);
            let rise = |factor: f64| {
                let rise = TemperatureDifference::from_delta_celsius(factor * (hottest - start))?;
                Ok::<_, Error>(match unit {
                    crate::units::TemperatureUnit::Fahrenheit => {
                        rise.in_unit(TemperatureDifferenceUnit::DeltaFahrenheit)
                    }
                    _ => rise,
                })
            };
            Ok(RestedZone {
                zone,
                at_start: Temperature::from_celsius(start)?.in_unit(unit),
                rise: CarryOver {
                    low: rise(LOW)?,
                    likely: rise(LIKELY)?,
                    high: rise(HIGH)?,
                },
                hottest_after: to_duration(hottest_s)?.in_unit(DurationUnit::Minute),
                kill_log10: kill.along(&trace, &curve, kill.total(in_oven)).log10,
                curve,
            })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    Ok(RestSimulation {
        zones,
        counts_toward_safety: false,
        kill: kill.basis(),
        leaves_out: &REST_LEAVES_OUT,
        sources: &ROAST_SOURCES,
    })
}
