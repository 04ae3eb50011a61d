//! What a plan holds: steps, checks, shopping, findings, and the chains that were weighed.

use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::{Finding, TimeEstimate};
use crate::bird::{Cut, Place, Species, State};
use crate::brine::BrineMethod;
use crate::messages::{fill, say};
use crate::roast::RoastMethod;
use crate::rules::{Stage, Verdict};
use crate::thaw::ThawMethod;
use crate::units::{Duration, Fraction, HourClock, Mass, UnitSystem, Volume};

use super::model::ModelTime;
use super::moment::Moment;

/// A dated plan, or the honest answer that there is none.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Plan {
    /// Whether the dinner can be had safely at the hour asked.
    pub feasible: bool,
    /// When the food is served.
    pub serve_at: Moment,
    /// The standard the plan follows.
    pub standard: String,
    /// What is cooked, in a line.
    pub title: String,
    /// The bird, the first of several.
    pub bird: PlannedBird,
    /// Every line of birds where the order has several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub birds: Vec<PlannedBird>,
    /// Units for the sheets.
    pub units: UnitSystem,
    /// Clock for the sheets.
    pub clock: HourClock,
    /// The steps in order of their planned time; empty when not feasible.
    pub steps: Vec<Step>,
    /// What to buy.
    pub shopping: Vec<ShoppingItem>,
    /// Verdicts, advice and cautions.
    pub findings: Vec<Finding>,
    /// Every combination of methods that was weighed, the best first.
    pub chains: Vec<Chain>,
    /// What would make it possible, the smallest change first; empty when feasible.
    pub changes: Vec<Change>,
    /// The chance of serving on time; none when not feasible.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_time: Option<OnTime>,
    /// What is otherwise than in the plan before the progress, and why; empty for a plan without progress.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub news: Vec<News>,
    /// Birds that must not be eaten, with the rule.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub abandoned: Vec<Abandoned>,
}

/// How likely the food is on the table within a quarter of an hour of the time asked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OnTime {
    /// The chance.
    pub probability: Fraction,
    /// How far from the hour still counts as on time.
    pub within: Duration,
    /// What was assumed of the durations.
    pub distribution: String,
}

/// Something that is otherwise than planned before.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct News {
    /// Id of the step; none where it is about the whole plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step: Option<String>,
    /// What is otherwise.
    pub what: String,
    /// Why.
    pub why: String,
    /// When it was planned before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before: Option<Moment>,
    /// When it is planned now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<Moment>,
}

/// A bird that must not be eaten, or of which nobody can tell.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Abandoned {
    /// What it is called.
    pub bird: String,
    /// `fails`, or `cannot-tell`, which is treated alike.
    pub verdict: Verdict,
    /// Why.
    pub reason: String,
    /// Id of the rule.
    pub rule: String,
}

/// The bird of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlannedBird {
    /// What it is called, where the order has several lines.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The species.
    pub species: Species,
    /// The cut.
    pub cut: Cut,
    /// Mass of each bird.
    pub mass: Mass,
    /// How many.
    pub count: u32,
    /// The state it comes in.
    pub state: State,
    /// Whether it has still to be bought.
    pub to_buy: bool,
    /// Whether stuffing goes into it.
    pub stuffed: bool,
}

impl PlannedBird {
    /// Number, state, kind and mass, such as "one fresh turkey of 12 lb".
    #[must_use]
    pub fn in_words(&self, units: UnitSystem) -> String {
        let key = if self.count == 1 {
            "birds-one"
        } else {
            "birds-many"
        };
        fill(
            key,
            &[
                ("count", &self.count),
                ("state", &self.state.name()),
                ("bird", &kind(self.species, self.cut)),
                ("mass", &units.mass(self.mass)),
            ],
        )
    }
}

/// A species and its cut in words.
fn kind(species: Species, cut: Cut) -> String {
    let species = say(match species {
        Species::Turkey => "species-turkey",
        Species::Chicken => "species-chicken",
        Species::Capon => "species-capon",
        Species::SmallHen => "species-small-hen",
        Species::Duck => "species-duck",
        Species::Goose => "species-goose",
        Species::GuineaFowl => "species-guinea-fowl",
        Species::Pheasant => "species-pheasant",
        Species::Quail => "species-quail",
    });
    let cut = match cut {
        Cut::Whole => "cut-whole",
        Cut::Flattened => "cut-flattened",
        Cut::Breast => "cut-breast",
        Cut::BonelessBreast => "cut-boneless-breast",
        Cut::Leg => "cut-leg",
        Cut::Thigh => "cut-thigh",
        Cut::Drumstick => "cut-drumstick",
        Cut::Wing => "cut-wing",
        Cut::Parts => "cut-parts",
        Cut::Ground => "cut-ground",
    };
    fill(cut, &[("species", &species)])
}

