//! What an oven takes from the meter, with the spread of the published figures.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::{Answer, Basis, DEFAULT_STANDARD};
use crate::error::{Error, ErrorKind};
use crate::rules::{Case, Rulebook};
use crate::units::{Duration, Mass, Temperature};

/// What heats the oven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OvenHeat {
    /// Electricity, without a fan.
    Electric,
    /// Electricity, with a fan.
    ElectricFan,
    /// Gas, with an electric igniter.
    Gas,
}

/// "What does the oven take?"
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OvenEnergyQuery {
    /// What heats the oven.
    pub heat: OvenHeat,
    /// The setting, from 80 to 300 °C.
    pub setting: Temperature,
    /// How long the oven is on, up to 24 h.
    pub time: Duration,
    /// Raw mass of the bird; then the heat that goes into it is told, which no oven can undercut.
    #[serde(default)]
    pub bird: Option<Mass>,
}

/// The answer about energy. Never a price: that is the energy times your own tariff.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OvenEnergy {
    /// From the meter in the low case, in watt-hours of electricity or of gas.
    #[serde(rename = "low_Wh")]
    pub low_wh: u32,
    /// By the published figure for the oven.
    #[serde(rename = "likely_Wh")]
    pub likely_wh: u32,
    /// The high case.
    #[serde(rename = "high_Wh")]
    pub high_wh: u32,
    /// Electricity that the igniter of a gas oven takes beside the gas.
    #[serde(rename = "igniter_Wh", skip_serializing_if = "Option::is_none")]
    pub igniter_wh: Option<u32>,
    /// Heat that the bird itself takes up.
    #[serde(rename = "into_bird_Wh", skip_serializing_if = "Option::is_none")]
    pub into_bird_wh: Option<u32>,
    /// Where the figures come from, and how they were read.
    pub sources: Vec<String>,
}

/// The kitchen round the oven, °C.
const ROOM: f64 = 22.0;

/// Watt-hours for each hour and kelvin above the room, from one published use.
const fn rate(watt_hours: f64, hours: f64, setting_c: f64) -> f64 {
    watt_hours / hours / (setting_c - ROOM)
}

/// 350 °F and 325 °F in °C.
const F350: f64 = 1590.0 / 9.0;
const F325: f64 = 1465.0 / 9.0;

impl OvenHeat {
    /// A consumer guide to saving energy (read): electric, 350 °F for 1 h, 2.0 kWh; with a fan, 325 °F for 45 min,
    /// 1.39 kWh; gas, 350 °F for 1 h, 0.112 therm, which is 3.28 kWh.
    const fn rate(self) -> f64 {
        match self {
            Self::Electric => rate(2000.0, 1.0, F350),
            Self::ElectricFan => rate(1390.0, 0.75, F325),
            Self::Gas => rate(3280.0, 1.0, F350),
        }
    }

    /// A brief on energy policy of the United Kingdom, 2008 (read), averages 1.09 kWh a use of an electric and 1.52 kWh
    /// of a gas oven: as a share of the guide's hour.
    const fn low(self) -> f64 {
        match self {
            Self::Electric | Self::ElectricFan => 1090.0 / 2000.0,
            Self::Gas => 1520.0 / 3280.0,
        }
    }
}

/// Electricity of a gas oven's igniter, Wh in each hour (the same guide, read).
const IGNITER: f64 = 350.0;

/// Heating the oven up, Wh: the top of 0.4 to 0.7 kWh (from memory), in case the published figure leaves it out.
const PREHEAT: f64 = 700.0;

/// Water that a roast bird loses, of its raw mass (USDA SR26: 0.91 kg of a bird of 5.0 kg, derived).
const WATER_LOST: f64 = 0.18;

/// Heat to turn water into steam, Wh/kg: 2257 kJ/kg at 100 °C (steam tables).
const STEAM: f64 = 2257.0 / 3.6;

/// Heat capacity of raw poultry, Wh/(kg K): 3.5 kJ/(kg K), a usual figure (from memory).
const CAPACITY: f64 = 3.5 / 3.6;

/// From the refrigerator at 4 °C to 165 °F inside, K.
const WARMED: f64 = 665.0 / 9.0 - 4.0;

