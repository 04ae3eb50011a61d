//! Gravy: volume for the guests, roux by weight, body, and the allergens it brings in.

mod pan;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rulebook, Topic};
use crate::units::{Mass, MassUnit, Volume, VolumeUnit};

use pan::Pan;

/// How thick the gravy is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Body {
    /// Pours like cream.
    Thin,
    /// The sheet of 1½ tbsp of flour a cup.
    Medium,
    /// The measure most sheets print, 2 tbsp a cup.
    #[default]
    MediumThick,
    /// Mounds a little.
    Thick,
}

impl Body {
    const fn process(self) -> Option<&'static str> {
        match self {
            Self::Thin => Some("thin"),
            Self::Medium => Some("medium"),
            Self::MediumThick => None,
            Self::Thick => Some("thick"),
        }
    }
}

/// What thickens the gravy.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Thickener {
    /// Wheat flour in a roux.
    #[default]
    Flour,
    /// Maize starch, stirred in cold.
    Starch,
}

/// The fat of the roux.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RouxFat {
    /// Fat skimmed from the drippings.
    #[default]
    Drippings,
    /// Butter.
    Butter,
}

/// "How do I make the gravy?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GravyQuery {
    /// Guests, 1 to 2000; needed unless a volume is given.
    #[serde(default)]
    pub guests: u32,
    /// Volume wanted; by the guests when left out.
    #[serde(default)]
    pub volume: Option<Volume>,
    /// Raw mass of all birds that drip into the pans; the drippings and the fat that renders are reckoned from it.
    #[serde(default)]
    pub bird_mass: Option<Mass>,
    /// Whether guests help themselves, or like much.
    #[serde(default)]
    pub generous: bool,
    /// How thick; the measure most sheets print when left out.
    #[serde(default)]
    pub body: Body,
    /// What thickens it; flour when left out.
    #[serde(default)]
    pub thickener: Thickener,
    /// The fat; from the drippings when left out.
    #[serde(default)]
    pub fat: RouxFat,
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

/// The answer about gravy.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Gravy {
    /// Liquid to thicken: drippings without fat, and stock.
    pub liquid: Volume,
    /// Flour or starch by mass.
    pub thickener: Mass,
    /// The same by volume.
    pub thickener_volume: Volume,
    /// Fat by mass; none for starch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fat: Option<Mass>,
    /// The same by volume.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fat_volume: Option<Volume>,
    /// Stock to have ready if the bird gives few drippings.
    pub stock_to_have: Volume,
    /// Least drippings with their fat, where anything is known of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drippings_low: Option<Volume>,
    /// Most drippings with their fat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drippings_high: Option<Volume>,
    /// Least fat that renders from the birds; only with their mass.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rendered_fat_low: Option<Mass>,
    /// Most fat that renders from the birds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rendered_fat_high: Option<Mass>,
    /// Allergens of what is named here.
    pub allergens: Vec<String>,
    /// Remarks.
    pub findings: Vec<Finding>,
    /// What to do.
    #[serde(rename = "do")]
    pub to_do: Vec<String>,
    /// Ids of the rules.
    pub rules: Vec<String>,
}

/// Most guests.
const MOST_GUESTS: u32 = 2000;

/// Milligrams in a tablespoon. USDA SR26 cup weights: flour 125 g, maize starch 128 g (read); poultry fat 12.8 g and
/// butter 14.2 g a tablespoon (read).
const FLOUR_SPOON: i64 = 7_812;
const STARCH_SPOON: i64 = 8_000;
const POULTRY_FAT_SPOON: i64 = 12_800;
const BUTTER_SPOON: i64 = 14_200;

/// Gravy for a number of guests: liquid, thickener, fat and allergens.
///
/// Flour = volume × the rule's spoons a cup; fat = flour by weight. Starch takes half the flour and no fat.
///
/// Drippings and rendered fat are ranges: for a turkey 2 to 3 cups (common practice), widened to a share of the raw
/// mass where that is given; for other birds only the fat is known, for duck and goose as an upper bound.
///
/// Limits: spoons a cup are common practice. A dark roux thickens less; acid, long boiling and freezing thin the gravy.
///
/// Errors: neither guests nor a volume, more than 2000 guests, an unknown standard, or no rule for the volume or flour.
///
/// ```
/// use poulter::gravy::{GravyQuery, gravy};
/// use poulter::rules::Rulebook;
/// let query: GravyQuery = serde_json::from_str(r#"{"guests": 12}"#)?;
/// let answer = gravy(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.liquid.as_cups(), 4.0);
/// assert!((answer.thickener.as_grams() - 62.5).abs() < 0.1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn gravy(book: &Rulebook, query: &GravyQuery) -> Result<Answer<Gravy>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let value = work_out(&mut basis, query)?;
    Ok(basis.finish(value))
}

