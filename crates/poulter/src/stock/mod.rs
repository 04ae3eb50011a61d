//! Stock: bones from the carcass, water, time, yield, and how it is cooled.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, TimeEstimate, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rulebook, Topic};
use crate::units::{
    Duration, Fraction, FractionUnit, Length, Mass, Temperature, Volume, VolumeUnit,
};

/// "How much stock do these bones give?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockQuery {
    /// Raw mass of the whole bird without neck and giblets, of which the roasted carcass is used.
    #[serde(default)]
    pub bird_mass: Option<Mass>,
    /// Mass of the bones; in place of `bird_mass`.
    #[serde(default)]
    pub bones: Option<Mass>,
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

/// The answer about stock.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Stock {
    /// Mass of the bones.
    pub bones: Mass,
    /// Water to put in.
    pub water: Volume,
    /// Stock that comes of it.
    pub stock: Volume,
    /// Vegetables: an eighth of the bones.
    pub vegetables: Mass,
    /// Time at a bare simmer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeEstimate>,
    /// The lower end of the simmer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub simmer_low: Option<Temperature>,
    /// The upper end of the simmer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub simmer_high: Option<Temperature>,
    /// In what time it must be in the refrigerator.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chill_within: Option<Duration>,
    /// The greatest depth in which it cools.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<Length>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// Bones of a roasted turkey as a share of the raw bird without neck and giblets: 0.31 of the roasted mass, which is
/// 0.762 of the raw (USDA SR26, derived).
const CARCASS: Fraction = Fraction::from_steps(236_000_000, FractionUnit::Percent);

/// Stock from a carcass or from bones: water, time, yield and cooling.
///
/// Bones = 0.236 of the raw turkey; water by the rule for bones; stock by the rule's share of the water.
///
/// Limits: the share of bones is a turkey's and stands in for other birds. Neck and giblets come on top.
///
/// Errors: neither a bird nor bones, or both, an unknown standard, or no rule for water or yield.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::stock::{StockQuery, stock};
/// let query: StockQuery = serde_json::from_str(r#"{"bones": "8 lb"}"#)?;
/// let answer = stock(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.water.as_quarts(), 6.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn stock(book: &Rulebook, query: &StockQuery) -> Result<Answer<Stock>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Stock inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &StockQuery) -> Result<Stock, Error> {
    let bones = match (query.bird_mass, query.bones) {
        (None, Some(bones)) => bones,
        (Some(bird), None) => {
            if query.species != Species::Turkey {
                basis.assume("The share of bones of a turkey, 23.6 % of the raw bird, stands in for this one.");
            }
            bird.times_ratio(CARCASS.steps(), 1_000_000_000)
        }
        (Some(bird), Some(_)) => {
            return Err(Error::new(
                ErrorKind::Conflict,
                bird,
                "either a bird or its bones are needed",
            )
            .at("bird_mass"));
        }
        (None, None) => {
            return Err(Error::new(
                ErrorKind::MissingField,
                "",
                "a bird or its bones are needed",
            )
            .at("bird_mass"));
        }
    };
    let rule = basis.require(Topic::StockWater)?;
    let mut rules = vec![rule.id.clone()];
    let no_amount =
        |id: &str| Error::new(ErrorKind::NoPublishedRow, id, "the rule names no amount");
    let Requirement::VolumePerMass { volume, per } = rule.requirement else {
        return Err(no_amount(&rule.id));
    };
    let water = volume.times_ratio(bones.steps() / 1000, (per.steps() / 1000).max(1));
    let rule = basis.require(Topic::StockYield)?;
    rules.push(rule.id.clone());
    let Requirement::Share { low, .. } = rule.requirement else {
        return Err(no_amount(&rule.id));
    };
    let stock = water
        .times_ratio(low.steps(), 1_000_000_000)
        .in_unit(VolumeUnit::Quart);
    let mut value = Stock {
        bones,
        water,
        stock,
        vegetables: bones.times_ratio(1, 8),
        time: None,
        simmer_low: None,
        simmer_high: None,
        chill_within: None,
        depth: None,
        to_do: vec![
            "Keep it at a bare simmer and skim it; vegetables go in for the last hour.".to_owned(),
            "Strain, then cool it in an ice bath, stirring about every 10 min.".to_owned(),
        ],
        rules,
    };
    if let Some(rule) = basis.find(Topic::StockTime) {
        value.rules.push(rule.id.clone());
        value.time = rule.requirement.time_for(bones);
        if let Requirement::TimeRange {
            setting,
            setting_high,
            ..
        } = rule.requirement
        {
            value.simmer_low = setting;
            value.simmer_high = setting_high;
        }
    }
    cooling(basis, &mut value);
    Ok(value)
}

