//! Purchase: how much to buy, how many birds, what reaches the plate, and when to buy.

mod work;
mod yields;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{Case, Rulebook};
use crate::units::{Fraction, Mass};

pub(crate) use work::work_out;
pub(crate) use yields::cooked_yield;

/// How much the guests eat, beside the usual.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Appetite {
    /// Three quarters of the usual.
    Light,
    /// The amount of the rule.
    #[default]
    Usual,
    /// A quarter more than the usual.
    Hearty,
}

impl Appetite {
    /// Fourths of the usual amount. Common practice; no source.
    const fn fourths(self) -> i64 {
        match self {
            Self::Light => 3,
            Self::Usual => 4,
            Self::Hearty => 5,
        }
    }
}

/// Who fills the plates.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Service {
    /// The kitchen or the carver.
    #[default]
    Plated,
    /// The guests themselves.
    Buffet,
}

/// How much is to be left over.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Leftovers {
    /// Nothing planned.
    #[default]
    None,
    /// A second meal.
    Some,
    /// Several meals, or for the freezer.
    Plenty,
}

/// "How much do I buy?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PurchaseQuery {
    /// Grown-up guests, 0 to 1000.
    #[serde(default)]
    pub adults: u32,
    /// Children, 0 to 1000; each counts as half a grown-up.
    #[serde(default)]
    pub children: u32,
    /// How much they eat; usual when left out.
    #[serde(default)]
    pub appetite: Appetite,
    /// What is to be left; none when left out.
    #[serde(default)]
    pub leftovers: Leftovers,
    /// Who fills the plates; the kitchen when left out. A buffet takes more.
    #[serde(default)]
    pub service: Service,
    /// Whether another main dish is served beside this one; each is then eaten less.
    #[serde(default)]
    pub second_main: bool,
    /// Mass of a bird already at hand or in view; the answer then says whether it is enough.
    #[serde(default)]
    pub mass: Option<Mass>,
    /// Whether the bird will be stuffed; the roasting table for stuffed birds then sets the largest bird.
    #[serde(default)]
    pub stuffed: bool,
    /// Whether the bird is sold stuffed and frozen.
    #[serde(default)]
    pub bought_stuffed: bool,
    /// Solution added by the packer, from the label; none when left out.
    #[serde(default = "no_solution")]
    pub solution_added: Fraction,
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

const fn no_solution() -> Fraction {
    Fraction::ZERO
}

/// What the raw mass gives on the plate.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OnThePlate {
    /// Cooked meat without skin.
    pub meat: Mass,
    /// Cooked meat with skin.
    pub with_skin: Mass,
    /// Whole servings of 3 oz, with skin.
    pub servings: u32,
    /// Cooked meat with skin for each grown-up, children counted half; leftovers included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub for_each: Option<Mass>,
    /// What the raw mass includes.
    pub raw_mass_is: String,
    /// Where the yield stands.
    pub source: String,
}

/// The answer about buying.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Purchase {
    /// Raw mass to buy; the upper end where the rule prints a range.
    pub buy: Mass,
    /// The lower end of the rule's range, where there is a rule.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_rule_low: Option<Mass>,
    /// The upper end of the rule's range, where there is a rule.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_rule_high: Option<Mass>,
    /// Raw mass that gives a feast portion of meat without skin by the measured yield.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_yield: Option<Mass>,
    /// How many birds or pieces.
    pub birds: u32,
    /// Mass of each.
    pub each: Mass,
    /// Why more than one, or that a single one is inside the roasting table.
    pub why: String,
    /// What it gives on the plate, where a yield was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_the_plate: Option<OnThePlate>,
    /// How long before cooking a fresh one may be bought.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub buy_fresh_before: Option<TimeEstimate>,
    /// Remarks.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// How much to buy, how many birds, what reaches the plate, and when to buy.
///
/// Raw mass = (adults + ½ children) × mass for a person × appetite, × 1.1 to 1.2 at a buffet, × 0.6 to 0.75 where a second
/// main is served. The mass for a person is the standard's rule for nothing, some or plenty left. A second figure comes from measured yields: portion ÷ share of cooked meat. A bird with
/// added solution takes the larger of the two, since the rule does not speak of it.
///
/// Limits: half for a child, the steps of appetite and the factors for a buffet and a second main are common practice. A child here is one that eats from a plate.
///
/// Errors: no guests and no mass, more than 1000 guests, a solution of 50 % or more, an unknown standard, or neither a
/// rule nor a measured yield for the species and cut.
///
/// ```
/// use poulter::purchase::{PurchaseQuery, purchase};
/// use poulter::rules::Rulebook;
/// use poulter::units::Mass;
/// let query: PurchaseQuery = serde_json::from_str(r#"{"adults": 10}"#)?;
/// let answer = purchase(Rulebook::builtin(), &query)?;
/// assert_eq!(answer.answer.buy, Mass::parse("10 lb")?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn purchase(book: &Rulebook, query: &PurchaseQuery) -> Result<Answer<Purchase>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}
