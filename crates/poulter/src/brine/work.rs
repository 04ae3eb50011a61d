//! The arithmetic of a brine.

use crate::answer::{Basis, Finding, TimeEstimate};
use crate::bird::Cut;
use crate::error::{Error, ErrorKind};
use crate::rules::{Requirement, Rule, Topic, Verdict};
use crate::units::{
    Duration, Fraction, FractionUnit, Length, LengthUnit, Mass, MassUnit, Temperature, Volume,
    VolumeUnit,
};

use super::physics;
use super::sodium;
use super::{Brine, BrineMethod, BrinePlace, BrineQuery, Chilling, SaltAmount, SaltKind, WetBrine};

/// Most water that custom uses, 2 gal (restaurant-style sheet, common practice).
const MOST_WATER: Volume = Volume::from_steps(757_082_356_800_000, VolumeUnit::Gallon);

/// Strongest dry salting that is taken, of the bird; custom ends at 1.5 % of the meat.
const STRONGEST_DRY: Fraction = Fraction::from_steps(50_000_000, FractionUnit::Percent);

/// Edible share of a raw whole bird: 1 − 0.29 bone (USDA SR26, refuse field, read).
const EDIBLE: f64 = 0.71;

/// Share of the raw mass that is left after roasting, for salt that stays while water leaves (USDA SR26, derived).
const ROAST_YIELD: f64 = 0.74;

/// Share of a dry salting that stays in the meat: low, high (derived).
const RETAINED: [f64; 2] = [0.8, 1.0];

/// Salt that water dissolves, kg/kg; 0.359 at 20 °C (from memory), a little less to be sure.
const DISSOLVES: f64 = 0.35;

/// Hot water as it comes from a kettle that has stood, °C; cold water and ice of home kitchens, °C.
const HOT: f64 = 90.0;
const COLD: f64 = 4.0;
const FREEZER: f64 = -18.0;

/// Heat capacity of a hot brine, J/(kg K): the top of 3400 to 3900 for 5 to 20 % (CoolProp 8.0.0), so that the ice
/// suffices.
const HOT_CAPACITY: f64 = 3900.0;

/// A cooler of 60 × 40 × 40 cm outside with 3 cm of foam.
const COOLER: ([f64; 3], f64) = ([0.6, 0.4, 0.4], 0.03);

/// A brine inside a larger answer.
pub(crate) fn work_out(basis: &mut Basis<'_>, query: &BrineQuery) -> Result<Brine, Error> {
    check(query)?;
    let solution = query.solution_added > Fraction::ZERO;
    let (sodium, known) = sodium::estimate(query.species, solution, [0.0; 2])?;
    if !known {
        basis.assume("No sodium is published for this bird; that of a turkey stands in.");
    }
    let mut value = Brine {
        method: query.method,
        allowed: true,
        refusal: None,
        salt: None,
        strength: None,
        wet: None,
        time: None,
        limit: None,
        depth_low: None,
        depth_high: None,
        sodium,
        findings: Vec::new(),
        to_do: Vec::new(),
        rules: Vec::new(),
    };
    if query.method == BrineMethod::None {
        return Ok(value);
    }
    if (solution || query.kosher) && !may_be_salted(basis, query, &mut value) {
        return Ok(value);
    }
    times(basis, query, &mut value);
    let added = if query.method == BrineMethod::Wet {
        wet(basis, query, &mut value)?
    } else {
        dry(basis, query, &mut value)?
    };
    value.sodium = sodium::estimate(query.species, solution, added)?.0;
    instructions(basis, query, &mut value);
    Ok(value)
}

