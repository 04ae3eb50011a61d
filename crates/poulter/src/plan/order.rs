//! What is asked of a plan: guests, birds, dishes, and when dinner is.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::default;
use crate::bird::{Cut, Species, State};
use crate::brine::BrineMethod;
use crate::gravy::Thickener;
use crate::purchase::{Leftovers, Service};
use crate::roast::RoastMethod;
use crate::thaw::ThawMethod;
use crate::units::{Duration, Fraction, HourClock, Mass, Temperature, UnitSystem};

use super::kitchen::{Class, Cook, Kitchen};
use super::moment::Moment;
use super::progress::Progress;

/// An order for a dinner. Only `serve_at`, `guests` and a bird with its species must be given; the plan says what it
/// assumed for the rest.
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
    /// The bird; not together with `birds`.
    #[serde(default)]
    pub bird: Option<Bird>,
    /// Several birds or cuts, one line for each kind.
    #[serde(default)]
    pub birds: Vec<Bird>,
    /// Dishes that want the oven as well.
    #[serde(default)]
    pub dishes: Vec<Dish>,
    /// A meal kit that brings the birds.
    #[serde(default)]
    pub kit: Option<MealKit>,
    /// Methods that are wanted; the planner chooses those left out.
    #[serde(default)]
    pub methods: Methods,
    /// The kitchen.
    #[serde(default)]
    pub kitchen: Kitchen,
    /// The cook's hours.
    #[serde(default)]
    pub cook: Cook,
    /// A class that cooks.
    #[serde(default)]
    pub class: Option<Class>,
    /// How much each criterion weighs in the ranking; each one decides only between equals of those before it when
    /// left out.
    #[serde(default)]
    pub weights: Option<Weights>,
    /// What was done and measured up to `now`, in any order.
    #[serde(default)]
    pub progress: Vec<Progress>,
    /// When the plan was first made, so that a new one can say what changed; the time of the first piece of progress
    /// when left out.
    #[serde(default)]
    pub planned_at: Option<Moment>,
    /// Whether the heat model may lengthen the printed times of thaw and roast, and shorten the quick case of a roast;
    /// false when left out. Where no row is published for the mass of a bird, its time stands in anyway, marked.
    #[serde(default)]
    pub use_model: bool,
    /// Units for the sheets; US customary for a United States standard, else metric.
    #[serde(default)]
    pub units: Option<UnitSystem>,
    /// Clock for the sheets; 12 hours with US customary units, else 24.
    #[serde(default)]
    pub clock: Option<HourClock>,
}

impl Order {
    /// Every line of birds: the one of `bird`, or those of `birds`.
    pub fn lines(&self) -> impl Iterator<Item = &Bird> {
        self.bird.iter().chain(&self.birds)
    }

    /// The path of a line of birds, for errors.
    pub(super) fn line_field(&self, at: usize) -> String {
        if self.bird.is_some() {
            "bird".to_owned()
        } else {
            format!("birds[{at}]")
        }
    }

    /// When the plan was first made: as said, or the time of the first piece of progress, or now.
    pub(super) fn first_now(&self) -> Option<&Moment> {
        let first = self.progress.iter().map(|piece| &piece.at).min();
        self.planned_at.as_ref().or(first).or(self.now.as_ref())
    }
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
    /// Who fills the plates; the kitchen when left out. Birds and gravy are reckoned for a buffet where guests do.
    #[serde(default)]
    pub service: Service,
    /// Whether another main dish is served beside the birds.
    #[serde(default)]
    pub second_main: bool,
    /// Allergens to avoid.
    #[serde(default)]
    pub avoid: Vec<String>,
    /// Groups among them who avoid allergens.
    #[serde(default)]
    pub groups: Vec<GuestGroup>,
}

impl Guests {
    /// Whether any guest avoids an allergen, by its name or a word that holds it.
    pub(super) fn avoids(&self, names: &[&str]) -> bool {
        let of_groups = self.groups.iter().flat_map(|group| &group.avoid);
        self.avoid.iter().chain(of_groups).any(|given| {
            let given = given.to_lowercase();
            names.iter().any(|name| given.contains(name))
        })
    }

    /// What thickens the gravy: starch where any guest avoids wheat, so that one gravy is for all.
    #[must_use]
    pub fn thickener(&self) -> Thickener {
        if self.avoids(&["wheat", "gluten", "flour"]) {
            Thickener::Starch
        } else {
            Thickener::Flour
        }
    }
}

/// Some of the guests.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GuestGroup {
    /// What they are called.
    pub name: String,
    /// How many they are; they are counted among the adults and children already.
    pub people: u32,
    /// Allergens they avoid.
    pub avoid: Vec<String>,
}

/// The bird, in hand or to buy.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bird {
    /// What it is called, to tell it from the others; species, cut and number when left out.
    #[serde(default)]
    pub name: Option<String>,
    /// How many like it; one in hand, or as many as it takes to feed the guests, when left out.
    #[serde(default)]
    pub count: Option<u32>,
    /// The species.
    pub species: Species,
    /// The cut; whole when left out.
    #[serde(default = "default::cut")]
    pub cut: Cut,
    /// Mass of each bird in hand; when left out the plan says what to buy.
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

/// A dish that wants the oven.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dish {
    /// What it is called.
    pub name: String,
    /// How long it is in the oven.
    pub time: Duration,
    /// The coolest oven that does.
    pub coolest: Temperature,
    /// The hottest oven that does.
    pub hottest: Temperature,
    /// Whether it may wait hot once it is done; false when left out.
    #[serde(default)]
    pub can_be_held: bool,
    /// Hands-on time before it goes in.
    #[serde(default)]
    pub hands_on: Option<Duration>,
}

/// A meal kit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MealKit {
    /// When it arrives.
    pub delivered: Moment,
    /// The last day on which its birds may be cooked.
    #[schemars(with = "String")]
    pub use_by: Date,
}

/// How much each criterion weighs: points for each step or hour, added up; the fewest points win.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weights {
    /// Points for each step outside the cook's hours.
    #[serde(default)]
    pub night_step: u32,
    /// Points for each trade-off in the eating.
    #[serde(default)]
    pub compromise: u32,
    /// Points for each step up to the oven that falls outside the lessons of a class.
    #[serde(default)]
    pub outside_lesson: u32,
    /// Points for each hour of standing by.
    #[serde(default)]
    pub attended_hour: u32,
    /// Points for each hour of holding hot in the quick case.
    #[serde(default)]
    pub hold_hour: u32,
    /// Points for each hour that the work begins before the serving hour.
    #[serde(default)]
    pub ahead_hour: u32,
}
