//! Altitude: the pressure of the air, where water boils, and what that changes at the stove.

mod boiling;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, Finding, default};
use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{Case, Requirement, Rulebook, TemperatureLimit, Topic};
use crate::units::{Duration, Length, Temperature, TemperatureDifference};

/// "What changes up here?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AltitudeQuery {
    /// Height above the sea, from -500 to 9000 m.
    pub altitude: Length,
    /// A roasting time of the table, to be lengthened where the rule says so.
    #[serde(default)]
    pub roast_time: Option<Duration>,
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

/// The answer about altitude.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Altitude {
    /// Pressure of the standard atmosphere, to the nearest pascal.
    #[serde(rename = "pressure_Pa")]
    #[schemars(rename = "pressure_Pa")]
    pub pressure_pa: u32,
    /// Where water boils, to a hundredth of a degree Celsius.
    pub boils_at: Temperature,
    /// The same in degrees Fahrenheit.
    pub boils_at_fahrenheit: Temperature,
    /// How far below the boil at the sea that is; negative below the sea.
    pub below_sea_level_boil: TemperatureDifference,
    /// Whether the rule for roasting at altitude applies.
    pub is_high: bool,
    /// The roasting time given, at least.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roast_at_least: Option<Duration>,
    /// The minimum inside the bird: the same at every height.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minimum: Option<TemperatureLimit>,
    /// What changes at the stove.
    pub findings: Vec<Finding>,
}

/// Pressure, boiling point and what they change in the kitchen.
///
/// `p = 101 325 Pa · (1 − 2.25577·10⁻⁵ h/m)^5.25588`, the standard atmosphere below 11 km; the boiling point is the
/// saturation temperature of water at that pressure. The minimum inside the bird never moves.
///
/// Limits: the weather moves the pressure; 10 hPa are about 0.28 °C.
///
/// Errors: an unknown standard.
///
/// Sources: ICAO/ISO standard atmosphere; IAPWS-IF97, equation 31; rules as cited in the answer.
///
/// ```
/// use poulter::altitude::{AltitudeQuery, altitude};
/// use poulter::rules::Rulebook;
/// let query: AltitudeQuery = serde_json::from_str(r#"{"altitude": "5000 ft", "roast_time": "4 h"}"#)?;
/// let answer = altitude(Rulebook::builtin(), &query)?.answer;
/// assert_eq!(answer.boils_at.to_string(), "94.9 °C");
/// assert_eq!(answer.roast_at_least.map(|time| time.shown()).as_deref(), Some("5 h"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn altitude(book: &Rulebook, query: &AltitudeQuery) -> Result<Answer<Altitude>, Error> {
    let case = Case::of(&query.standard, query.species, query.cut, query.on);
    let mut basis = Basis::new(book, case)?;
    let pressure = boiling::pressure_pa(query.altitude.as_metres());
    let boils_at = boils_at(pressure)?;
    let at_the_sea = self::boils_at(boiling::SEA_LEVEL_PA)?;
    let mut value = Altitude {
        // Between 30 and 108 kPa over the range of a length: it fits.
        pressure_pa: boiling::whole(pressure),
        boils_at,
        boils_at_fahrenheit: Temperature::from_fahrenheit(boiling::hundredths(
            boils_at.as_fahrenheit(),
        ))?,
        below_sea_level_boil: at_the_sea.above(boils_at),
        is_high: false,
        roast_at_least: None,
        minimum: None,
        findings: Vec::new(),
    };
    minimum(&mut basis, &mut value);
    roasting(&mut basis, query, &mut value);
    at_the_stove(&mut basis, &mut value);
    basis.assume("The weather is average: 10 hPa more or less move the boil by about 0.28 °C.");
    Ok(basis.finish(value))
}

fn boils_at(pressure_pa: f64) -> Result<Temperature, Error> {
    Temperature::from_celsius(boiling::hundredths(
        boiling::saturation_k(pressure_pa) - 273.15,
    ))
}

