//! Where the food lies.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::Temperature;

use super::boundary::Boundary;
use super::parameters as p;

/// Surroundings that stay as they are for a while.
///
/// The coefficients behind each are those of a still household appliance unless a fan or running water is named; the
/// published ranges are ± 30 % and more.
///
/// ```
/// use poulter::heat::Surroundings;
/// let shelf: Surroundings = serde_json::from_str(r#"{"kind":"refrigerator","temperature":"38 °F","wrapped":true}"#)?;
/// assert!(matches!(shelf, Surroundings::Refrigerator { wrapped: true, .. }));
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Surroundings {
    /// A hot oven; walls as hot as the air.
    Oven {
        /// Temperature of air and walls.
        temperature: Temperature,
        /// Whether a fan moves the air.
        #[serde(default)]
        fan: bool,
    },
    /// A room.
    Room {
        /// Temperature of air and walls.
        temperature: Temperature,
    },
    /// A refrigerator with still air.
    Refrigerator {
        /// Temperature of air and walls.
        temperature: Temperature,
        /// Whether the food lies in a wrap or a closed container.
        #[serde(default)]
        wrapped: bool,
    },
    /// Water around the food, kept at its temperature by changing it.
    Water {
        /// Temperature of the water.
        temperature: Temperature,
        /// Whether the water flows past the food.
        #[serde(default)]
        running: bool,
    },
    /// Ice and water at 0 °C, with ice left throughout.
    IceBath,
}

impl Surroundings {
    pub(super) fn boundary(self) -> Boundary {
        match self {
            Self::Oven { temperature, fan } => {
                let convection = if fan {
                    p::FAN_OVEN_W_M2_K
                } else {
                    p::STILL_OVEN_W_M2_K
                };
                open_air(temperature.as_celsius(), convection, p::OVEN_VAPOUR_PA)
            }
            Self::Room { temperature } => {
                open_air(temperature.as_celsius(), p::ROOM_W_M2_K, p::ROOM_VAPOUR_PA)
            }
            Self::Refrigerator {
                temperature,
                wrapped: false,
            } => open_air(
                temperature.as_celsius(),
                p::REFRIGERATOR_W_M2_K,
                p::REFRIGERATOR_VAPOUR_PA,
            ),
            Self::Refrigerator { temperature, .. } => {
                sealed(temperature.as_celsius(), p::WRAPPED_W_M2_K)
            }
            Self::Water {
                temperature,
                running,
            } => {
                let convection = if running {
                    p::RUNNING_WATER_W_M2_K
                } else {
                    p::STILL_WATER_W_M2_K
                };
                sealed(temperature.as_celsius(), convection)
            }
            Self::IceBath => sealed(0.0, p::STILL_WATER_W_M2_K),
        }
    }
}

fn open_air(celsius: f64, convection: f64, vapour_pa: f64) -> Boundary {
    Boundary {
        air_degc: celsius,
        walls_degc: celsius,
        convection,
        emissivity: p::EMISSIVITY,
        skin: p::SKIN_W_M2_K,
        vapour_pa,
    }
}

/// A surface that neither radiates nor dries.
fn sealed(celsius: f64, convection: f64) -> Boundary {
    Boundary {
        emissivity: 0.0,
        skin: 0.0,
        ..open_air(celsius, convection, 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Totals at the usual differences: about 7 W/(m²·K) bare in a refrigerator (free convection 2.9–3.4 and
    /// radiation 4.2), 12 in a room (4.7–5.4 and 7.0): correlations for a sphere and Stefan–Boltzmann.
    #[test]
    fn totals_are_those_of_the_correlations() {
        let dry = |around: Surroundings, skin_degc: f64| {
            let boundary = Boundary {
                skin: 0.0,
                ..around.boundary()
            };
            boundary.flow(skin_degc).heat / (boundary.air_degc - skin_degc)
        };
        let at = |celsius| Temperature::from_celsius(celsius).unwrap();
        let shelf = Surroundings::Refrigerator {
            temperature: at(3.3),
            wrapped: false,
        };
        assert!((dry(shelf, -3.0) - 7.4).abs() < 0.7);
        let room = Surroundings::Room {
            temperature: at(22.0),
        };
        assert!((dry(room, 80.0) - 11.0).abs() < 1.0);
    }

    #[test]
    fn an_unknown_field_is_refused() {
        let text = r#"{"kind":"room","temperature":"22 °C","fan":true}"#;
        assert!(serde_json::from_str::<Surroundings>(text).is_err());
    }
}