/// When a step may start.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Window {
    /// Not before.
    pub earliest: Moment,
    /// The time on the sheet.
    pub planned: Moment,
    /// Not after.
    pub latest: Moment,
}

/// Something a step needs for itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Resource {
    /// The oven.
    Oven,
    /// The sink or a tub for water.
    Sink,
    /// Room in the refrigerator.
    Refrigerator,
    /// Room in the box with ice.
    Cooler,
    /// A cook's hands.
    Cook,
}

/// Something to measure and write down.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Record {
    /// What is measured.
    pub what: String,
    /// Where the thermometer goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// The limit, in words.
    pub limit: String,
    /// What to do when the limit is not met.
    pub otherwise: String,
    /// Id of the rule.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule: Option<String>,
}

/// Something that comes back at equal times within a step, such as a change of water.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Repeat {
    /// How often.
    pub every: Duration,
    /// What to do each time.
    pub what: String,
}

/// Something that a step keeps for itself for a time, up to its slow case.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Use {
    /// What it is.
    pub resource: Resource,
    /// Which one, from 1; the number of the line in the order's list of ovens.
    pub number: u32,
    /// What that one is called, where the order says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// From when.
    pub from: Moment,
    /// Until when.
    pub to: Moment,
    /// How much room it takes, in refrigerator or cooler.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<Volume>,
}

/// Who does a step, where a class cooks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Performer {
    /// The class, in its lesson.
    Class,
    /// The teacher, outside the lessons.
    Teacher,
}

/// One step of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Step {
    /// A stable name within the plan, such as `thaw`.
    pub id: String,
    /// The stage of the job.
    pub stage: Stage,
    /// A heading for people.
    pub title: String,
    /// The bird it is about, where the order has several lines.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bird: Option<String>,
    /// Who does it, where a class cooks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<Performer>,
    /// When it may start.
    pub window: Window,
    /// How long it takes.
    pub duration: TimeEstimate,
    /// What the heat model says of that, where the order asks for it and the model covers the bird.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model: Option<ModelTime>,
    /// How long it keeps hands busy.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hands_on: Option<Duration>,
    /// How much later than planned it may start with dinner still on time in the slow case; none for what comes with
    /// or after the meal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slack: Option<Duration>,
    /// Whether it is on the critical path: no step before the meal has less slack.
    #[serde(skip_serializing_if = "is_false")]
    pub governs: bool,
    /// What it needs for itself.
    pub occupies: Vec<Resource>,
    /// What it keeps for itself, and for how long.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uses: Vec<Use>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// What comes back at equal times.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub repeat: Option<Repeat>,
    /// What to measure and write down.
    pub record: Vec<Record>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// An amount on a shopping list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Amount {
    /// By mass.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
    /// By count.
    Count {
        /// How many.
        count: u32,
    },
}

/// A line of a shopping list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ShoppingItem {
    /// What.
    pub item: String,
    /// How much.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub amount: Option<Amount>,
    /// What to know when buying it.
    pub note: String,
    /// How many pieces, where the amount is that of one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pieces: Option<u32>,
    /// The words by which the rules for allergens know it; none where no such rule is asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ingredient: Option<&'static str>,
}

/// One combination of methods, and why it was kept or fell out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Chain {
    /// The bird it is about, where the order has several lines.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bird: Option<String>,
    /// The state in which the bird starts.
    pub state: State,
    /// How it is thawed; none for a bird that is not frozen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thaw: Option<ThawMethod>,
    /// How it is brined.
    pub brine: BrineMethod,
    /// How the oven is run.
    pub roast: RoastMethod,
    /// Whether it serves on time in the slow case and holds safely in the quick case.
    pub kept: bool,
    /// Whether it is the one that the plan follows.
    pub chosen: bool,
    /// Why it was chosen, ranked lower, or fell out.
    pub reason: String,
    /// What it was ranked by; none when it fell out before it could be timed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub criteria: Option<Criteria>,
    /// Thousandths of a point by the order's weights; none without weights.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub score: Option<i64>,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the shape that serde asks for"
)]
const fn is_false(answer: &bool) -> bool {
    !*answer
}

/// What chains are ranked by, in this order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct Criteria {
    /// Steps that would start while the cook sleeps (22:00 to 7:00) or is not free.
    pub night_steps: u32,
    /// Trade-offs in the eating: no brine, a frozen start.
    pub compromises: u32,
    /// Steps up to the oven that no lesson holds; none where no class cooks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outside_lessons: Option<u32>,
    /// Hours of standing by, such as changing water.
    pub attended: Duration,
    /// The longest that the bird may have to be held hot in the quick case.
    pub longest_hold: Duration,
    /// When the first step starts at the latest.
    pub must_start_by: Moment,
}

/// A change that would make a dinner possible.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Change {
    /// What to change.
    pub change: String,
    /// When the food could then be served.
    pub serve_at: Moment,
    /// How much later than asked; zero when not later.
    pub later_by: Duration,
}