fn check(query: &BrineQuery) -> Result<(), Error> {
    if query.mass == Mass::ZERO {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            query.mass,
            "a mass above 0 is needed",
        )
        .at("mass"));
    }
    if query.strength.is_some() && query.salt.is_some() {
        let expected = "either a strength or the recipe's salt is needed";
        return Err(Error::new(ErrorKind::Conflict, "strength and salt", expected).at("strength"));
    }
    if let Some(strength) = query.strength {
        let (most, text) = if query.method == BrineMethod::Wet {
            (physics::STRONGEST, "above 0 to 23 % of the brine is needed")
        } else {
            (
                STRONGEST_DRY.as_ratio(),
                "above 0 to 5 % of the bird is needed",
            )
        };
        if strength == Fraction::ZERO || strength.as_ratio() > most {
            return Err(Error::new(ErrorKind::OutOfRange, strength, text).at("strength"));
        }
    }
    if query.water.is_some_and(|water| water == Volume::ZERO) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            Volume::ZERO,
            "a volume above 0 is needed",
        )
        .at("water"));
    }
    Ok(())
}

/// The rule for a bird that already holds salt, kosher or from the packer's solution, noted as a basis.
pub(crate) fn salted_bird<'b>(basis: &mut Basis<'b>, kosher: bool) -> Option<&'b Rule> {
    let process = if kosher { "kosher" } else { "solution-added" };
    basis.under(process, |basis| basis.find(Topic::BrineSaltedBird))
}

/// Refuses a bird that already holds salt, unless the caller insists.
fn may_be_salted(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) -> bool {
    let rule = salted_bird(basis, query.kosher);
    let reason = rule.map_or_else(
        || "The bird already holds salt.".to_owned(),
        |rule| {
            value.rules.push(rule.id.clone());
            rule.said().unwrap_or_else(|| rule.title.clone())
        },
    );
    if query.override_salted {
        basis.caution(format!(
            "Brined at the caller's wish against the rule. {reason}"
        ));
        return true;
    }
    value.allowed = false;
    value.refusal = Some(reason);
    false
}

fn times(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) {
    let (usual, longest) = if query.method == BrineMethod::Wet {
        (Topic::BrineWetTime, Topic::BrineWetLimit)
    } else {
        (Topic::BrineDryTime, Topic::BrineDryLimit)
    };
    let limit = basis.find(longest).and_then(|rule| {
        value.rules.push(rule.id.clone());
        match &rule.requirement {
            Requirement::Time { limit, then, .. } => Some((rule, *limit, then)),
            _ => None,
        }
    });
    value.limit = limit.map(|(_, limit, _)| limit.duration);
    value.time = basis.find(usual).and_then(|rule| {
        value.rules.push(rule.id.clone());
        rule.requirement.time_for(query.mass)
    });
    if let (Some(time), Some(limit)) = (&mut value.time, value.limit) {
        *time = TimeEstimate {
            low: time.low.min(limit),
            likely: time.likely.min(limit),
            high: time.high.min(limit),
        };
    }
    if let Some(planned) = query.time {
        match limit {
            Some((rule, limit, then)) => {
                let (verdict, margin) = limit.judge(planned);
                let text = match verdict {
                    Verdict::Meets => format!("{} is inside {}.", planned.shown(), limit.shown()),
                    _ => format!("{} is more than {}. {then}", planned.shown(), limit.shown()),
                };
                value.findings.push(Finding::verdict(verdict, text, rule, Some(margin)));
            }
            None => value.findings.push(Finding::caution(
                "No limit is published for this bird; the time in the brine counts as time raw in the refrigerator.",
                None,
            )),
        }
    }
    let span = query
        .time
        .map_or(value.time.map(|time| (time.low, time.high)), |time| {
            Some((time, time))
        });
    let depth = |time: Duration| {
        let metres = physics::depth(physics::SALT_DIFFUSIVITY[1], time.as_seconds());
        // A depth of millimetres in steps of a micrometre.
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a few thousand micrometres"
        )]
        let micrometres = (metres * 1e6).round() as i64;
        Length::from_steps(micrometres, LengthUnit::Millimetre)
    };
    value.depth_low = span.map(|(low, _)| depth(low));
    value.depth_high = span.map(|(_, high)| depth(high));
}

