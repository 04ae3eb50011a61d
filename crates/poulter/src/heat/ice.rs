//! How much of the water is ice.

use crate::bird::Composition;
use crate::math;
use crate::units::{Fraction, FractionUnit, Temperature};

/// Heat of melting of ice, 333.6 kJ/kg, held constant below the freezing point as in Chen 1985.
pub(super) const MELTING_J_KG: f64 = 333_600.0;

/// Water held by protein that never freezes, in kg per kg of protein (Chen 1985; Pham 1987; from memory).
const BOUND_PER_PROTEIN: f64 = 0.4;

/// An estimate of the ice in a kilogram of food.
///
/// ```
/// use poulter::bird::Composition;
/// use poulter::heat::IceRule;
/// use poulter::units::Temperature;
/// let ice = IceRule::Chen.ice(&Composition::TURKEY, Temperature::parse("-18 °C")?);
/// assert!((ice.as_ratio() - 0.5255).abs() < 0.0001);
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum IceRule {
    /// `x_ice = (x_w − 0.4 x_p)(1 − T_f/T)`, T in °C (Chen 1985; from memory). Ranked best of the published rules by
    /// Fricke and Becker 2001, HVAC&R Research 7(4); the one the model uses.
    Chen,
    /// `x_ice = 1.105 x_w /(1 + 0.7138/ln(T_f − T + 1))` (Tchigeov 1979; from memory). It gives more ice for turkey:
    /// 0.62 against 0.53 at −18 °C.
    Tchigeov,
}

impl IceRule {
    /// The mass share of ice; nothing at the freezing point and above.
    #[must_use]
    pub fn ice(self, composition: &Composition, at: Temperature) -> Fraction {
        let ice = self.share(
            composition.water().as_ratio(),
            composition.protein().as_ratio(),
            composition.freezing_point().as_celsius(),
            at.as_celsius(),
        );
        // Steps of one part in 10⁹ hold any share between 0 and 1.
        Fraction::from_ratio(ice)
            .unwrap_or(Fraction::ZERO)
            .in_unit(FractionUnit::Percent)
    }

    pub(super) fn share(self, water: f64, protein: f64, freezing: f64, t: f64) -> f64 {
        if t >= freezing {
            return 0.0;
        }
        match self {
            Self::Chen => {
                let free = (water - BOUND_PER_PROTEIN * protein).max(0.0);
                free * (1.0 - freezing / t)
            }
            Self::Tchigeov => {
                let depth = math::ln(freezing - t + 1.0);
                (1.105 * water / (1.0 + 0.7138 / depth)).min(water)
            }
        }
    }
}

/// The temperature at which freezing begins, from what is dissolved in the water:
/// `−4.66 x_o/x_w − 46.4 x_a/x_w`, where `x_o` is everything but water, fat and ash (Pham 1996).
///
/// The shares are those of the whole food. A food without water has no freezing point: none is given.
///
/// ```
/// use poulter::bird::Composition;
/// use poulter::heat::estimate_freezing_point;
/// let stock = estimate_freezing_point(&Composition::STOCK).unwrap();
/// assert!((stock.as_celsius() + 0.574).abs() < 0.001);
/// ```
#[must_use]
pub fn estimate_freezing_point(composition: &Composition) -> Option<Temperature> {
    let water = composition.water().as_ratio();
    let solids = composition
        .protein()
        .plus(composition.carbohydrate())
        .plus(composition.fibre());
    Temperature::from_celsius(
        (-4.66 * solids.as_ratio() - 46.4 * composition.ash().as_ratio()) / water,
    )
    .ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beef side, `x_w` 0.58, `T_f` −1.7 °C, at −20 °C: the ASHRAE Handbook's example prints 0.52, 78 kg of ice in
    /// 150 kg (from memory, recomputed as 0.5164).
    #[test]
    fn tchigeov_reproduces_the_handbook_example() {
        let ice = IceRule::Tchigeov.share(0.58, 0.0, -1.7, -20.0);
        assert!((ice - 0.5164).abs() < 0.005, "{ice}");
    }

    #[test]
    fn the_two_rules_disagree_for_turkey_as_stated() {
        let turkey = Composition::TURKEY;
        for (t, chen, tchigeov) in [(-10.0, 0.448, 0.581), (-18.0, 0.526, 0.619)] {
            let at = Temperature::from_celsius(t).unwrap();
            assert!((IceRule::Chen.ice(&turkey, at).as_ratio() - chen).abs() < 0.001);
            assert!((IceRule::Tchigeov.ice(&turkey, at).as_ratio() - tchigeov).abs() < 0.001);
        }
    }

    #[test]
    fn ice_begins_at_the_freezing_point() {
        for rule in [IceRule::Chen, IceRule::Tchigeov] {
            assert!(rule.share(0.7, 0.2, -2.8, -2.799) <= 0.0);
            assert!(rule.share(0.7, 0.2, -2.8, -2.8) <= 0.0);
            assert!(rule.share(0.7, 0.2, -2.8, -2.801) > 0.0);
        }
    }

    #[test]
    fn food_without_water_has_no_freezing_point() {
        let none = Fraction::ZERO;
        let fat = Fraction::from_ratio(1.0).unwrap();
        let lard = Composition::new(
            [none, none, fat, none, none, none],
            Composition::STOCK.freezing_point(),
        )
        .unwrap();
        assert_eq!(estimate_freezing_point(&lard), None);
    }
}
