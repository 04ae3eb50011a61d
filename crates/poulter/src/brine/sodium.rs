//! Sodium in a serving of cooked meat.

use schemars::JsonSchema;
use serde::Serialize;

use crate::bird::Species;
use crate::error::Error;
use crate::units::{Fraction, FractionUnit, Mass, MassUnit};

use super::physics::SODIUM_IN_SALT;

/// Sodium in a serving of 85 g (3 oz) of roasted meat with skin.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SodiumEstimate {
    /// The lower estimate.
    pub low: Mass,
    /// The higher estimate.
    pub high: Mass,
    /// The lower estimate as a share of the FDA Daily Value of 2300 mg.
    pub daily_value_low: Fraction,
    /// The higher estimate as a share of it; 20 % or more is high.
    pub daily_value_high: Fraction,
    /// Where the sodium of the plain bird stands.
    pub source: String,
}

/// A serving, kg.
const SERVING: f64 = 0.085;

/// FDA Daily Value of sodium since the label rule of 2016, kg (read).
const DAILY_VALUE: f64 = 2.3e-3;

/// Sodium of the plain roasted bird with skin, kg/kg, and its item in USDA SR26 (read).
const fn plain(species: Species, solution: bool) -> Option<(f64, &'static str)> {
    Some(match species {
        Species::Turkey if solution => (224e-5, "USDA SR26, item 05707, turkey with solution"),
        Species::Turkey => (103e-5, "USDA SR26, item 05166, turkey"),
        _ if solution => return None,
        Species::Chicken => (82e-5, "USDA SR26, broiler, roasted"),
        Species::Duck => (59e-5, "USDA SR26, duck, roasted"),
        Species::Goose => (70e-5, "USDA SR26, goose, roasted"),
        _ => return None,
    })
}

/// The estimate from salt added to the cooked meat, kg/kg, low and high.
///
/// `Na = 85 g × (plain + 0.3934 × f)`.
pub(super) fn estimate(
    species: Species,
    solution: bool,
    added: [f64; 2],
) -> Result<(SodiumEstimate, bool), Error> {
    let known = plain(species, solution);
    // Where the database has no such bird, the plain turkey of its kind stands in; the caller says so.
    let (base, source) = known
        .or_else(|| plain(Species::Turkey, solution))
        .unwrap_or((103e-5, "USDA SR26, item 05166, turkey"));
    let [low, high] = added.map(|added| SERVING * (base + added * SODIUM_IN_SALT));
    let mass = |kilograms: f64| {
        Mass::from_milligrams((kilograms * 1e6).round())
            .map(|mass| mass.in_unit(MassUnit::Milligram))
    };
    let share = |kilograms: f64| {
        Fraction::from_percent((kilograms / DAILY_VALUE * 1000.0).round() / 10.0)
            .map(|share| share.in_unit(FractionUnit::Percent))
    };
    let estimate = SodiumEstimate {
        low: mass(low)?,
        high: mass(high)?,
        daily_value_low: share(low)?,
        daily_value_high: share(high)?,
        source: source.to_owned(),
    };
    Ok((estimate, known.is_some()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_and_salted_servings_by_hand() {
        // USDA SR26 item 05166: 103 mg in 100 g, so 87.6 mg in 85 g; 0.5 % of salt adds 85 × 0.5 × 3.934 = 167 mg.
        let (plain, known) = estimate(Species::Turkey, false, [0.0, 0.005]).unwrap();
        assert!(known);
        assert!((plain.low.as_milligrams() - 87.6).abs() <= 0.5);
        assert!((plain.high.as_milligrams() - 87.6 - 167.0).abs() <= 1.0);
        // 460 mg is 20 % of 2300 mg, the FDA mark for "high".
        let (salty, _) = estimate(
            Species::Turkey,
            false,
            [0.0, (460e-6 / 0.085 - 103e-5) / 0.393_37],
        )
        .unwrap();
        assert!((salty.daily_value_high.as_percent() - 20.0).abs() < 0.05);
    }

    #[test]
    fn a_bird_outside_the_database_is_told() {
        assert!(!estimate(Species::Quail, false, [0.0, 0.0]).unwrap().1);
        assert!(!estimate(Species::Duck, true, [0.0, 0.0]).unwrap().1);
    }
}
