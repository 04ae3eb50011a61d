//! How long a thaw takes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::Species;
use crate::error::{Error, ErrorKind};
use crate::units::{Mass, Temperature};

use super::band::{Band, REFRIGERATOR_THAW, Spread, WATER_THAW};
use super::body::Mesh;
use super::curve::{Curve, Pace, Stretch, Trace, Zone};
use super::limits::{Flesh, LARGEST, SMALLEST, THAW_LEAVES_OUT, THAW_SOURCES, within};
use super::parameters as p;
use super::roast::celsius;
use super::solver::Body;
use super::surroundings::Surroundings;

/// A thaw to be simulated: a whole frozen bird.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThawSimulationQuery {
    /// The species, turkey or chicken; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// Mass, 1.5 kg to 24 lb.
    pub mass: Mass,
    /// Temperature throughout at the start, −30 °C to −3 °C.
    pub start: Temperature,
    /// A refrigerator or water, 1 °C to 21 °C. Rooms and ovens are no way to thaw a bird and are refused.
    pub surroundings: Surroundings,
    /// The standard whose rule an [answer](super::answers) sets beside the model; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
}

/// What the model says of a thaw.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ThawSimulation {
    /// Time until no place is below 0 °C. Plan a refrigerator thaw with the longer of the rule's time and `high`.
    pub thawed: Band,
    /// Temperature of centre and surface, every half hour in a refrigerator and every ten minutes in water.
    pub curves: Vec<Curve>,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

pub(super) const NODES: usize = 31;
pub(super) const THAWED_DEGC: f64 = 0.0;

/// No thaw within the range of the query lasts as long.
pub(super) const LONGEST_S: f64 = 30.0 * 24.0 * 3600.0;

const COLDEST_START: Temperature = celsius(-30_000);
const WARMEST_START: Temperature = celsius(-3_000);
const COLDEST_AROUND: Temperature = celsius(1_000);
const WARMEST_AROUND: Temperature = celsius(21_000);

/// Simulates the thaw of a whole bird, R = 0.0343 m · m^(1/3) with m in kg.
///
/// The band is 0.65 to 1.50 of the model's time in a refrigerator, 0.75 to 1.45 in water. The usual rules are linear in
/// mass; conduction gives about m^0.35 in a refrigerator and m^0.6 in water, so that the rule is short for birds of 4
/// to 8 lb and roomy above 16 lb.
///
/// # Errors
/// `model-range` outside the ranges named at the fields; `unknown-value` for surroundings that are neither a
/// refrigerator nor water.
///
/// ```
/// use poulter::heat::{ThawSimulationQuery, simulate_thaw};
/// let query: ThawSimulationQuery = serde_json::from_str(
///     r#"{"species": "turkey", "mass": "12 lb", "start": "0 °F",
///         "surroundings": {"kind": "refrigerator", "temperature": "38 °F", "wrapped": true}}"#,
/// )?;
/// // The usual rule, a day for every 4 to 5 lb, gives 58 to 72 hours.
/// let thawed = simulate_thaw(&query)?.thawed;
/// assert!((58.0..72.0).contains(&thawed.likely.as_hours()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn simulate_thaw(query: &ThawSimulationQuery) -> Result<ThawSimulation, Error> {
    let flesh = Flesh::of(query.species)?;
    within("mass", &query.mass, &SMALLEST, &LARGEST)?;
    within("start", &query.start, &COLDEST_START, &WARMEST_START)?;
    let way = Way::of(query.surroundings)?;
    let radius = Mesh::radius_m(query.mass.as_kilograms(), p::FROZEN_M_KG);
    let mesh = Mesh::new(NODES, radius, p::DIMENSION);
    let mut body = Body::new(flesh.material(), mesh, query.start.as_celsius());
    let stretch = Stretch::after_a_jump(query.surroundings.boundary(), LONGEST_S);
    let trace = Trace::follow(&mut body, &[stretch], way.pace(), None, |body| {
        body.coldest_degc() >= THAWED_DEGC
    })?;
    let seconds = trace.rises_to(&trace.coldest, THAWED_DEGC).ok_or_else(|| {
        Error::new(
            ErrorKind::NotConverged,
            query.mass,
            "a thaw within 30 days is needed",
        )
    })?;
    Ok(ThawSimulation {
        thawed: Band::around(seconds, way.spread),
        curves: vec![
            trace.curve(Zone::Centre, &trace.core, way.curve_every_s),
            trace.curve(Zone::Surface, &trace.surface, way.curve_every_s),
        ],
        leaves_out: &THAW_LEAVES_OUT,
        sources: &THAW_SOURCES,
    })
}

/// How a way to thaw is computed and how sure it is.
pub(super) struct Way {
    step_s: f64,
    curve_every_s: f64,
    pub(super) spread: Spread,
}

impl Way {
    pub(super) fn pace(&self) -> Pace {
        Pace::even(self.step_s, self.curve_every_s)
    }

    pub(super) fn of(surroundings: Surroundings) -> Result<Self, Error> {
        let (temperature, way) = match surroundings {
            Surroundings::Refrigerator { temperature, .. } => (
                temperature,
                Self {
                    step_s: 300.0,
                    curve_every_s: 1800.0,
                    spread: REFRIGERATOR_THAW,
                },
            ),
            Surroundings::Water { temperature, .. } => (
                temperature,
                Self {
                    step_s: 30.0,
                    curve_every_s: 600.0,
                    spread: WATER_THAW,
                },
            ),
            Surroundings::Oven { .. } | Surroundings::Room { .. } | Surroundings::IceBath => {
                let given = match surroundings {
                    Surroundings::Oven { .. } => "oven",
                    Surroundings::Room { .. } => "room",
                    _ => "ice-bath",
                };
                return Err(Error::new(
                    ErrorKind::UnknownValue,
                    given,
                    "refrigerator or water is needed",
                )
                .at("surroundings.kind"));
            }
        };
        within(
            "temperature",
            &temperature,
            &COLDEST_AROUND,
            &WARMEST_AROUND,
        )
        .map_err(|error| error.at("surroundings"))?;
        Ok(way)
    }
}
