//! Preparing the bird: what is done in which order, how much stuffing, fat and salt, and which allergens come in.

mod allergens;
mod ingredients;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::brine::{SaltAmount, dry_salt};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rule, Rulebook, Topic};
use crate::units::{Mass, MassUnit, Volume, VolumeUnit};

pub use allergens::{
    Allergen, AllergenList, AllergenQuery, Allergens, IngredientAllergens, allergens,
};

/// "How do I prepare this bird?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PrepareQuery {
    /// Mass of the bird.
    pub mass: Mass,
    /// Whether the bird is stuffed with stuffing to be eaten.
    #[serde(default)]
    pub stuffed: bool,
    /// Whether the bird already holds salt: brined, basted or kosher.
    #[serde(default)]
    pub already_salted: bool,
    /// Ingredients whose allergens are wanted.
    #[serde(default)]
    pub ingredients: Vec<String>,
    /// The list of allergens; the nine of the United States when left out.
    #[serde(default)]
    pub allergen_list: AllergenList,
    /// Allergens that a guest avoids.
    #[serde(default)]
    pub avoid: Vec<Allergen>,
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

/// When a step is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StepTime {
    /// All the while.
    Throughout,
    /// Once the bird is thawed.
    OnceThawed,
    /// In the hours before roasting.
    Before,
    /// Right before the oven.
    AtTheOven,
    /// When the bird is in the oven.
    Afterwards,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PrepareStep {
    /// When.
    pub when: StepTime,
    /// What to do, or never to do.
    pub text: String,
    /// The rule behind it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule: Option<String>,
}

/// An amount of stuffing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StuffingAmount {
    /// The smaller published amount.
    pub volume_low: Volume,
    /// The amount of the rule.
    pub volume_high: Volume,
    /// The smaller amount by mass.
    pub mass_low: Mass,
    /// The amount of the rule by mass.
    pub mass_high: Mass,
}

/// The answer about preparing.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Prepare {
    /// The steps in order.
    pub steps: Vec<PrepareStep>,
    /// Stuffing for a stuffed bird.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stuffing: Option<StuffingAmount>,
    /// Fat for the skin by mass, as butter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fat: Option<Mass>,
    /// The same by volume.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fat_volume: Option<Volume>,
    /// Salt for a bird that holds none yet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub salt: Option<SaltAmount>,
    /// Allergens of the ingredients named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allergens: Option<Allergens>,
    /// Remarks.
    pub findings: Vec<Finding>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// Milligrams in a cup of prepared bread stuffing: 100 g in half a cup (USDA SR26, dry mix prepared, read).
const STUFFING_CUP: i64 = 200_000;

/// Milligrams in a tablespoon of butter (USDA SR26, read).
const BUTTER_SPOON: i64 = 14_200;

/// How a bird is prepared: steps in order with their rules, stuffing, fat and salt by mass, and allergens.
///
/// Stuffing, fat and salt are the rules' amounts for the mass; stuffing weighs 200 g a cup.
///
/// Limits: fat and salt are starting points of common practice.
///
/// Errors: a mass of nothing, an ingredient list that is too long, or an unknown standard.
///
/// ```
/// use poulter::prepare::{PrepareQuery, prepare};
/// use poulter::rules::Rulebook;
/// let query: PrepareQuery = serde_json::from_str(r#"{"mass": "12 lb", "stuffed": true}"#)?;
/// let answer = prepare(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.stuffing.map(|amount| amount.volume_high.as_cups()), Some(9.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn prepare(book: &Rulebook, query: &PrepareQuery) -> Result<Answer<Prepare>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Preparing inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &PrepareQuery) -> Result<Prepare, Error> {
    if query.mass == Mass::ZERO {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            query.mass,
            "a mass above 0 is needed",
        )
        .at("mass"));
    }
    let mut value = Prepare {
        steps: Vec::new(),
        stuffing: None,
        fat: None,
        fat_volume: None,
        salt: None,
        allergens: None,
        findings: Vec::new(),
        rules: Vec::new(),
    };
    for topic in [
        Topic::PrepareHands,
        Topic::PrepareSeparate,
        Topic::PrepareWash,
    ] {
        follow(basis, topic, StepTime::Throughout, &mut value);
    }
    if matches!(query.cut, Cut::Whole | Cut::Flattened) {
        follow(
            basis,
            Topic::PrepareGiblets,
            StepTime::OnceThawed,
            &mut value,
        );
    }
    follow(basis, Topic::PrepareDrySkin, StepTime::Before, &mut value);
    seasoning(basis, query, &mut value);
    if query.stuffed {
        stuffing(basis, query, &mut value);
    } else if query.cut == Cut::Whole {
        value.steps.push(PrepareStep {
            when: StepTime::AtTheOven,
            text: "Onion, citrus or herbs may go loosely into the cavity for their scent; discard them after roasting."
                .to_owned(),
            rule: None,
        });
    }
    follow(
        basis,
        Topic::PreparePartCook,
        StepTime::AtTheOven,
        &mut value,
    );
    follow(
        basis,
        Topic::PrepareSanitiser,
        StepTime::Afterwards,
        &mut value,
    );
    if !query.ingredients.is_empty() {
        let ask = AllergenQuery {
            ingredients: query.ingredients.clone(),
            list: query.allergen_list,
            avoid: query.avoid.clone(),
            standard: query.standard.clone(),
        };
        value.allergens = Some(allergens::work_out(basis, &ask)?);
    }
    Ok(value)
}

