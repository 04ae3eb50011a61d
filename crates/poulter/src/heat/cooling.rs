//! How long cooked food takes to cool.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::Species;
use crate::error::{Error, ErrorKind};
use crate::units::{Duration, Fraction, Length, LengthUnit, Mass, Temperature};

use super::band::{Band, COOLING};
use super::body::Mesh;
use super::curve::{Curve, Pace, Stretch, Trace, Zone};
use super::growth_bound::{CoolingGrowth, Everywhere};
use super::limits::{
    COOLING_LEAVES_OUT, COOLING_LIQUID_LEAVES_OUT, COOLING_SOURCES, Flesh, LARGEST, SMALLEST,
    within,
};
use super::material::Material;
use super::parameters as p;
use super::roast::{celsius, to_share};
use super::solver::Body;
use super::surroundings::Surroundings;

/// From where heat can leave a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CooledFrom {
    /// One face; the other lies on something that takes no heat. The cautious choice.
    OneFace,
    /// Both faces, such as a pan on an open shelf or a pot in an ice bath.
    BothFaces,
}

/// The food that cools.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum CoolingFood {
    /// A whole cooked bird.
    Whole {
        /// The species, turkey or chicken; turkey when left out.
        #[serde(default = "default::species")]
        species: Species,
        /// Mass ready to cook, 1.5 kg to 24 lb.
        mass: Mass,
    },
    /// Meat off the bone in one layer.
    Carved {
        /// The species, turkey or chicken; turkey when left out.
        #[serde(default = "default::species")]
        species: Species,
        /// Depth of the layer, 5 mm to 15 cm.
        depth: Length,
        /// From where heat can leave.
        cooled_from: CooledFrom,
    },
    /// Stock or gravy, as far as heat is concerned water.
    Liquid {
        /// Depth in the container, 5 mm to 15 cm stirred or not.
        depth: Length,
        /// From where heat can leave.
        cooled_from: CooledFrom,
        /// Whether it is stirred often enough to have one temperature throughout.
        #[serde(default)]
        stirred: bool,
    },
}

/// Surroundings for a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolingStay {
    /// A room, a refrigerator, water or an ice bath.
    pub surroundings: Surroundings,
    /// How long.
    pub duration: Duration,
}

/// Food to be cooled in one place after another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolingSimulationQuery {
    /// The food.
    pub food: CoolingFood,
    /// Temperature throughout at the start, 30 °C to 100 °C.
    pub start: Temperature,
    /// One to eight stages, five days in all at most.
    pub stages: Vec<CoolingStay>,
    /// One to eight temperatures whose passing is asked for, such as 135 °F, 70 °F and 41 °F.
    pub thresholds: Vec<Temperature>,
    /// The standard whose rule an [answer](super::answers) sets beside the model; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
}

/// When the centre has cooled to a temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Passing {
    /// The temperature.
    pub threshold: Temperature,
    /// Time from the start; nothing when the stages end first.
    pub after: Option<Band>,
}

/// What the model says of food that cools.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CoolingSimulation {
    /// One for each threshold, in the order of the query.
    pub passings: Vec<Passing>,
    /// Temperature of the centre at the end of the stages.
    pub centre_at_end: Temperature,
    /// Share of the mass that evaporates.
    pub evaporated: Fraction,
    /// Temperature of centre and surface every ten minutes.
    pub curves: Vec<Curve>,
    /// How much Clostridium perfringens could grow on the way. Nothing for stock and gravy, which the published parameters
    /// do not cover.
    pub growth: Option<CoolingGrowth>,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

const NODES: usize = 31;
const CURVE_EVERY_S: f64 = 600.0;
const PACE: Pace = Pace {
    first_s: 20.0,
    longest_s: 60.0,
    rows_s: CURVE_EVERY_S,
};
const MOST_ENTRIES: usize = 8;
const LONGEST_S: f64 = 5.0 * 24.0 * 3600.0;

const COOLEST_START: Temperature = celsius(30_000);
const HOTTEST_START: Temperature = celsius(100_000);
const SHALLOWEST: Length = Length::from_steps(5_000, LengthUnit::Millimetre);
const DEEPEST: Length = Length::from_steps(150_000, LengthUnit::Centimetre);
const COLDEST_AROUND: Temperature = celsius(-30_000);
const WARMEST_AROUND: Temperature = celsius(35_000);

