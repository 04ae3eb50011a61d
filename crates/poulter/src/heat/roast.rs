//! How long a roast takes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::Species;
use crate::error::{Error, ErrorKind};
use crate::units::{
    Duration, DurationUnit, ExactTemperature, Fraction, FractionUnit, Mass, MassUnit, Temperature,
    TemperatureUnit,
};

use super::band::{BREAST_PIECE, Band, FROZEN_ROAST, ROAST};
use super::body::Mesh;
use super::curve::{Curve, Pace, Stretch, Trace, Zone, to_duration};
use super::kill::{Kill, KillBasis};
use super::limits::{Flesh, LARGEST, ROAST_LEAVES_OUT, ROAST_SOURCES, SMALLEST, within};
use super::oven::{self, DoorOpening, FoilTent, OvenLag, OvenStage};
use super::parameters as p;
use super::solver::Body;

/// What is roasted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RoastCut {
    /// A whole bird.
    #[default]
    Whole,
    /// A breast on the bone.
    BoneInBreast,
}

/// A roast to be simulated.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RoastSimulationQuery {
    /// The species, turkey or chicken; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut.
    #[serde(default)]
    pub cut: RoastCut,
    /// Mass ready to cook, without stuffing: 1.5 kg to 24 lb whole, 4 lb to 8 lb for a breast.
    pub mass: Mass,
    /// Temperature throughout at the start, −25 °C to 25 °C. Below the freezing point the roast is one from frozen.
    pub start: Temperature,
    /// Whether a whole bird is stuffed.
    #[serde(default)]
    pub stuffed: bool,
    /// One to eight settings of the oven, in order.
    pub oven: Vec<OvenStage>,
    /// How slowly the oven follows its settings; at once when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oven_lag: Option<OvenLag>,
    /// When the door stands open: at most 24 times, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub door_openings: Vec<DoorOpening>,
    /// Foil over the bird; none when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tent: Option<FoilTent>,
    /// Temperature to be reached in every place, up to 185 °F.
    pub target: Temperature,
    /// The standard whose rule an [answer](super::answers) sets beside the model; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
}

/// One place of a roast.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RoastedZone {
    /// The place.
    pub zone: Zone,
    /// When the model has it at the target; nothing when it never gets there.
    pub reached: Option<Duration>,
    /// Its temperature every five minutes.
    pub curve: Curve,
    /// The kill up to each row of the curve, in powers of ten, by the scheme of the answer and counted no further than
    /// its target.
    pub kill_log10: Vec<f64>,
    /// When that kill comes to the target of the scheme; nothing when it does not.
    pub kill_reached: Option<Duration>,
}

/// What the model says of a roast.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RoastSimulation {
    /// Time until every place is at the target; nothing when a place never gets there.
    pub time_to_target: Option<Band>,
    /// The place that is last.
    pub slowest: Zone,
    /// Each place, the slowest first.
    pub zones: Vec<RoastedZone>,
    /// Share of the mass that has evaporated at the end, by the surface of the slimmest zone. Dripping comes on top; the whole cooking loss of 128 turkeys
    /// had a median of 23 % (Chang, Carpenter and Toledo 1998).
    pub evaporated: Fraction,
    /// True when the time is one and a half times that of a thawed bird, because the model for a frozen one gave less
    /// (USDA guidance: at least 50 % longer).
    pub frozen_minimum_used: bool,
    /// How the kill was counted, and what it is not.
    pub kill: KillBasis,
    /// What the model leaves out.
    pub leaves_out: &'static [&'static str],
    /// Where its numbers come from.
    pub sources: &'static [&'static str],
}