fn cooling(basis: &mut Basis<'_>, value: &mut Stock) {
    if let Some(rule) = basis.find(Topic::CoolStart) {
        value.rules.push(rule.id.clone());
        if let Requirement::Time { limit, .. } = &rule.requirement {
            value.chill_within = Some(limit.duration);
        }
    }
    let before = basis.case.process;
    basis.case.process = Some("thin-liquid");
    let depth = basis.find(Topic::CoolDepth);
    basis.case.process = before;
    if let Some(rule) = depth {
        value.rules.push(rule.id.clone());
        if let Requirement::DepthLimit { to } = rule.requirement {
            value.depth = Some(to);
        }
    }
    for topic in [Topic::CoolStages, Topic::KeepGravy, Topic::ReheatGravy] {
        if let Some(rule) = basis.find(topic) {
            value.rules.push(rule.id.clone());
            value.to_do.extend(rule.said());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(text: &str) -> Result<Stock, Error> {
        let query: StockQuery = serde_json::from_str(text).unwrap();
        stock(Rulebook::builtin(), &query).map(|answer| answer.answer)
    }

    #[test]
    fn the_kitchen_ratio_comes_out() {
        // Culinary-school texts: 8 lb (3.63 kg) of bones, 6 qt (5.68 L) of water, 1 lb of vegetables, 1 gal (3.79 L).
        let stock = ask(r#"{"bones": "8 lb"}"#).unwrap();
        assert_eq!(stock.water, Volume::parse("6 qt").unwrap());
        assert!((stock.stock.as_litres() / 3.79 - 1.0).abs() < 0.05);
        assert_eq!(stock.vegetables, Mass::parse("1 lb").unwrap());
        assert_eq!(stock.time.unwrap().shown(), "3 h to 4 h");
    }

    #[test]
    fn a_twelve_pound_turkey_by_hand() {
        // 0.236 × 5.44 kg = 1.28 kg of bones, about 2.0 L of water, about 1.35 L of stock.
        let stock = ask(r#"{"bird_mass": "12 lb"}"#).unwrap();
        assert!((stock.bones.as_kilograms() - 1.28).abs() < 0.01);
        assert!((stock.water.as_litres() - 2.0).abs() < 0.02);
        assert!((stock.stock.as_litres() - 1.35).abs() < 0.02);
    }

    #[test]
    fn cooling_follows_the_standard() {
        let home = ask(r#"{"bones": "8 lb"}"#).unwrap();
        // FSIS, leftovers: within 2 h; Kansas State: 2 in.
        assert_eq!(home.chill_within, Some(Duration::parse("2 h").unwrap()));
        assert_eq!(home.depth, Some(Length::parse("2 in").unwrap()));
        // Southern Nevada Health District: thin liquids up to 4 in.
        let retail = ask(r#"{"bones": "8 lb", "standard": "us-food-code-2022"}"#).unwrap();
        assert_eq!(retail.depth, Some(Length::parse("4 in").unwrap()));
        assert!(
            retail
                .rules
                .contains(&"us-food-code-2022.cool.stages".to_owned())
        );
    }

    #[test]
    fn one_of_bird_and_bones_is_needed() {
        assert_eq!(ask("{}").unwrap_err().kind(), ErrorKind::MissingField);
        let both = ask(r#"{"bones": "8 lb", "bird_mass": "12 lb"}"#).unwrap_err();
        assert_eq!(
            (both.kind(), both.field()),
            (ErrorKind::Conflict, "bird_mass")
        );
    }
}