/// Gravy inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &GravyQuery) -> Result<Gravy, Error> {
    let mut rules = Vec::new();
    let liquid = liquid(basis, query, &mut rules)?;
    let flour_volume = with_process(basis, query.body.process(), |basis| {
        let rule = basis.require(Topic::GravyFlour)?;
        rules.push(rule.id.clone());
        match rule.requirement {
            Requirement::VolumePerVolume { volume, per } => {
                Ok(volume.times_ratio(liquid.steps() / 1000, (per.steps() / 1000).max(1)))
            }
            _ => Err(unusable(&rule.id)),
        }
    })?;
    let mut findings = Vec::new();
    let (thickener, thickener_volume, fat) = match query.thickener {
        Thickener::Flour => {
            let flour = weigh(flour_volume, FLOUR_SPOON);
            (
                flour,
                flour_volume,
                Some(roux_fat(basis, flour, &mut rules)?),
            )
        }
        Thickener::Starch => {
            basis.assume(
                "Starch thickens about twice as much as flour, and needs no fat (common practice).",
            );
            let volume = flour_volume.times_ratio(1, 2);
            (weigh(volume, STARCH_SPOON), volume, None)
        }
    };
    let spoon = match query.fat {
        RouxFat::Drippings => POULTRY_FAT_SPOON,
        RouxFat::Butter => BUTTER_SPOON,
    };
    let pan = Pan::of(basis, query, &mut rules);
    findings.push(Finding::advice(
        "A brined or salted bird gives salty drippings: taste before salting.",
        None,
    ));
    if query.fat == RouxFat::Drippings {
        findings.extend(fat.and_then(|fat| pan.short_of_fat(basis, fat)));
    }
    let mut to_do = vec![
        "Pour the drippings off, let them stand and skim the fat; loosen the pan with 1/2 to 1 cup of stock.".to_owned(),
    ];
    to_do.push(match query.thickener {
        Thickener::Flour => "Cook fat and flour together, then whisk in the liquid.".to_owned(),
        Thickener::Starch => {
            "Stir the starch into a little cold stock and whisk it into the simmering liquid."
                .to_owned()
        }
    });
    for topic in [Topic::GravyBoil, Topic::KeepGravy] {
        if let Some(rule) = basis.find(topic) {
            rules.push(rule.id.clone());
            to_do.extend(rule.said());
        }
    }
    Ok(Gravy {
        liquid,
        thickener,
        thickener_volume,
        fat_volume: fat.map(|fat| fill(fat, spoon)),
        fat,
        // Nothing is counted on where nothing is known.
        stock_to_have: liquid.minus(pan.drippings.map_or(Volume::ZERO, |(low, _)| low)),
        drippings_low: pan.drippings.map(|(low, _)| low),
        drippings_high: pan.drippings.map(|(_, high)| high),
        rendered_fat_low: pan.fat.map(|(low, _)| low),
        rendered_fat_high: pan.fat.map(|(_, high)| high),
        allergens: allergens(query),
        findings,
        to_do,
        rules,
    })
}

fn liquid(
    basis: &mut Basis<'_>,
    query: &GravyQuery,
    rules: &mut Vec<String>,
) -> Result<Volume, Error> {
    if let Some(volume) = query.volume {
        return Ok(volume);
    }
    if query.guests == 0 {
        return Err(
            Error::new(ErrorKind::MissingField, "", "guests or a volume are needed").at("guests"),
        );
    }
    if query.guests > MOST_GUESTS {
        let expected = format!("from 1 to {MOST_GUESTS} guests are needed");
        return Err(Error::new(ErrorKind::OutOfRange, query.guests, expected).at("guests"));
    }
    with_process(basis, query.generous.then_some("generous"), |basis| {
        let rule = basis.require(Topic::GravyVolume)?;
        rules.push(rule.id.clone());
        match rule.requirement {
            // Gravy runs out before anything else: the larger printed amount is made.
            Requirement::VolumePerPerson { high, .. } => Ok(high
                .times_ratio(i64::from(query.guests), 1)
                .in_unit(VolumeUnit::Cup)),
            _ => Err(unusable(&rule.id)),
        }
    })
}

fn roux_fat(basis: &mut Basis<'_>, flour: Mass, rules: &mut Vec<String>) -> Result<Mass, Error> {
    let rule = basis.require(Topic::GravyRoux)?;
    rules.push(rule.id.clone());
    match rule.requirement {
        Requirement::Share { low, .. } => Ok(flour.times_ratio(low.steps(), 1_000_000_000)),
        _ => Err(unusable(&rule.id)),
    }
}

/// Looks rules up for one process word, and puts the case back.
fn with_process<'b, T>(
    basis: &mut Basis<'b>,
    process: Option<&'b str>,
    look_up: impl FnOnce(&mut Basis<'b>) -> T,
) -> T {
    let before = basis.case.process;
    basis.case.process = process;
    let found = look_up(basis);
    basis.case.process = before;
    found
}

fn unusable(rule: &str) -> Error {
    Error::new(ErrorKind::NoPublishedRow, rule, "the rule names no amount")
}

