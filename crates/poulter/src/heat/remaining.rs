//! What is left of a roast or a thaw that has begun.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::Species;
use crate::error::Error;
use crate::units::{Duration, Mass, Temperature};

use super::band::Band;
use super::body::Mesh;
use super::curve::{Stretch, Trace};
use super::forecast::{Forecast, ForecastQuery, NoForecast};
use super::limits::{Flesh, LARGEST, SMALLEST, THAW_LEAVES_OUT, THAW_SOURCES, within};
use super::parameters as p;
use super::roast::celsius;
use super::solver::Body;
use super::surroundings::Surroundings;
use super::thaw::{LONGEST_S, NODES, THAWED_DEGC, Way};

/// What is left of a roast.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RemainingRoast {
    /// From now until every place with a probe is at the target; nothing where the model cannot tell.
    pub remaining: Option<Band>,
    /// Why the model cannot tell.
    pub cannot_tell: Option<NoForecast>,
}

/// How long a roast still takes, by the readings so far; `now` is the time since the roast went in.
///
/// The [`Forecast`] less the time that has passed. A plan that is re-timed by it keeps the printed time beside it: the
/// forecast says when to look, and only measured temperatures say that the bird is done.
///
/// # Errors
/// Those of [`Forecast::new`]; a roast from frozen is among what it refuses.
///
/// ```
/// use poulter::heat::{ForecastQuery, remaining_roast};
/// use poulter::units::Duration;
/// let query: ForecastQuery = serde_json::from_str(
///     r#"{"roast": {"mass": "12 lb", "start": "40 °F", "target": "165 °F", "oven": [{"temperature": "325 °F"}]},
///         "members": 200,
///         "probes": [{"place": "breast", "readings": [{"elapsed": "2 h", "temperature": "125 °F"}]}]}"#,
/// )?;
/// let [at_two, later] = ["2 h", "2 h 30 min"].map(|now| {
///     remaining_roast(&query, Duration::parse(now).unwrap()).unwrap().remaining.unwrap()
/// });
/// assert!(later.likely < at_two.likely);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn remaining_roast(query: &ForecastQuery, now: Duration) -> Result<RemainingRoast, Error> {
    let forecast = Forecast::new(query)?.time_to_target()?;
    Ok(RemainingRoast {
        remaining: forecast.time_to_target.map(|time| time.less(now)),
        cannot_tell: forecast.cannot_tell,
    })
}

/// A whole bird part-way through its thaw.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RemainingThawQuery {
    /// The species, turkey or chicken; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// Mass, 1.5 kg to 24 lb.
    pub mass: Mass,
    /// What a probe shows in the centre, −30 °C to 21 °C.
    pub centre: Temperature,
    /// Where it goes on thawing: a refrigerator or water, 1 °C to 21 °C.
    pub surroundings: Surroundings,
}

/// What is left of a thaw.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RemainingThaw {
    /// From now until no place is below 0 °C.
    pub remaining: Band,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

/// How far a reading in ice may be off: the centre stays within a degree or two of freezing for most of a thaw (assumed;
/// probes of thermometers are usually sold with ± 1 °C).
const READING_K: f64 = 1.0;

/// The bird came out of a freezer at 0 °F (FSIS, storage of frozen food).
const FREEZER_DEGC: f64 = -160.0 / 9.0;

const COLDEST: Temperature = celsius(-30_000);
const WARMEST: Temperature = celsius(21_000);