/// Every place until the slowest is done.
#[derive(Debug)]
pub(super) struct Roasting {
    /// The slowest first.
    pub(super) bodies: Vec<(Zone, Body<'static>)>,
    pub(super) traces: Vec<Trace>,
}

const NODES: usize = 31;
pub(super) const CURVE_EVERY_S: f64 = 300.0;

/// On 31 nodes the centre errs by 0.04 to 0.13 K in all from 24 lb in a still oven to 1.5 kg in one with a fan, with a
/// start of half an hour at 475 °F; steps of a minute throughout err by 0.05 to 0.15 K.
const PACE: Pace = Pace {
    first_s: 20.0,
    longest_s: 150.0,
    rows_s: CURVE_EVERY_S,
};

const COLDEST_START: Temperature = celsius(-25_000);
const WARMEST_START: Temperature = celsius(25_000);
const LOWEST_TARGET: Temperature = celsius(30_000);
const HIGHEST_TARGET: Temperature = fahrenheit(185_000);
const LIGHTEST_BREAST: Mass = Mass::from_steps(4 * 453_592_370_000, MassUnit::Pound);
const HEAVIEST_BREAST: Mass = Mass::from_steps(8 * 453_592_370_000, MassUnit::Pound);

pub(super) const fn celsius(thousandths: i64) -> Temperature {
    Temperature::from_exact(
        ExactTemperature::from_millicelsius(thousandths),
        TemperatureUnit::Celsius,
    )
}

pub(super) const fn fahrenheit(thousandths: i64) -> Temperature {
    Temperature::from_exact(
        ExactTemperature::from_millifahrenheit(thousandths),
        TemperatureUnit::Fahrenheit,
    )
}

/// Simulates a roast in each place of interest, each as a body of its own: R = c m^(1/3) with its own c.
///
/// The band is 0.80 to 1.20 of the model's time for a whole bird, 0.75 to 1.25 for a breast and 0.80 to 1.35 from
/// frozen. From frozen the time is never less than one and a half times that of a bird at 40 °F.
///
/// # Errors
/// `model-range` outside the ranges named at the fields; `conflict` for a stuffed breast, a bird stuffed while frozen,
/// an endless setting before the last, openings of the door out of order, or foil taken off before it is put on;
/// `out-of-range` for no settings, too many, or a setting of no length.
///
/// ```
/// use poulter::heat::{RoastSimulationQuery, simulate_roast};
/// let query: RoastSimulationQuery = serde_json::from_str(
///     r#"{"species": "turkey", "mass": "13 lb", "start": "40 °F", "target": "165 °F",
///         "oven": [{"temperature": "325 °F"}]}"#,
/// )?;
/// // USDA table: 3 to 3¾ hours for 12 to 14 lb.
/// let likely = simulate_roast(&query)?.time_to_target.unwrap().likely.as_hours();
/// assert!((3.0..3.75).contains(&likely));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn simulate_roast(query: &RoastSimulationQuery) -> Result<RoastSimulation, Error> {
    let roasting = roast_zones(query)?;
    let target = query.target.as_celsius();
    let end = |roasting: &Roasting| {
        let slowest = &roasting.traces[0];
        slowest.rises_to(&slowest.core, target)
    };

    let mut seconds = end(&roasting);
    let mut frozen_minimum_used = false;
    if is_frozen(query) {
        let thawed = RoastSimulationQuery {
            start: fahrenheit(40_000),
            ..query.clone()
        };
        let (above, below) = p::FROZEN_ROAST_RATIO;
        let least = end(&roast_zones(&thawed)?).map(|s| s * above as f64 / below as f64);
        if let (Some(model), Some(least)) = (seconds, least)
            && model < least
        {
            seconds = Some(least);
            frozen_minimum_used = true;
        }
    }
    let spread = match query.cut {
        _ if is_frozen(query) => FROZEN_ROAST,
        RoastCut::Whole => ROAST,
        RoastCut::BoneInBreast => BREAST_PIECE,
    };