const SPOON: i64 = 1_478_676_478_125;
const MILLIGRAM: i64 = 1_000_000;

/// The mass of a volume, to the tenth of a gram of a kitchen scale.
fn weigh(volume: Volume, spoon: i64) -> Mass {
    let mass = Mass::from_steps(MILLIGRAM, MassUnit::Milligram)
        .times_ratio(spoon, 1)
        .times_ratio(volume.steps() / 1000, SPOON / 1000);
    let tenth = 100 * MILLIGRAM;
    Mass::from_steps((mass.steps() + tenth / 2) / tenth * tenth, MassUnit::Gram)
}

fn fill(mass: Mass, spoon: i64) -> Volume {
    Volume::from_steps(SPOON, VolumeUnit::Tablespoon).times_ratio(mass.steps() / MILLIGRAM, spoon)
}

fn allergens(query: &GravyQuery) -> Vec<String> {
    let mut found = Vec::new();
    if query.thickener == Thickener::Flour {
        found.push("wheat (flour)".to_owned());
    }
    if query.thickener == Thickener::Flour && query.fat == RouxFat::Butter {
        found.push("milk (butter)".to_owned());
    }
    found.push("bought stock may hold wheat, soy, milk or celery: read its label".to_owned());
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(text: &str) -> Gravy {
        let query: GravyQuery = serde_json::from_str(text).unwrap();
        gravy(Rulebook::builtin(), &query).unwrap().answer
    }

    #[test]
    fn twelve_guests_by_the_sheets() {
        // Gravy sheets: 1/3 cup a person, 2 tbsp of flour a cup; USDA SR26: 125 g of flour a cup.
        let medium_thick = ask(r#"{"guests": 12}"#);
        assert_eq!(medium_thick.liquid, Volume::parse("4 cups").unwrap());
        assert!((medium_thick.thickener.as_grams() - 62.5).abs() < 0.05);
        assert!((medium_thick.thickener_volume.as_tablespoons() - 8.0).abs() < 1e-6);
        // Equal by weight is unequal by volume: 62.5 g of poultry fat are 62.5 / 12.8 = 4.88 tbsp.
        assert_eq!(medium_thick.fat, Some(medium_thick.thickener));
        assert!((medium_thick.fat_volume.unwrap().as_tablespoons() - 4.88).abs() < 0.01);
        // The sheet of 1 1/2 tbsp a cup: 6 tbsp for 4 cups.
        let medium = ask(r#"{"guests": 12, "body": "medium"}"#);
        assert!((medium.thickener_volume.as_tablespoons() - 6.0).abs() < 1e-6);
        for (body, spoons) in [("thin", 4.0), ("thick", 12.0)] {
            let gravy = ask(&format!(r#"{{"guests": 12, "body": "{body}"}}"#));
            assert!((gravy.thickener_volume.as_tablespoons() - spoons).abs() < 1e-6);
        }
    }

    #[test]
    fn starch_takes_half_and_brings_no_wheat() {
        let starch = ask(r#"{"guests": 12, "thickener": "starch"}"#);
        assert!((starch.thickener.as_grams() - 32.0).abs() < 0.05);
        assert_eq!(starch.fat, None);
        assert!(
            !starch
                .allergens
                .iter()
                .any(|text| text.starts_with("wheat"))
        );
        let butter = ask(r#"{"guests": 12, "fat": "butter"}"#);
        assert_eq!(butter.allergens[..2], ["wheat (flour)", "milk (butter)"]);
    }

    #[test]
    fn a_buffet_takes_more_and_drippings_spare_stock() {
        // Caterer sheets: 1/2 to 2/3 cup; home-economics page: 2 cups of drippings at least.
        let generous = ask(r#"{"guests": 12, "generous": true}"#).liquid;
        assert!((generous.as_cups() - 8.0).abs() < 1e-6);
        assert_eq!(
            ask(r#"{"volume": "4 cups"}"#).stock_to_have,
            Volume::parse("2 cups").unwrap()
        );
        for (volume, cups) in [("1.9 cups", 0.0), ("2 cups", 0.0), ("2.1 cups", 0.1)] {
            let stock = ask(&format!(r#"{{"volume": "{volume}"}}"#)).stock_to_have;
            assert!((stock.as_cups() - cups).abs() < 1e-9, "{volume}");
        }
        let duck = ask(r#"{"volume": "4 cups", "species": "duck"}"#);
        assert_eq!(duck.stock_to_have, Volume::parse("4 cups").unwrap());
    }

    #[test]
    fn guests_are_counted_under_at_and_over() {
        for (guests, fits) in [
            (0, false),
            (1, true),
            (1999, true),
            (2000, true),
            (2001, false),
        ] {
            let query: GravyQuery =
                serde_json::from_str(&format!(r#"{{"guests": {guests}}}"#)).unwrap();
            assert_eq!(gravy(Rulebook::builtin(), &query).is_ok(), fits, "{guests}");
        }
    }
}