/// Shortest and longest time in seconds for the estimates.
fn span_s(query: &BrineQuery, value: &Brine) -> [f64; 2] {
    let span = |time: Duration| time.as_seconds();
    match (query.time, value.time) {
        (Some(time), _) => [span(time); 2],
        (None, Some(time)) => [span(time.low), span(time.high)],
        (None, None) => [0.0; 2],
    }
}

fn wet(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) -> Result<[f64; 2], Error> {
    let kind = query.salt_kind.unwrap_or(SaltKind::Table);
    let water = water(basis, query, value);
    // One litre of water weighs 1 kg within 0.03 % up to 10 °C.
    let water_kg = water.as_litres();
    let salt = match (&query.salt, query.strength) {
        (Some(given), _) => {
            let masses = given.masses().map_err(|error| error.at("salt"))?;
            let [light, nominal, heavy] = masses.map(|salt| share(salt, water_kg));
            recipe(basis, value, light, heavy, given.volume.is_some());
            if nominal > physics::STRONGEST {
                let expected = "a brine of at most 23 % is needed";
                return Err(Error::new(ErrorKind::OutOfRange, masses[1], expected).at("salt"));
            }
            masses[1]
        }
        (None, Some(strength)) => {
            let strength = strength.as_ratio();
            grams(strength * water_kg / (1.0 - strength) * 1e3)?
        }
        (None, None) => by_rule_wet(basis, value, water)?,
    };
    let salt_kg = salt.as_kilograms();
    let meat_kg = query.mass.as_kilograms();
    let strength = salt_kg / (salt_kg + water_kg);
    let (freezes, density) = physics::brine_properties(strength).ok_or_else(|| {
        Error::new(
            ErrorKind::ModelRange,
            strength,
            "a brine of at most 23 % is needed",
        )
        .at("strength")
    })?;
    let brine_l = (salt_kg + water_kg) / density * 1e3;
    let cooler = (query.place == BrinePlace::Cooler).then(|| {
        let room = query.room.map_or(23.0, Temperature::as_celsius);
        if query.room.is_none() {
            basis.assume("The room round the cooler is at 23 °C.");
        }
        let leak = physics::cooler_leak(COOLER.0, COOLER.1);
        physics::ice_melted(leak, room - COLD, 86_400.0)
    });
    let (_, at_equilibrium) = physics::equilibrium(salt_kg, water_kg, meat_kg);
    let [slow, _, quick] = physics::SALT_DIFFUSIVITY;
    let [short, long] = span_s(query, value);
    let uptake = |diffusivity, seconds| {
        let share = physics::slab_uptake(diffusivity, seconds, physics::HALF_THICKNESS);
        // A brine with little water weakens as it gives its salt: equilibrium bounds the estimate.
        (strength * physics::SURFACE_SHARE * share).min(at_equilibrium)
    };
    let uptakes = [uptake(slow, short), uptake(quick, long)];
    value.strength = Some(percent(strength)?);
    value.salt = Some(amount(salt, kind));
    value.wet = Some(WetBrine {
        water,
        brine_mass: grams((salt_kg + water_kg) * 1e3)?.in_unit(MassUnit::Kilogram),
        brine_volume: litres(brine_l)?,
        freezes_at: Temperature::from_celsius((freezes * 100.0).round() / 100.0)?,
        chilling: chilling(water, salt_kg)?,
        vessel: litres(physics::vessel_l(meat_kg, brine_l))?,
        cooler_ice_low: cooler.map(|ice| grams(ice * 1e3)).transpose()?,
        // Lids without foam and openings multiply the leak by 1.3 to 2 (common practice).
        cooler_ice_high: cooler.map(|ice| grams(ice * 2e3)).transpose()?,
        at_equilibrium: percent(at_equilibrium)?,
        uptake_low: percent(uptakes[0])?,
        uptake_high: percent(uptakes[1])?,
    });
    Ok(uptakes)
}

