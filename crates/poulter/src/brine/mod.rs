//! Brining: salt by mass, water, ice, vessel, time, how salty the meat becomes, and birds that must not be brined.

mod physics;
mod salt;
mod sodium;
mod work;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{Case, Rulebook};
use crate::units::{Duration, Fraction, Length, Mass, Temperature, Volume};

pub(crate) use physics::vessel_l;
pub use salt::{SaltGiven, SaltKind};
pub use sodium::SodiumEstimate;
pub(crate) use work::{dry_rate, dry_salt, salted_bird, wet_salt_of, work_out};
#[cfg(test)]
pub(crate) use work::{dry_salt_of, is_too_strong};

/// How the bird is salted beforehand.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum BrineMethod {
    /// In salt water.
    Wet,
    /// With salt rubbed on.
    Dry,
    /// Not at all.
    None,
}

impl BrineMethod {
    /// The word a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Wet => "brined in salt water",
            Self::Dry => "salted dry",
            Self::None => "not brined",
        }
    }
}

/// Where the bird lies in its brine.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BrinePlace {
    /// In the refrigerator.
    #[default]
    Refrigerator,
    /// In an insulated box with ice.
    Cooler,
}

/// "How do I brine this bird?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BrineQuery {
    /// How it is salted.
    pub method: BrineMethod,
    /// Mass of the bird.
    pub mass: Mass,
    /// The kind of salt at hand; table salt for a wet brine and flaked kosher salt for a dry one when left out.
    #[serde(default)]
    pub salt_kind: Option<SaltKind>,
    /// Salt as a share of the brine (wet, above 0 to 23 %) or of the bird (dry, above 0 to 5 %); the rule when left out.
    #[serde(default)]
    pub strength: Option<Fraction>,
    /// The salt a recipe asks for, to be checked; not together with `strength`.
    #[serde(default)]
    pub salt: Option<SaltGiven>,
    /// The water of a wet brine; by the mass of the bird when left out.
    #[serde(default)]
    pub water: Option<Volume>,
    /// The time planned; then it is judged by the limit.
    #[serde(default)]
    pub time: Option<Duration>,
    /// Where the bird lies; refrigerator when left out.
    #[serde(default)]
    pub place: BrinePlace,
    /// The room round a cooler; 23 °C when left out.
    #[serde(default)]
    pub room: Option<Temperature>,
    /// Solution added by the packer, from the label; none when left out.
    #[serde(default = "no_solution")]
    pub solution_added: Fraction,
    /// Whether the bird is kosher, so already salted.
    #[serde(default)]
    pub kosher: bool,
    /// Brines a bird that already holds salt all the same.
    #[serde(default)]
    pub override_salted: bool,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// The species; turkey when left out.
    #[serde(default = "default::species")]
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// The day whose rules are wanted; the rules that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
}

impl BrineQuery {
    /// A query that leaves out all that may be left out, but for the kind of salt and the water.
    pub(crate) fn plain(
        method: BrineMethod,
        mass: Mass,
        water: Option<Volume>,
        salt_kind: Option<SaltKind>,
        bird: crate::direct::Subject,
    ) -> Self {
        Self {
            method,
            mass,
            salt_kind,
            strength: None,
            salt: None,
            water,
            time: None,
            place: BrinePlace::Refrigerator,
            room: None,
            solution_added: Fraction::ZERO,
            kosher: false,
            override_salted: false,
            standard: bird.standard.name().to_owned(),
            species: bird.species,
            cut: bird.cut,
            on: None,
        }
    }
}

const fn no_solution() -> Fraction {
    Fraction::ZERO
}

/// Salt by mass, and by volume for one kind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SaltAmount {
    /// Its mass: weigh it.
    pub mass: Mass,
    /// The kind the volumes are for.
    pub kind: SaltKind,
    /// Its volume in the heaviest make of the kind.
    pub volume_low: Volume,
    /// Its volume in the lightest make of the kind.
    pub volume_high: Volume,
}

/// How a hot brine is chilled with ice that counts as water of the brine.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Chilling {
    /// Hot water to dissolve the salt in.
    pub hot_water: Volume,
    /// Ice from the freezer, stirred in.
    pub ice: Mass,
    /// Water from the refrigerator for the rest.
    pub cold_water: Volume,
}

/// A wet brine.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WetBrine {
    /// Water in all, ice included.
    pub water: Volume,
    /// Mass of the brine.
    pub brine_mass: Mass,
    /// Volume of the brine at 4 °C, rounded up to a hundredth of a litre.
    pub brine_volume: Volume,
    /// Where the brine starts to freeze.
    pub freezes_at: Temperature,
    /// How to make it cold at once; left out where so much salt needs more water to dissolve.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chilling: Option<Chilling>,
    /// The smallest vessel that holds bird and brine.
    pub vessel: Volume,
    /// Ice a day for a cooler: foam of 3 cm, lid and openings counted from none to double.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cooler_ice_low: Option<Mass>,
    /// The larger amount.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cooler_ice_high: Option<Mass>,
    /// Salt on meat if the bird stayed until nothing moved any more.
    pub at_equilibrium: Fraction,
    /// Salt on meat after the shortest time with slow, and the longest with quick diffusion; an order of magnitude.
    pub uptake_low: Fraction,
    /// The larger estimate.
    pub uptake_high: Fraction,
}

/// The answer about brining.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Brine {
    /// How the bird is salted.
    pub method: BrineMethod,
    /// False where a rule forbids it; `refusal` says why.
    pub allowed: bool,
    /// Why it is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refusal: Option<String>,
    /// The salt.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub salt: Option<SaltAmount>,
    /// Salt as a share of the brine (wet) or of the bird (dry).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strength: Option<Fraction>,
    /// The wet brine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wet: Option<WetBrine>,
    /// The usual time, inside the limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeEstimate>,
    /// The longest time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<Duration>,
    /// How deep the salt goes in the shortest usual time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth_low: Option<Length>,
    /// How deep the salt goes in the longest usual time.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth_high: Option<Length>,
    /// Sodium in a serving of the cooked meat.
    pub sodium: SodiumEstimate,
    /// Judgements and remarks.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// How a bird is brined: salt, water, ice, vessel, time, limit, and what it does to the meat.
///
/// Wet, with m the meat, w = 0.74 its water, `m_w` the water and `m_s` the salt: strength `W = m_s/(m_s + m_w)`; at
/// equilibrium `f = w m_s/(m_w + w m)` on meat; before that a slab of 30 mm half thickness gives `0.75 W F(D t)`, with
/// D from 1.5·10⁻¹⁰ to 5·10⁻¹⁰ m²/s. Depth is `2 √(D t)`. Heat balances give the ice.
///
/// Limits: brines up to 23 %. The diffusivity is that of pork; bone and skin hold the salt back: read the estimates of
/// uptake and sodium as orders of magnitude.
///
/// Errors: a volume of salt without its kind, both a strength and a recipe's salt, a mass of nothing, a strength outside
/// the range, an unknown standard, or no published row.
///
/// ```
/// use poulter::brine::{BrineQuery, brine};
/// use poulter::rules::Rulebook;
/// let query: BrineQuery = serde_json::from_str(r#"{"method": "wet", "mass": "12 lb", "water": "2 gal"}"#)?;
/// let answer = brine(Rulebook::builtin(), &query)?.answer;
/// let salt = answer.salt.expect("a wet brine has salt");
/// assert!((salt.mass.as_grams() - 438.0).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn brine(book: &Rulebook, query: &BrineQuery) -> Result<Answer<Brine>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}