/// Every rule of the topic as a step.
fn follow(basis: &mut Basis<'_>, topic: Topic, when: StepTime, value: &mut Prepare) {
    for rule in basis.every(topic) {
        if add_step(rule, when, value) {
            basis.note(rule);
        }
    }
}

/// One rule as a step, unless it has nothing to say.
fn add_step(rule: &Rule, when: StepTime, value: &mut Prepare) -> bool {
    let Some(text) = words(rule) else {
        return false;
    };
    value.rules.push(rule.id.clone());
    value.steps.push(PrepareStep {
        when,
        text,
        rule: Some(rule.id.clone()),
    });
    true
}

fn words(rule: &Rule) -> Option<String> {
    match &rule.requirement {
        Requirement::VolumePerVolume { volume, per } => {
            Some(format!("{}: {volume} to {per}. {}", rule.title, rule.note))
        }
        Requirement::Time { limit, .. } => {
            Some(format!("{}: {}. {}", rule.title, limit.shown(), rule.note))
        }
        _ => rule.said(),
    }
}

fn seasoning(basis: &mut Basis<'_>, query: &PrepareQuery, value: &mut Prepare) {
    let mut amounts = Vec::new();
    let mut rule_id = None;
    if let Some((rule, volume, fat)) = skin_fat(basis, query.mass) {
        value.rules.push(rule.id.clone());
        rule_id = Some(rule.id.clone());
        amounts.push(format!("{:.0} g of soft butter or oil", fat.as_grams()));
        (value.fat, value.fat_volume) = (Some(fat), Some(volume));
    } else if let Some(rule) = basis.find(Topic::PrepareFat) {
        add_step(rule, StepTime::Before, value);
    }
    if query.already_salted {
        value.findings.push(Finding::caution(
            "The bird already holds salt: take none for the skin and taste the drippings before salting gravy.",
            None,
        ));
    } else {
        // No rule for this bird: the cook salts to taste, and nothing is made up.
        value.salt = dry_salt(basis, query.mass, &mut value.rules).ok();
        if let Some(salt) = &value.salt {
            amounts.push(format!(
                "{:.0} g of {}, by hand",
                salt.mass.as_grams(),
                salt.kind.words()
            ));
        }
    }
    if !amounts.is_empty() {
        value.steps.push(PrepareStep {
            when: StepTime::Before,
            text: format!("Rub the skin with {}.", amounts.join(" and ")),
            rule: rule_id,
        });
    }
}

/// Soft butter or oil for the skin of one bird, by volume and by mass as butter; none for a bird that needs none.
pub(crate) fn skin_fat<'b>(basis: &mut Basis<'b>, mass: Mass) -> Option<(&'b Rule, Volume, Mass)> {
    let rule = basis.find(Topic::PrepareFat)?;
    let Requirement::VolumePerMass { volume, per } = rule.requirement else {
        return None;
    };
    let volume = scaled(volume, mass, per).in_unit(VolumeUnit::Tablespoon);
    Some((rule, volume, weigh(volume, BUTTER_SPOON, SPOON)))
}

fn stuffing(basis: &mut Basis<'_>, query: &PrepareQuery, value: &mut Prepare) {
    follow(basis, Topic::PrepareStuffing, StepTime::AtTheOven, value);
    let mut volumes = Vec::new();
    for rule in basis.every(Topic::PrepareStuffingAmount) {
        if let Requirement::VolumePerMass { volume, per } = rule.requirement {
            basis.note(rule);
            value.rules.push(rule.id.clone());
            volumes.push(scaled(volume, query.mass, per).in_unit(VolumeUnit::Cup));
        }
    }
    if let (Some(&decides), Some(least)) = (volumes.first(), volumes.iter().copied().min()) {
        value.stuffing = Some(StuffingAmount {
            volume_low: least,
            volume_high: decides,
            mass_low: weigh(least, STUFFING_CUP, CUP),
            mass_high: weigh(decides, STUFFING_CUP, CUP),
        });
    }
}

const SPOON: i64 = 1_478_676_478_125;
const CUP: i64 = 23_658_823_650_000;

fn scaled(volume: Volume, mass: Mass, per: Mass) -> Volume {
    volume.times_ratio(mass.steps() / 1000, (per.steps() / 1000).max(1))
}

/// The mass of a volume of which `measure` weighs that many milligrams, to the tenth of a gram of a kitchen scale.
fn weigh(volume: Volume, milligrams: i64, measure: i64) -> Mass {
    let mass = Mass::from_steps(1_000_000, MassUnit::Milligram)
        .times_ratio(milligrams, 1)
        .times_ratio(volume.steps() / 1000, measure / 1000);
    let tenth = 100_000_000;
    Mass::from_steps((mass.steps() + tenth / 2) / tenth * tenth, MassUnit::Gram)
}