fn water(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) -> Volume {
    if let Some(water) = query.water {
        return water;
    }
    let by_mass = basis.find(Topic::BrineVolume).and_then(|rule| {
        value.rules.push(rule.id.clone());
        match rule.requirement {
            Requirement::VolumePerMass { volume, per } => {
                Some(volume.times_ratio(query.mass.steps() / 1000, (per.steps() / 1000).max(1)))
            }
            _ => None,
        }
    });
    if by_mass.is_none_or(|water| water > MOST_WATER) {
        basis.assume("2 gal of water, the most that custom uses; take more, with salt in the same ratio, where the bird is not covered.");
    }
    by_mass
        .map_or(MOST_WATER, |water| water.min(MOST_WATER))
        .in_unit(VolumeUnit::Gallon)
}

/// The government's ratio is a volume of table salt for a volume of water; custom gives a share of the brine.
fn by_rule_wet(basis: &mut Basis<'_>, value: &mut Brine, water: Volume) -> Result<Mass, Error> {
    let rule = basis.require(Topic::BrineWetStrength)?;
    value.rules.push(rule.id.clone());
    if let Requirement::Share { low, high } = rule.requirement {
        basis.assume(format!("The weaker end of the custom of {low} to {high}."));
    }
    wet_salt_of(&rule.requirement, water).unwrap_or_else(|| Err(names_no_salt(rule)))
}

/// The salt that a rule asks for this much water; none where the rule names no amount.
pub(crate) fn wet_salt_of(rule: &Requirement, water: Volume) -> Option<Result<Mass, Error>> {
    match rule {
        Requirement::VolumePerVolume { volume, per } => {
            let volume =
                volume.times_ratio(water.steps() / 1_000_000, (per.steps() / 1_000_000).max(1));
            Some(Ok(SaltKind::Table.weigh_nominal(volume)))
        }
        Requirement::Share { low, .. } => {
            let low = low.as_ratio();
            Some(grams(low * water.as_litres() / (1.0 - low) * 1e3))
        }
        _ => None,
    }
}

fn names_no_salt(rule: &Rule) -> Error {
    let expected = "the rule names no amount of salt";
    Error::new(ErrorKind::NoPublishedRow, &rule.id, expected)
}

/// Compares the salt of a recipe with the rule.
fn recipe(basis: &mut Basis<'_>, value: &mut Brine, light: f64, heavy: f64, by_volume: bool) {
    let spread = if by_volume {
        format!(
            "from {:.1} % to {:.1} % by the make of the salt",
            light * 100.0,
            heavy * 100.0
        )
    } else {
        format!("{:.2} %", light * 100.0)
    };
    let rule = basis.find(Topic::BrineWetStrength);
    let text = match rule.map(|rule| (&rule.requirement, rule)) {
        Some((Requirement::VolumePerVolume { volume, per }, rule)) => {
            value.rules.push(rule.id.clone());
            let usual = share(SaltKind::Table.weigh(*volume)[1], per.as_litres());
            format!(
                "The recipe's brine is {spread}; the rule's is {:.2} %.",
                usual * 100.0
            )
        }
        Some((Requirement::Share { low, high }, rule)) => {
            value.rules.push(rule.id.clone());
            format!("The recipe's brine is {spread}; custom is {low} to {high}.")
        }
        _ => format!("The recipe's brine is {spread}."),
    };
    value.findings.push(Finding::advice(text, rule));
}