/// How long a whole bird still takes to thaw when its centre shows this temperature.
///
/// The likely time is what a bird from a freezer at 0 °F has left in the same surroundings once its centre is that
/// warm. The centre says little while ice is about, so the ends are wide: the quick one takes the reading for one
/// degree too low; the slow one takes it for one degree too high and the whole bird for as cold as its centre. Both
/// carry the band of a thaw (0.65 to 1.50 in a refrigerator, 0.75 to 1.45 in water).
///
/// # Errors
/// `model-range` outside the ranges named at the fields; `unknown-value` for surroundings that are neither a
/// refrigerator nor water.
///
/// ```
/// use poulter::heat::{RemainingThawQuery, remaining_thaw};
/// let left = |centre: &str| {
///     let query: RemainingThawQuery = serde_json::from_str(&format!(
///         r#"{{"mass": "12 lb", "centre": "{centre}",
///             "surroundings": {{"kind": "refrigerator", "temperature": "38 °F", "wrapped": true}}}}"#,
///     ))?;
///     Ok::<_, Box<dyn std::error::Error>>(remaining_thaw(&query)?.remaining)
/// };
/// assert!(left("26 °F")?.likely < left("10 °F")?.likely);
/// assert_eq!(left("38 °F")?.high.as_minutes(), 0.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn remaining_thaw(query: &RemainingThawQuery) -> Result<RemainingThaw, Error> {
    within("mass", &query.mass, &SMALLEST, &LARGEST)?;
    within("centre", &query.centre, &COLDEST, &WARMEST)?;
    let centre = query.centre.as_celsius();
    let way = Way::of(query.surroundings)?;
    let thaw = |start_degc: f64| {
        let radius = Mesh::radius_m(query.mass.as_kilograms(), p::FROZEN_M_KG);
        let mesh = Mesh::new(NODES, radius, p::DIMENSION);
        let mut body = Body::new(Flesh::of(query.species)?.material(), mesh, start_degc);
        let stretch = Stretch::after_a_jump(query.surroundings.boundary(), LONGEST_S);
        Trace::follow(&mut body, &[stretch], way.pace(), None, |body| {
            body.coldest_degc() >= THAWED_DEGC
        })
    };
    let from_freezer = thaw(FREEZER_DEGC.min(centre))?;
    let left_at = |centre: f64| {
        let thawed = from_freezer.rises_to(&from_freezer.coldest, THAWED_DEGC);
        let reached = from_freezer.rises_to(&from_freezer.core, centre.min(THAWED_DEGC));
        thawed.zip(reached).map_or(0.0, |(end, at)| end - at)
    };
    let coldest = centre - READING_K;
    let slow_s = if coldest < THAWED_DEGC {
        let uniform = thaw(coldest)?;
        let thawed = uniform.rises_to(&uniform.coldest, THAWED_DEGC);
        thawed.unwrap_or(f64::INFINITY).max(left_at(coldest))
    } else {
        0.0
    };
    Ok(RemainingThaw {
        remaining: Band::spanning(
            way.spread.0 * left_at(centre + READING_K),
            left_at(centre),
            way.spread.1 * slow_s,
        ),
        leaves_out: &THAW_LEAVES_OUT,
        sources: &THAW_SOURCES,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat::{ThawSimulationQuery, simulate_thaw};

    fn left(centre: &str) -> Band {
        let query = serde_json::from_value(serde_json::json!({
            "mass": "12 lb", "centre": centre,
            "surroundings": {"kind": "water", "temperature": "10 °C"},
        }));
        remaining_thaw(&query.unwrap()).unwrap().remaining
    }

    /// A bird as cold as the freezer has the whole thaw before it.
    #[test]
    fn from_the_freezer_the_whole_thaw_is_left() {
        let query: ThawSimulationQuery = serde_json::from_value(serde_json::json!({
            "mass": "12 lb", "start": "0 °F", "surroundings": {"kind": "water", "temperature": "10 °C"},
        }))
        .unwrap();
        let whole = simulate_thaw(&query).unwrap().thawed;
        let left = left("0 °F");
        assert_eq!(left.likely, whole.likely);
        assert!(left.high >= whole.high && left.low <= whole.low);
    }

    #[test]
    fn a_warmer_centre_never_has_longer_to_go() {
        let readings = [
            "-20 °C", "-10 °C", "-4 °C", "-2 °C", "-0.5 °C", "0.9 °C", "1 °C", "5 °C",
        ];
        let bands = readings.map(left);
        for pair in bands.windows(2) {
            assert!(
                pair[1].likely <= pair[0].likely && pair[1].high <= pair[0].high,
                "{pair:?}"
            );
            assert!(pair[0].low <= pair[0].likely && pair[0].likely <= pair[0].high);
        }
    }

    /// Thawed is 0 °C by a probe that may be off by 1 K.
    #[test]
    fn nothing_is_left_from_one_degree_on_under_at_and_over() {
        for (centre, left_over) in [("0.999 °C", true), ("1 °C", false), ("1.001 °C", false)] {
            assert_eq!(left(centre).high > Duration::ZERO, left_over, "{centre}");
        }
    }

    #[test]
    fn a_centre_out_of_range_is_refused_under_at_and_over() {
        for (thousandths, fine) in [
            (-30_001, false),
            (-30_000, true),
            (-29_999, true),
            (20_999, true),
            (21_000, true),
            (21_001, false),
        ] {
            let query = RemainingThawQuery {
                species: Species::Turkey,
                mass: Mass::parse("12 lb").unwrap(),
                centre: celsius(thousandths),
                surroundings: Surroundings::Water {
                    temperature: celsius(10_000),
                    running: false,
                },
            };
            assert_eq!(remaining_thaw(&query).is_ok(), fine, "{thousandths}");
        }
    }
}
