//! Room: litres of refrigerator and freezer for a bird, its brine and the leftovers, and how many shallow containers.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Requirement, Rulebook, Topic};
use crate::units::{Length, LengthUnit, Mass, Volume, VolumeUnit};

/// "Is there room for it?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpaceQuery {
    /// Raw mass of the birds together.
    #[serde(default)]
    pub bird: Option<Mass>,
    /// Volume of the wet brine round them; they lie unbrined when left out.
    #[serde(default)]
    pub brine: Option<Volume>,
    /// Cooked meat left over, cut from the bone.
    #[serde(default)]
    pub leftovers: Option<Mass>,
    /// Gravy, stock or soup left over.
    #[serde(default)]
    pub liquid: Option<Volume>,
    /// Inner length of a container; 8 in when left out.
    #[serde(default)]
    pub container_length: Option<Length>,
    /// Inner width of a container; as its length when left out.
    #[serde(default)]
    pub container_width: Option<Length>,
    /// Room free in the refrigerator; then what is needed is set against it.
    #[serde(default)]
    pub refrigerator_free: Option<Volume>,
    /// Room free in the freezer; then what is needed is set against it.
    #[serde(default)]
    pub freezer_free: Option<Volume>,
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

/// Shallow containers for one sort of leftover.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Containers {
    /// How many at least.
    pub low: u32,
    /// How many when the food lies loosely.
    pub high: u32,
    /// How deep they are filled at most.
    pub depth: Length,
    /// What each holds at that depth.
    pub each: Volume,
    /// The rule for the depth.
    pub rule: String,
}

/// The answer about room.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Space {
    /// Volume of the birds themselves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub displaced: Option<Volume>,
    /// Room that the birds take in the refrigerator, in their brine where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refrigerator_low: Option<Volume>,
    /// The larger room.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub refrigerator_high: Option<Volume>,
    /// Room that the birds take in the freezer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub freezer_low: Option<Volume>,
    /// The larger room.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub freezer_high: Option<Volume>,
    /// The smallest vessel for the birds and their brine.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vessel: Option<Volume>,
    /// Room that the leftovers take in the freezer at least, packed without gaps.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leftovers_freezer: Option<Volume>,
    /// Containers for the meat.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meat_containers: Option<Containers>,
    /// Containers for gravy, stock or soup.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liquid_containers: Option<Containers>,
    /// What is needed against what is free.
    pub findings: Vec<Finding>,
    /// Where the densities come from, and how they were read.
    pub sources: Vec<String>,
}

/// Poultry with its bones, kg/L (from memory; the vessel of a brine uses the same).
const DENSITY: f64 = 1.05;

/// Outer box of a bird as a multiple of its own volume: cavity and shape (common practice).
const BOX: [f64; 2] = [2.0, 2.5];

/// A pound in a cubic foot, kg/L: 0.453 592 37 kg in 28.316 846 592 L.
const POUND_IN_CUBIC_FOOT: f64 = 0.453_592_37 / 28.316_846_592;

/// Blocks of meat in a freezer, lb/ft³: the most that fits (North Carolina State University, frequent questions, read).
const BLOCKS: f64 = 35.0;

/// Birds in a freezer, lb/ft³, from tight to loose (common practice).
const BIRDS: [f64; 2] = [25.0, 20.0];

/// Side of a common square container (common practice).
const SIDE: Length = Length::from_steps(203_200, LengthUnit::Inch);

/// Litres of refrigerator and freezer, the vessel of a brine, and the containers of leftovers.
///
/// Displaced `V = m / 1.05 kg/L`; in the refrigerator 2 to 2.5 V, or with a brine `(V + V_brine) · 1.15`; in the freezer
/// 20 to 25 lb/ft³ for birds and at most 35 lb/ft³ for blocks. Containers: volume of the food over length × width × the
/// rule's depth, rounded up; meat lies between 1.05 kg/L and 35 lb/ft³.
///
/// Limits: round figures for planning. A tall vessel needs height as well as litres.
///
/// Errors: neither bird nor leftovers, a container without length or width, an unknown standard.
///
/// ```
/// use poulter::rules::Rulebook;
/// use poulter::storage::{SpaceQuery, space};
/// let query: SpaceQuery = serde_json::from_str(r#"{"bird": "12 lb", "leftovers": "3 lb"}"#)?;
/// let answer = space(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.displaced.map(|room| room.as_litres()), Some(5.19));
/// assert_eq!(answer.meat_containers.map(|made| (made.low, made.high)), Some((1, 2)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn space(book: &Rulebook, query: &SpaceQuery) -> Result<Answer<Space>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    if query.bird.is_none() && query.leftovers.is_none() && query.liquid.is_none() {
        let expected = "the mass of a bird, or leftovers, are needed";
        return Err(Error::new(ErrorKind::MissingField, "", expected).at("bird"));
    }
    let mut value = Space {
        displaced: None,
        refrigerator_low: None,
        refrigerator_high: None,
        freezer_low: None,
        freezer_high: None,
        vessel: None,
        leftovers_freezer: None,
        meat_containers: None,
        liquid_containers: None,
        findings: Vec::new(),
        sources: Vec::new(),
    };
    if let Some(bird) = query.bird {
        room_of_birds(query, bird.as_kilograms(), &mut value)?;
    }
    leftovers(&mut basis, query, &mut value)?;
    against_what_is_free(query, &mut value);
    Ok(basis.finish(value))
}