fn chilling(water: Volume, salt_kg: f64) -> Result<Option<Chilling>, Error> {
    // A quarter of the water dissolves any usual brine; a third is the most that ice can then chill.
    let part = [4, 3]
        .into_iter()
        .find(|&part| salt_kg <= DISSOLVES * water.as_litres() / f64::from(part));
    let Some(part) = part else { return Ok(None) };
    let hot_water = water.times_ratio(1, i64::from(part));
    let hot_kg = hot_water.as_litres() + salt_kg;
    let ice_kg = physics::ice_to_chill(hot_kg, HOT_CAPACITY, HOT, COLD, FREEZER);
    Ok(Some(Chilling {
        hot_water,
        ice: grams(ice_kg * 1e3)?.in_unit(MassUnit::Kilogram),
        cold_water: water.minus(hot_water).minus(litres(ice_kg)?),
    }))
}

fn dry(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) -> Result<[f64; 2], Error> {
    let kind = query.salt_kind.unwrap_or(SaltKind::KosherFlake);
    let salt = match (&query.salt, query.strength) {
        (Some(given), _) => given.masses().map_err(|error| error.at("salt"))?[1],
        (None, Some(strength)) => query.mass.times_ratio(strength.steps(), 1_000_000_000),
        (None, None) => by_rule_dry(basis, query.mass, kind, &mut value.rules)?,
    };
    let strength = salt.as_kilograms() / query.mass.as_kilograms();
    if is_too_strong(salt, query.mass) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            salt,
            "at most 5 % of the bird is needed",
        )
        .at("salt"));
    }
    value.strength = Some(percent(strength)?);
    value.salt = Some(amount(salt, kind));
    let on_meat = salt.as_kilograms() / meat_kg(query.mass, query.cut);
    Ok(RETAINED.map(|kept| on_meat * kept / ROAST_YIELD))
}

/// The salt of a dry brine for a mass, as the seasoning of a bird that holds none yet.
pub(crate) fn dry_salt(
    basis: &mut Basis<'_>,
    mass: Mass,
    rules: &mut Vec<String>,
) -> Result<SaltAmount, Error> {
    let kind = SaltKind::KosherFlake;
    let salt = by_rule_dry(basis, mass, kind, rules)?;
    Ok(amount(salt, kind))
}

/// Meat of a bird or part, kg: without the bones of a whole bird.
fn meat_kg(mass: Mass, cut: Cut) -> f64 {
    let whole = matches!(cut, Cut::Whole | Cut::Flattened);
    mass.as_kilograms() * if whole { EDIBLE } else { 1.0 }
}

fn by_rule_dry(
    basis: &mut Basis<'_>,
    mass: Mass,
    kind: SaltKind,
    rules: &mut Vec<String>,
) -> Result<Mass, Error> {
    let rule = basis.require(Topic::BrineDryAmount)?;
    rules.push(rule.id.clone());
    match rule.requirement {
        Requirement::VolumePerMass { .. } if spoon(kind) != kind => basis
            .assume("The rule is a spoon of kosher salt; this salt is weighed as the dense kind."),
        Requirement::Share { low, high } => basis.assume(format!(
            "The weaker end of the custom of {low} to {high} of the meat."
        )),
        _ => {}
    }
    dry_salt_of(&rule.requirement, mass, kind, basis.case.cut)
        .unwrap_or_else(|| Err(names_no_salt(rule)))
}

/// The rule is a spoon of kosher salt; another salt takes the mass of the dense kind.
const fn spoon(kind: SaltKind) -> SaltKind {
    match kind {
        SaltKind::KosherDense | SaltKind::KosherFlake => kind,
        SaltKind::Table | SaltKind::FineSea => SaltKind::KosherDense,
    }
}

/// The salt that a rule asks for a bird of this mass; none where the rule names no amount.
pub(crate) fn dry_salt_of(
    rule: &Requirement,
    mass: Mass,
    kind: SaltKind,
    cut: Cut,
) -> Option<Result<Mass, Error>> {
    match rule {
        Requirement::VolumePerMass { volume, per } => {
            let volume = volume.times_ratio(mass.steps() / 1000, (per.steps() / 1000).max(1));
            Some(grams(spoon(kind).weigh_nominal(volume).as_grams()))
        }
        Requirement::Share { low, .. } => Some(grams(low.as_ratio() * meat_kg(mass, cut) * 1e3)),
        _ => None,
    }
}