/// Simulates cooling at the centre of the food.
///
/// A whole bird is R = 0.0355 m · m^(1/3), the breast zone of a roast; a layer is a slab of its depth, or of half its
/// depth when both faces are cooled. The band is 0.65 to 1.50 of the model's time, taken over from the refrigerator
/// thaw, since the same coefficients govern both (derived, not measured).
///
/// Beside it stands how much Clostridium perfringens could grow in meat on the way, without lag, at the place where that
/// is most: experimental, and never a verdict.
///
/// A wrap is that of a thaw, h = 4 W/(m²·K), and lets no water go. It makes a hot bird come out slower than measured
/// roasts in a loose wrap: the cautious side.
///
/// # Errors
/// `model-range` outside the ranges named at the fields; `out-of-range` for no or too many stages or thresholds, or
/// stages that last too long; `unknown-value` for an oven.
///
/// ```
/// use poulter::heat::{CoolingSimulationQuery, simulate_cooling};
/// let query: CoolingSimulationQuery = serde_json::from_str(
///     r#"{"food": {"kind": "carved", "species": "turkey", "depth": "1 in", "cooled_from": "both-faces"},
///         "start": "140 °F", "thresholds": ["70 °F"],
///         "stages": [{"surroundings": {"kind": "refrigerator", "temperature": "38 °F"}, "duration": "12 h"}]}"#,
/// )?;
/// let passed = simulate_cooling(&query)?.passings[0].after.unwrap();
/// assert!(passed.likely.as_hours() < 3.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn simulate_cooling(query: &CoolingSimulationQuery) -> Result<CoolingSimulation, Error> {
    within("start", &query.start, &COOLEST_START, &HOTTEST_START)?;
    count("thresholds", query.thresholds.len())?;
    let is_meat = !matches!(query.food, CoolingFood::Liquid { .. });
    let stretches = stretches_of(&query.stages, is_meat)?;
    let mut body = body_of(query)?;
    let mut everywhere = Everywhere::of(body.each_degc());
    let trace = Trace::follow(&mut body, &stretches, PACE, None, |body| {
        everywhere.note(body.each_degc());
        false
    })?;
    let curves = vec![
        trace.curve(Zone::Centre, &trace.core, CURVE_EVERY_S),
        trace.curve(Zone::Surface, &trace.surface, CURVE_EVERY_S),
    ];
    let passings = query
        .thresholds
        .iter()
        .map(|&threshold| Passing {
            threshold,
            after: trace
                .falls_to(&trace.core, threshold.as_celsius())
                .map(|seconds| Band::around(seconds, COOLING)),
        })
        .collect();
    Ok(CoolingSimulation {
        passings,
        centre_at_end: Temperature::from_celsius(body.core_degc())?.in_unit(query.start.unit()),
        evaporated: to_share(body.evaporated_share())?,
        growth: is_meat
            .then(|| everywhere.growth(&trace, &curves))
            .transpose()?,
        curves,
        leaves_out: if is_meat {
            &COOLING_LEAVES_OUT
        } else {
            &COOLING_LIQUID_LEAVES_OUT
        },
        sources: &COOLING_SOURCES,
    })
}

fn body_of(query: &CoolingSimulationQuery) -> Result<Body<'static>, Error> {
    let layer = |depth: &Length, cooled_from| {
        within("depth", depth, &SHALLOWEST, &DEEPEST).map_err(|error| error.at("food"))?;
        let radius = match cooled_from {
            CooledFrom::OneFace => depth.as_metres(),
            CooledFrom::BothFaces => 0.5 * depth.as_metres(),
        };
        Ok::<_, Error>(Mesh::new(NODES, radius, 1.0))
    };
    let flesh = |species| Flesh::of(species).map_err(|error| error.at("food"));
    let (material, mesh) = match &query.food {
        CoolingFood::Whole { species, mass } => {
            within("mass", mass, &SMALLEST, &LARGEST).map_err(|error| error.at("food"))?;
            let radius = Mesh::radius_m(mass.as_kilograms(), p::BREAST_M_KG);
            (
                flesh(*species)?.material(),
                Mesh::new(NODES, radius, p::DIMENSION),
            )
        }
        CoolingFood::Carved {
            species,
            depth,
            cooled_from,
        } => (flesh(*species)?.material(), layer(depth, *cooled_from)?),
        CoolingFood::Liquid {
            depth,
            cooled_from,
            stirred,
        } => (Material::stock(*stirred), layer(depth, *cooled_from)?),
    };
    Ok(Body::new(material, mesh, query.start.as_celsius()))
}

/// The stages for the solver. A liquid is taken as covered, so that nothing evaporates: the cautious choice.
fn stretches_of(stages: &[CoolingStay], uncovered: bool) -> Result<Vec<Stretch>, Error> {
    count("stages", stages.len())?;
    let mut sum = 0.0;
    let mut stretches = Vec::with_capacity(stages.len());
    for (at, stage) in stages.iter().enumerate() {
        let field = format!("stages[{at}]");
        let temperature = match stage.surroundings {
            Surroundings::Oven { .. } => {
                return Err(Error::new(
                    ErrorKind::UnknownValue,
                    "oven",
                    "room, refrigerator, water or ice-bath is needed",
                )
                .at("surroundings.kind")
                .at(&field));
            }
            Surroundings::Room { temperature }
            | Surroundings::Refrigerator { temperature, .. }
            | Surroundings::Water { temperature, .. } => temperature,
            Surroundings::IceBath => celsius(0),
        };
        within(
            "temperature",
            &temperature,
            &COLDEST_AROUND,
            &WARMEST_AROUND,
        )
        .map_err(|error| error.at("surroundings").at(&field))?;
        sum += stage.duration.as_seconds();
        let mut around = stage.surroundings.boundary();
        if !uncovered {
            around.skin = 0.0;
        }
        stretches.push(Stretch::after_a_jump(around, stage.duration.as_seconds()));
    }
    if sum > LONGEST_S {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!("{} h", sum / 3600.0),
            "stages of 5 d (120 h) in all at most are needed",
        )
        .at("stages"));
    }
    Ok(stretches)
}

fn count(field: &str, entries: usize) -> Result<(), Error> {
    if (1..=MOST_ENTRIES).contains(&entries) {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::OutOfRange,
        entries,
        format!("one to {MOST_ENTRIES} entries are needed"),
    )
    .at(field))
}