fn room_of_birds(query: &SpaceQuery, bird_kg: f64, value: &mut Space) -> Result<(), Error> {
    let displaced = bird_kg / DENSITY;
    value.displaced = Some(litres(displaced)?);
    let [low, high] = if let Some(brine) = query.brine {
        let vessel = litres(crate::brine::vessel_l(bird_kg, brine.as_litres()))?;
        value.vessel = Some(vessel);
        value
            .sources
            .push("15 % of head room in the vessel: common practice".to_owned());
        [vessel; 2]
    } else {
        value.sources.push(
            "Box of a bird, 2 to 2.5 times its own volume for cavity and shape: common practice"
                .to_owned(),
        );
        [litres(displaced * BOX[0])?, litres(displaced * BOX[1])?]
    };
    (value.refrigerator_low, value.refrigerator_high) = (Some(low), Some(high));
    let [tight, loose] = BIRDS.map(|density| litres(bird_kg / (density * POUND_IN_CUBIC_FOOT)));
    (value.freezer_low, value.freezer_high) = (Some(tight?), Some(loose?));
    value.sources.extend(
        [
            "Density of poultry, 1.05 kg/L: from memory",
            "Birds in a freezer, 20 to 25 lb/ft3: common practice",
        ]
        .map(str::to_owned),
    );
    Ok(())
}

fn leftovers(basis: &mut Basis<'_>, query: &SpaceQuery, value: &mut Space) -> Result<(), Error> {
    let block = BLOCKS * POUND_IN_CUBIC_FOOT;
    let meat = query.leftovers.map(Mass::as_kilograms);
    if let Some(kg) = meat {
        let volumes = [litres(kg / DENSITY)?, litres(kg / block)?];
        value.leftovers_freezer = Some(volumes[1]);
        value.sources.push(
            "Packed meat in a freezer, at most 35 lb/ft3: North Carolina State University, frequent questions (read)"
                .to_owned(),
        );
        value.meat_containers = containers(basis, query, volumes)?;
    }
    if let Some(liquid) = query.liquid {
        value.liquid_containers =
            basis.under("thin-liquid", |basis| containers(basis, query, [liquid; 2]))?;
    }
    Ok(())
}

/// How many containers hold a volume, filled to the depth of the rule; none where no depth is published.
fn containers(
    basis: &mut Basis<'_>,
    query: &SpaceQuery,
    volumes: [Volume; 2],
) -> Result<Option<Containers>, Error> {
    let Some(rule) = basis.find(Topic::CoolDepth) else {
        basis.assume("No depth is published for cooling food; containers are not counted.");
        return Ok(None);
    };
    let Requirement::DepthLimit { to: depth } = rule.requirement else {
        return Ok(None);
    };
    let length = query.container_length.unwrap_or(SIDE);
    let width = query.container_width.unwrap_or(length);
    if query.container_length.is_none() {
        basis.assume("Containers of 8 in by 8 in inside (common practice).");
    }
    for (side, field) in [(length, "container_length"), (width, "container_width")] {
        if side.steps() <= 0 || side > LONGEST_SIDE {
            let expected = "above 0 to 1 m is needed";
            return Err(Error::new(ErrorKind::OutOfRange, side, expected).at(field));
        }
    }
    // Cubic micrometres, and ten of them are a step of a volume.
    let cubic: i128 = [length, width, depth]
        .iter()
        .map(|side| i128::from(side.steps()))
        .product();
    let each = (cubic / 10).max(1);
    let count = |volume: Volume| {
        let count = (i128::from(volume.steps()) + each - 1) / each;
        u32::try_from(count).unwrap_or(u32::MAX)
    };
    let [low, high] = volumes.map(count);
    Ok(Some(Containers {
        low,
        high,
        depth,
        each: Volume::from_steps(i64::try_from(each).unwrap_or(i64::MAX), VolumeUnit::Litre),
        rule: rule.id.clone(),
    }))
}

/// Longest side of a container that a kitchen has.
const LONGEST_SIDE: Length = Length::from_steps(1_000_000, LengthUnit::Metre);

