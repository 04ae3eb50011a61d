//! At what reading a roast is taken out.

use schemars::JsonSchema;
use serde::Serialize;

use crate::error::Error;
use crate::units::Temperature;

use super::band::Band;
use super::curve::Zone;
use super::rest::{CarryOver, RestSimulationQuery, simulate_rest};
use super::roast::simulate_roast;

/// When a roast is taken out, and how far it rises from there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Pull {
    /// The reading that every place must show; never below the minimum.
    pub reading: Temperature,
    /// Time in the oven until then; nothing when the model never gets there.
    pub after: Option<Band>,
    /// The place that is last.
    pub slowest: Zone,
    /// How far that place rises in the rest.
    pub rise: CarryOver,
}

/// Chooses the reading at which a roast is taken out so that it rests to the roast's target.
///
/// The reading is the target less the likely carry-over, or the minimum where that is higher: a rise that is only
/// expected never takes the place of a reading.
///
/// # Errors
/// Those of [`simulate_rest`], also for a minimum above 185 °F.
///
/// ```
/// use poulter::heat::{RestSimulationQuery, pull_from_oven};
/// use poulter::units::Temperature;
/// let query: RestSimulationQuery = serde_json::from_str(
///     r#"{"roast": {"mass": "12 lb", "start": "40 °F", "target": "165 °F", "oven": [{"temperature": "325 °F"}]},
///         "room": "72 °F", "duration": "30 min"}"#,
/// )?;
/// let minimum = Temperature::parse("165 °F")?;
/// assert_eq!(pull_from_oven(&query, minimum)?.reading, minimum);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pull_from_oven(query: &RestSimulationQuery, minimum: Temperature) -> Result<Pull, Error> {
    let wanted = query.roast.target.max(minimum);
    let mut query = query.clone();
    query.roast.target = wanted;
    let mut rest = simulate_rest(&query)?;
    let rise = rest.zones[0].rise.likely.as_delta_celsius();
    let early = Temperature::from_celsius(wanted.as_celsius() - rise)?.in_unit(minimum.unit());
    let reading = early.max(minimum);
    if reading < wanted {
        query.roast.target = reading;
        rest = simulate_rest(&query)?;
    }
    Ok(Pull {
        reading,
        after: simulate_roast(&query.roast)?.time_to_target,
        slowest: rest.zones[0].zone,
        rise: rest.zones[0].rise,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pull(target: &str, minimum: &str) -> Pull {
        let query = serde_json::from_value(serde_json::json!({
            "roast": {"mass": "12 lb", "start": "40 °F", "target": target, "oven": [{"temperature": "325 °F"}]},
            "room": "22 °C", "duration": "30 min",
        }));
        pull_from_oven(&query.unwrap(), Temperature::parse(minimum).unwrap()).unwrap()
    }

    /// USDA: 165 °F in every place (FSIS). No wish, at or beside it, brings the reading below.
    #[test]
    fn the_reading_is_never_below_the_minimum() {
        let minimum = Temperature::parse("165 °F").unwrap();
        for target in ["160 °F", "164.999 °F", "165 °F", "165.001 °F", "170 °F"] {
            assert_eq!(pull(target, "165 °F").reading, minimum, "{target}");
        }
    }

    /// Kitchen texts: the breast of a turkey rises 5 to 10 °F (common practice). The slowest place, which decides, rises
    /// no more than that. 180 °F is reached from below by its rise, and is not needed at once.
    #[test]
    fn a_higher_wish_leaves_room_for_the_rise() {
        let early = pull("180 °F", "165 °F");
        let rise = early.rise.likely.as_delta_fahrenheit();
        assert!((2.0..10.0).contains(&rise), "{rise}");
        assert!(
            (early.reading.as_fahrenheit() + rise - 180.0).abs() < 1.0,
            "{early:?}"
        );
        let late = pull("180 °F", "180 °F");
        assert_eq!(late.reading.as_fahrenheit(), 180.0);
        assert!(early.after.unwrap().likely < late.after.unwrap().likely);
    }
}