/// Energy that an oven takes for a roast: an estimate with a wide and stated spread.
///
/// `E = r · t · (T − 22 °C)`, where r is one published use of such an oven over its time and rise above the room. The low
/// case is the share that a second source's average use has of the first; never less than the heat that goes into the
/// bird, `m · (c ΔT + 0.18 · 2257 kJ/kg)`. The high case adds 0.7 kWh for heating up.
///
/// Limits: setting from 80 to 300 °C, up to 24 h. Ovens differ by a factor of two; door openings and a second rack are
/// not counted. The rates of electric ovens with and without a fan agree within 3 %: what a fan saves is time and
/// setting.
///
/// Errors: a setting or a time outside the range.
///
/// ```
/// use poulter::roast::{OvenEnergyQuery, oven_energy};
/// use poulter::rules::Rulebook;
/// let query: OvenEnergyQuery =
///     serde_json::from_str(r#"{"heat": "electric", "setting": "350 °F", "time": "1 h"}"#)?;
/// assert_eq!(oven_energy(Rulebook::builtin(), &query)?.answer.likely_wh, 2000);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn oven_energy(book: &Rulebook, query: &OvenEnergyQuery) -> Result<Answer<OvenEnergy>, Error> {
    let mut basis = Basis::new(book, Case::whole_turkey(DEFAULT_STANDARD))?;
    let setting = query.setting.as_celsius();
    if !(80.0..=300.0).contains(&setting) {
        let expected = "from 80 to 300 °C (176 to 572 °F) is needed";
        return Err(Error::new(ErrorKind::OutOfRange, query.setting, expected).at("setting"));
    }
    let hours = query.time.as_hours();
    if hours <= 0.0 || hours > 24.0 {
        let expected = "above 0 to 24 h is needed";
        return Err(Error::new(ErrorKind::OutOfRange, query.time, expected).at("time"));
    }
    let likely = query.heat.rate() * hours * (setting - ROOM);
    let into_bird = query
        .bird
        .map(|bird| bird.as_kilograms() * (CAPACITY * WARMED + WATER_LOST * STEAM));
    let low = (likely * query.heat.low()).max(into_bird.unwrap_or_default());
    let mut sources = vec![
        "A consumer guide to saving energy: 2.0 kWh for 1 h at 350 °F electric, 1.39 kWh for 45 min at 325 °F with a \
         fan, 0.112 therm for 1 h at 350 °F gas (read)"
            .to_owned(),
        "A brief on energy policy of the United Kingdom, 2008: 1.09 kWh electric and 1.52 kWh gas a use (read)"
            .to_owned(),
        "Heating up, 0.4 to 0.7 kWh: from memory".to_owned(),
    ];
    if into_bird.is_some() {
        sources.push(
            "Heat into the bird: water lost by USDA SR26 (derived), heat capacity 3.5 kJ/(kg K) from memory".to_owned(),
        );
    }
    basis.assume("The kitchen is at 22 °C.");
    let value = OvenEnergy {
        low_wh: tens(low),
        likely_wh: tens(likely.max(low)),
        high_wh: tens(likely.max(low) + PREHEAT),
        igniter_wh: (query.heat == OvenHeat::Gas).then(|| tens(IGNITER * hours)),
        into_bird_wh: into_bird.map(tens),
        sources,
    };
    Ok(basis.finish(value))
}

/// To the nearest ten watt-hours; the figures are no finer.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "positive, and the largest bird in the hottest oven takes less than a million"
)]
fn tens(watt_hours: f64) -> u32 {
    (watt_hours / 10.0).round() as u32 * 10
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn ask(heat: &str, setting: &str, time: &str) -> Result<OvenEnergy, Error> {
        let query = json!({"heat": heat, "setting": setting, "time": time});
        let query: OvenEnergyQuery = serde_json::from_value(query).unwrap();
        oven_energy(Rulebook::builtin(), &query).map(|answer| answer.answer)
    }

    #[test]
    fn the_published_uses_come_back() {
        for (heat, setting, time, expected) in [
            ("electric", "350 °F", "1 h", 2000),
            ("electric-fan", "325 °F", "45 min", 1390),
            ("gas", "350 °F", "1 h", 3280),
        ] {
            assert_eq!(
                ask(heat, setting, time).unwrap().likely_wh,
                expected,
                "{heat}"
            );
        }
        // UK energy-policy brief, 2008: 1.09 and 1.52 kWh a use.
        assert_eq!(ask("electric", "350 °F", "1 h").unwrap().low_wh, 1090);
        assert_eq!(ask("gas", "350 °F", "1 h").unwrap().low_wh, 1520);
        assert_eq!(ask("gas", "350 °F", "1 h").unwrap().igniter_wh, Some(350));
    }

    #[test]
    fn one_published_use_foretells_the_other() {
        // The rate of the oven without a fan, put to the use printed for the oven with one: within 3 %.
        let found = f64::from(ask("electric", "325 °F", "45 min").unwrap().likely_wh);
        assert!((found / 1390.0 - 1.0).abs() < 0.03, "{found}");
    }

    #[test]
    fn the_heat_of_a_bird_by_hand() {
        // 5.0 kg: 0.9 kg of steam × 2257 kJ/kg + 5.0 × 3.5 × 69.9 kJ = 2031 + 1223 = 3254 kJ = 904 Wh.
        let query =
            json!({"heat": "electric", "setting": "325 °F", "time": "10 min", "bird": "5 kg"});
        let query: OvenEnergyQuery = serde_json::from_value(query).unwrap();
        let found = oven_energy(Rulebook::builtin(), &query).unwrap().answer;
        assert_eq!(found.into_bird_wh, Some(900));
        assert_eq!(
            (found.low_wh, found.likely_wh),
            (900, 900),
            "no oven undercuts it"
        );
    }

    #[test]
    fn the_ranges_are_refused_under_at_and_over() {
        for (setting, time, field) in [
            ("79.9 °C", "1 h", Some("setting")),
            ("80 °C", "1 h", None),
            ("80.1 °C", "1 h", None),
            ("299.9 °C", "1 h", None),
            ("300 °C", "1 h", None),
            ("300.1 °C", "1 h", Some("setting")),
            ("325 °F", "0 s", Some("time")),
            ("325 °F", "1 s", None),
            ("325 °F", "24 h", None),
            ("325 °F", "24 h 1 s", Some("time")),
        ] {
            let found = ask("electric", setting, time);
            let refused = found.as_ref().err().map(Error::field);
            assert_eq!(refused, field, "{setting} {time}");
        }
    }
}