/// Grams of salt for each step of the bird's mass, before they are rounded.
///
/// None where the rule names no amount, and where its amount comes near the one that is refused.
pub(crate) fn dry_rate(rule: &Requirement, kind: SaltKind, cut: Cut) -> Option<f64> {
    let rate = match rule {
        Requirement::VolumePerMass { volume, per } => {
            let per = (per.steps() / 1000).max(1) * 1000;
            volume.steps() as f64 * spoon(kind).grams_per_step() / per as f64
        }
        Requirement::Share { low, .. } => {
            let step = Mass::from_steps(1, MassUnit::Gram);
            low.as_ratio() * meat_kg(step, cut) * 1e3
        }
        _ => return None,
    };
    // A step is a nanogram.
    let of_bird = rate * 1e9;
    (of_bird < 0.9 * STRONGEST_DRY.as_ratio()).then_some(rate)
}

/// More than any custom puts on a bird.
pub(crate) fn is_too_strong(salt: Mass, bird: Mass) -> bool {
    salt.as_kilograms() / bird.as_kilograms() > STRONGEST_DRY.as_ratio()
}

fn instructions(basis: &mut Basis<'_>, query: &BrineQuery, value: &mut Brine) {
    let wet = query.method == BrineMethod::Wet;
    let topics: &[Topic] = if wet {
        &[
            Topic::BrineTemperature,
            Topic::BrineVessel,
            Topic::BrineReuse,
        ]
    } else {
        &[Topic::BrineTemperature]
    };
    for &topic in topics {
        for rule in basis.every(topic) {
            basis.note(rule);
            value.rules.push(rule.id.clone());
            value.to_do.extend(rule.said());
        }
    }
    if wet && query.place == BrinePlace::Cooler {
        value.to_do.push(
            "Keep the ice in sealed bags, so that it does not thin the brine, and read a thermometer in the brine every few hours.".to_owned(),
        );
    }
    // Home sheets and authorities disagree on rinsing: all voices are shown, the first one decides.
    for (place, rule) in basis.every(Topic::BrineRinse).into_iter().enumerate() {
        basis.note(rule);
        value.rules.push(rule.id.clone());
        if place == 0 {
            value.to_do.extend(rule.said());
        }
        let text = [rule.said(), Some(rule.note.clone())]
            .into_iter()
            .flatten()
            .filter(|text| !text.is_empty());
        value.findings.push(Finding::advice(
            text.collect::<Vec<_>>().join(" "),
            Some(rule),
        ));
    }
    if let Some(rule) = basis.find(Topic::PrepareWash) {
        value.rules.push(rule.id.clone());
    }
}

fn amount(mass: Mass, kind: SaltKind) -> SaltAmount {
    let (volume_low, volume_high) = kind.fill(mass);
    SaltAmount {
        mass: mass.in_unit(MassUnit::Gram),
        kind,
        volume_low,
        volume_high,
    }
}

fn share(salt: Mass, water_kg: f64) -> f64 {
    salt.as_kilograms() / (salt.as_kilograms() + water_kg)
}

/// A mass rounded to a tenth of a gram, the step of a kitchen scale.
fn grams(value: f64) -> Result<Mass, Error> {
    Mass::from_grams((value * 10.0).round() / 10.0)
}

/// A volume rounded up to a hundredth of a litre.
fn litres(value: f64) -> Result<Volume, Error> {
    Volume::from_litres((value * 100.0).ceil() / 100.0)
}

/// A share rounded to a hundredth of a per cent.
fn percent(value: f64) -> Result<Fraction, Error> {
    Fraction::from_percent((value * 1e4).round() / 100.0)
}