    let kill = Kill::of(query.species)?;
    let zones = roasting
        .bodies
        .iter()
        .zip(&roasting.traces)
        .map(|((zone, _), trace)| {
            let curve = trace.curve(*zone, &trace.core, CURVE_EVERY_S);
            let killed = kill.along(trace, &curve, 0.0);
            Ok(RoastedZone {
                zone: *zone,
                reached: trace
                    .rises_to(&trace.core, target)
                    .map(to_duration)
                    .transpose()?
                    .map(|time| time.in_unit(DurationUnit::Minute)),
                kill_log10: killed.log10,
                kill_reached: killed
                    .reached_s
                    .map(|seconds| to_duration(seconds.ceil()))
                    .transpose()?
                    .map(|time| time.in_unit(DurationUnit::Minute)),
                curve,
            })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    Ok(RoastSimulation {
        time_to_target: seconds.map(|seconds| Band::around(seconds, spread)),
        slowest: roasting.bodies[0].0,
        zones,
        evaporated: to_share(
            roasting.bodies[roasting.bodies.len() - 1]
                .1
                .evaporated_share(),
        )?,
        frozen_minimum_used,
        kill: kill.basis(),
        leaves_out: &ROAST_LEAVES_OUT,
        sources: &ROAST_SOURCES,
    })
}

/// A share of the mass; water that settled on the food counts as none lost.
pub(super) fn to_share(ratio: f64) -> Result<Fraction, Error> {
    Ok(Fraction::from_ratio(ratio.max(0.0))?.in_unit(FractionUnit::Percent))
}

pub(super) fn is_frozen(query: &RoastSimulationQuery) -> bool {
    query.start < crate::bird::Composition::TURKEY.freezing_point()
}

/// Runs every place until the slowest is at the target.
pub(super) fn roast_zones(query: &RoastSimulationQuery) -> Result<Roasting, Error> {
    check(query)?;
    let stretches = oven::stretches_of(query)?;
    let target = query.target.as_celsius();
    // Melting goes from node to node, and longer steps would blur it.
    let pace = Pace {
        longest_s: if is_frozen(query) {
            60.0
        } else {
            PACE.longest_s
        },
        ..PACE
    };
    let mut bodies = Vec::new();
    let mut traces: Vec<Trace> = Vec::new();
    for &(zone, length) in zones_of(query) {
        let length = if is_frozen(query) {
            length.max(p::FROZEN_M_KG)
        } else {
            length
        };
        let radius = Mesh::radius_m(query.mass.as_kilograms(), length);
        let mesh = Mesh::new(NODES, radius, p::DIMENSION);
        let mut body = Body::new(
            Flesh::of(query.species)?.material(),
            mesh,
            query.start.as_celsius(),
        );
        let trace = match traces.first() {
            None => Trace::follow(&mut body, &stretches, pace, Some(target), |_| false)?,
            // The others stay in as long as the slowest.
            Some(slowest) => {
                let stretches = cut_off(&stretches, slowest.end_s());
                Trace::follow(&mut body, &stretches, pace, None, |_| false)?
            }
        };
        bodies.push((zone, body));
        traces.push(trace);
    }
    Ok(Roasting { bodies, traces })
}

/// Places and their c, the slowest first.
pub(super) fn zones_of(query: &RoastSimulationQuery) -> &'static [(Zone, f64)] {
    const STUFFED: [(Zone, f64); 3] = [
        (Zone::Stuffing, p::STUFFING_M_KG),
        (Zone::Breast, p::BREAST_M_KG),
        (Zone::Thigh, p::THIGH_M_KG),
    ];
    const PIECE: [(Zone, f64); 1] = [(Zone::Breast, p::BREAST_PIECE_M_KG)];
    match query.cut {
        RoastCut::BoneInBreast => &PIECE,
        RoastCut::Whole if query.stuffed => &STUFFED,
        RoastCut::Whole => &STUFFED[1..],
    }
}

fn cut_off(stretches: &[Stretch], end_s: f64) -> Vec<Stretch> {
    let mut left = end_s;
    let mut kept = Vec::with_capacity(stretches.len());
    for stretch in stretches {
        let seconds = stretch.seconds.min(left);
        left -= seconds;
        kept.push(Stretch {
            seconds,
            ..*stretch
        });
    }
    kept
}

pub(super) fn check(query: &RoastSimulationQuery) -> Result<(), Error> {
    let (lightest, heaviest) = match query.cut {
        RoastCut::Whole => (SMALLEST, LARGEST),
        RoastCut::BoneInBreast => (LIGHTEST_BREAST, HEAVIEST_BREAST),
    };
    Flesh::of(query.species)?;
    within("mass", &query.mass, &lightest, &heaviest)?;
    within("start", &query.start, &COLDEST_START, &WARMEST_START)?;
    within("target", &query.target, &LOWEST_TARGET, &HIGHEST_TARGET)?;
    if query.stuffed && query.cut == RoastCut::BoneInBreast {
        return Err(Error::new(
            ErrorKind::Conflict,
            "bone-in-breast",
            "only a whole bird can be stuffed",
        )
        .at("stuffed"));
    }
    if query.stuffed && is_frozen(query) {
        return Err(Error::new(
            ErrorKind::Conflict,
            query.start,
            "a bird that is roasted from frozen cannot be stuffed",
        )
        .at("stuffed"));
    }
    oven::check(query)
}
