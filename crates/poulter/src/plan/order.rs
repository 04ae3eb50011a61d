//! What is asked of a plan: guests, bird, kitchen, and when dinner is.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::{Cut, Species, State};
use crate::brine::BrineMethod;
use crate::purchase::Leftovers;
use crate::roast::{Oven, RoastMethod};
use crate::thaw::ThawMethod;
use crate::units::{Fraction, HourClock, Length, Mass, Temperature, UnitSystem, Volume};

use super::moment::Moment;

/// An order for a dinner. Only `serve_at`, `guests` and `bird.species` must be given; the plan says what it assumed
/// for the rest.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Order {
    /// When the food is served.
    pub serve_at: Moment,
    /// The moment from which the plan may start; the plan says what would be needed when left out.
    #[serde(default)]
    pub now: Option<Moment>,
    /// The standard; `us-consumer` when left out.
    #[serde(default = "default::standard")]
    pub standard: String,
    /// Who eats.
    pub guests: Guests,
    /// The bird.
    pub bird: Bird,
    /// Methods that are wanted; the planner chooses those left out.
    #[serde(default)]
    pub methods: Methods,
    /// The kitchen.
    #[serde(default)]
    pub kitchen: Kitchen,
    /// Whether the heat model may lengthen the printed times of thaw and roast, shorten the quick case of a roast, and
    /// stand in where no row is published; false when left out.
    #[serde(default)]
    pub use_model: bool,
    /// Units for the sheets; US customary for a United States standard, else metric.
    #[serde(default)]
    pub units: Option<UnitSystem>,
    /// Clock for the sheets; 12 hours with US customary units, else 24.
    #[serde(default)]
    pub clock: Option<HourClock>,
}

/// Who eats.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Guests {
    /// Adults.
    pub adults: u32,
    /// Children.
    #[serde(default)]
    pub children: u32,
    /// What is wanted for the days after; none when left out.
    #[serde(default)]
    pub leftovers: Option<Leftovers>,
    /// Allergens to avoid.
    #[serde(default)]
    pub avoid: Vec<String>,
}

/// The bird, in hand or to buy.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bird {
    /// The species.
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// Mass of the bird in hand; when left out the plan says what to buy.
    #[serde(default)]
    pub mass: Option<Mass>,
    /// Its state; when left out the planner chooses what to buy.
    #[serde(default)]
    pub state: Option<State>,
    /// Share of solution that the label names.
    #[serde(default)]
    pub solution_added: Option<Fraction>,
    /// Whether the bird was salted as kosher birds are.
    #[serde(default)]
    pub kosher: bool,
    /// Whether stuffing goes into the bird.
    #[serde(default)]
    pub stuffed: bool,
}

/// Methods that are wanted.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Methods {
    /// How a frozen bird is thawed.
    #[serde(default)]
    pub thaw: Option<ThawMethod>,
    /// How the bird is brined.
    #[serde(default)]
    pub brine: Option<BrineMethod>,
    /// How the oven is run.
    #[serde(default)]
    pub roast: Option<RoastMethod>,
}

/// The kitchen.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Kitchen {
    /// Measured temperature of the refrigerator.
    #[serde(default)]
    pub refrigerator: Option<Temperature>,
    /// Free room in the refrigerator.
    #[serde(default)]
    pub refrigerator_room: Option<Volume>,
    /// The oven.
    #[serde(default)]
    pub oven: Oven,
    /// Height above the sea.
    #[serde(default)]
    pub altitude: Option<Length>,
}