fn minimum(basis: &mut Basis<'_>, value: &mut Altitude) {
    let topic = match basis.case.cut {
        Cut::Whole | Cut::Flattened => Topic::DonenessBird,
        Cut::Ground => Topic::DonenessGround,
        _ => Topic::DonenessParts,
    };
    if let Some(rule) = basis.find(topic)
        && let Requirement::MinimumTemperature { limit, .. } = rule.requirement
    {
        value.minimum = Some(limit);
        let text = format!(
            "The minimum inside stays {} at every height; only times change.",
            limit.shown()
        );
        value.findings.push(Finding::caution(text, Some(rule)));
    }
}

/// The first rule decides; what other rows say about altitude is told beside it.
fn roasting(basis: &mut Basis<'_>, query: &AltitudeQuery, value: &mut Altitude) {
    for (place, rule) in basis.every(Topic::RoastAltitude).into_iter().enumerate() {
        let Requirement::AtLeastTimes {
            factor,
            from_altitude: Some(from),
        } = rule.requirement
        else {
            continue;
        };
        basis.note(rule);
        let high = query.altitude >= from;
        if place == 0 {
            value.is_high = high;
            let ratio = (factor.steps(), 1_000_000_000);
            value.roast_at_least = query.roast_time.map(|time| {
                if high {
                    time.times_ratio(ratio.0, ratio.1)
                } else {
                    time
                }
            });
        }
        let applies = if high {
            "applies here"
        } else {
            "does not apply here"
        };
        let text = format!(
            "{}: {}; it {applies}. {}",
            rule.title,
            rule.requirement.words(),
            rule.note
        );
        value
            .findings
            .push(Finding::advice(text.trim_end(), Some(rule)));
    }
}

fn at_the_stove(basis: &mut Basis<'_>, value: &mut Altitude) {
    let boil = format!("{} ({})", value.boils_at, value.boils_at_fahrenheit);
    value.findings.push(Finding::advice(
        format!("Water boils at {boil}: a simmer, a stock and a boil for reheating are cooler and take longer."),
        None,
    ));
    let usual = basis.case.process;
    for (topic, process) in [
        (Topic::SimmerTime, "high-altitude"),
        (Topic::SimmerTime, "pressure-cooker"),
        (Topic::FryTime, "high-altitude"),
        (Topic::SlowCooker, "high-altitude"),
    ] {
        basis.case.process = Some(process);
        for rule in basis.every(topic) {
            // Only rows written for altitude; the general ones belong to the method.
            if let Some(text) = rule.said().filter(|_| !rule.applies_to.process.is_empty()) {
                basis.note(rule);
                value.findings.push(Finding::advice(text, Some(rule)));
            }
        }
    }
    basis.case.process = usual;
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn ask(altitude: &str) -> Altitude {
        let query = json!({"altitude": altitude, "roast_time": "4 h"});
        let query = serde_json::from_value(query).unwrap();
        super::altitude(Rulebook::builtin(), &query).unwrap().answer
    }

    #[test]
    fn the_oven_takes_longer_from_three_thousand_feet() {
        // FoodSafety.gov adds one quarter; FSIS calls 3,000 ft and more high.
        for (altitude, high, time) in [
            ("2999.999 ft", false, "4 h"),
            ("3000 ft", true, "5 h"),
            ("3000.001 ft", true, "5 h"),
            ("914.399 m", false, "4 h"),
            ("914.4 m", true, "5 h"),
        ] {
            let found = ask(altitude);
            assert_eq!(found.is_high, high, "{altitude}");
            assert_eq!(
                found.roast_at_least,
                Some(Duration::parse(time).unwrap()),
                "{altitude}"
            );
        }
    }

    #[test]
    fn the_minimum_never_moves() {
        let sea = ask("0 m").minimum.unwrap();
        for altitude in ["-500 m", "1524 m", "3700 m", "9000 m"] {
            assert_eq!(ask(altitude).minimum, Some(sea), "{altitude}");
        }
    }

    #[test]
    fn simmering_frying_slow_and_pressure_cooking_are_told() {
        let findings = ask("6000 ft").findings;
        for word in ["simmer", "oil", "slow cooker", "pressure"] {
            assert!(
                findings
                    .iter()
                    .any(|finding| finding.text.to_lowercase().contains(word)),
                "{word}"
            );
        }
    }
}