fn against_what_is_free(query: &SpaceQuery, value: &mut Space) {
    for (place, free, low, high) in [
        (
            "refrigerator",
            query.refrigerator_free,
            value.refrigerator_low,
            value.refrigerator_high,
        ),
        (
            "freezer",
            query.freezer_free,
            value.freezer_low,
            value.freezer_high,
        ),
    ] {
        let (Some(free), Some(low), Some(high)) = (free, low, high) else {
            continue;
        };
        let finding = if free < low {
            Finding::caution(
                format!("The {place} has {free} free; the birds need {low} at least."),
                None,
            )
        } else if free < high {
            Finding::advice(
                format!(
                    "The {place} has {free} free, which may do: the birds need {low} to {high}."
                ),
                None,
            )
        } else {
            Finding::advice(
                format!("The {place} has {free} free, enough for the birds ({high})."),
                None,
            )
        };
        value.findings.push(finding);
    }
}

/// A volume rounded up to a hundredth of a litre.
fn litres(value: f64) -> Result<Volume, Error> {
    Volume::from_litres((value * 100.0).ceil() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn ask(query: Value) -> Result<Space, Error> {
        let query: SpaceQuery = serde_json::from_value(query).unwrap();
        space(Rulebook::builtin(), &query).map(|answer| answer.answer)
    }

    fn near(found: Option<Volume>, expected: f64, tolerance: f64) {
        let found = found.unwrap().as_litres();
        assert!(
            (found - expected).abs() <= tolerance,
            "{found} is not {expected}"
        );
    }

    #[test]
    fn the_displaced_volumes_of_three_birds() {
        // By hand at 1.05 kg/L: 12, 16 and 20 lb are 5.443, 7.257 and 9.072 kg, so 5.18, 6.91 and 8.64 L.
        for (mass, expected) in [("12 lb", 5.18), ("16 lb", 6.91), ("20 lb", 8.64)] {
            near(
                ask(json!({"bird": mass})).unwrap().displaced,
                expected,
                0.02,
            );
        }
    }

    #[test]
    fn five_cubic_feet_hold_a_hundred_and_seventy_five_pounds() {
        // North Carolina State University: 35 lb/ft³; 5 ft³ are 141.584 L.
        let found = ask(json!({"leftovers": "175 lb"})).unwrap();
        near(found.leftovers_freezer, 141.584, 0.01);
        // 20 lb at 25 and 20 lb/ft³ are 0.8 and 1 ft³.
        let found = ask(json!({"bird": "20 lb"})).unwrap();
        near(found.freezer_low, 22.653, 0.01);
        near(found.freezer_high, 28.317, 0.01);
    }

    #[test]
    fn the_vessel_of_a_twelve_pound_bird_and_two_gallons() {
        // (5.18 + 7.57) × 1.15 = 14.67 L.
        let found = ask(json!({"bird": "12 lb", "brine": "2 gal"})).unwrap();
        near(found.vessel, 14.67, 0.02);
        assert_eq!(found.refrigerator_low, found.vessel);
    }

    #[test]
    fn containers_are_counted_under_at_and_over_full() {
        // 10 in × 10 in filled to the 2 in of Kansas State are 200 in³, 3.277 412 8 L.
        let count = |liquid: &str| {
            let query = json!({"liquid": liquid, "container_length": "10 in"});
            ask(query).unwrap().liquid_containers.unwrap()
        };
        for (liquid, expected) in [
            ("3.2774127 L", 1),
            ("3.2774128 L", 1),
            ("3.2774129 L", 2),
            ("6.5548256 L", 2),
            ("6.5548257 L", 3),
        ] {
            let found = count(liquid);
            assert_eq!((found.low, found.high), (expected, expected), "{liquid}");
        }
        // Southern Nevada Health District: thin liquids to 4 in, thick food to 2 in.
        let query = json!({"liquid": "6.5548256 L", "leftovers": "1 kg", "container_length": "10 in",
            "standard": "us-food-code-2022"});
        let found = ask(query).unwrap();
        assert_eq!(found.liquid_containers.unwrap().high, 1);
        assert_eq!(
            found.meat_containers.unwrap().depth,
            Length::parse("2 in").unwrap()
        );
    }

    #[test]
    fn what_is_free_is_compared_under_at_and_over() {
        // 21 kg displace 20 L, so the box takes 40 to 50 L.
        let said = |free: &str| {
            let query = json!({"bird": "21 kg", "refrigerator_free": free});
            ask(query).unwrap().findings.remove(0).text
        };
        for (free, word) in [
            ("39.99 L", "at least"),
            ("40 L", "may do"),
            ("40.01 L", "may do"),
            ("49.99 L", "may do"),
            ("50 L", "enough"),
            ("50.01 L", "enough"),
        ] {
            assert!(said(free).contains(word), "{free}: {}", said(free));
        }
    }

    #[test]
    fn sides_are_refused_under_at_and_over() {
        for (side, fine) in [
            ("0 cm", false),
            ("0.1 mm", true),
            ("99.9 cm", true),
            ("1 m", true),
            ("1.001 m", false),
        ] {
            let found = ask(json!({"leftovers": "1 kg", "container_length": side}));
            assert_eq!(found.is_ok(), fine, "{side}");
        }
        assert_eq!(ask(json!({})).unwrap_err().field(), "bird");
    }
}
