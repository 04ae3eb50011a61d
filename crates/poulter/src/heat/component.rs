//! Thermal properties of the components of food, after Choi and Okos.

use uom::si::f64::{MassDensity, SpecificHeatCapacity, ThermalConductivity};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;

use crate::units::Temperature;

/// A component of food with its own thermal properties.
///
/// k, ρ and `c_p` are polynomials in the temperature t in °C, valid from −40 °C to 150 °C:
/// a + b t + c t² (Choi and Okos 1986, *Effects of temperature and composition on the thermal properties of foods*;
/// digits and signs settled against `CoolProp` 8.0.0, `INCOMP::Food*`). For the specific heat of water this library
/// keeps the original 4176.2 and 4081.7 J/(kg·K); the ASHRAE Handbook prints 4128.9 for both, which lies further
/// from real water.
///
/// ```
/// use poulter::heat::Component;
/// use poulter::units::Temperature;
/// let at = Temperature::parse("20 °C")?;
/// assert!((Component::Protein.density(at).value - 1319.53).abs() < 0.01);
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Component {
    /// Liquid water.
    Water,
    /// Ice.
    Ice,
    /// Protein.
    Protein,
    /// Fat.
    Fat,
    /// Carbohydrate other than fibre.
    Carbohydrate,
    /// Fibre.
    Fibre,
    /// Ash.
    Ash,
}

/// Coefficients of t⁰, t¹ and t².
type Quadratic = [f64; 3];

fn evaluate([a, b, c]: Quadratic, t: f64) -> f64 {
    a + t * (b + t * c)
}

impl Component {
    /// Every component, in the order the mixing rules use.
    pub const ALL: [Self; 7] = [
        Self::Water,
        Self::Ice,
        Self::Protein,
        Self::Fat,
        Self::Carbohydrate,
        Self::Fibre,
        Self::Ash,
    ];

    /// Thermal conductivity k.
    #[must_use]
    pub fn conductivity(self, at: Temperature) -> ThermalConductivity {
        ThermalConductivity::new::<watt_per_meter_kelvin>(self.k_w_m_k(at.as_celsius()))
    }

    /// Density ρ.
    #[must_use]
    pub fn density(self, at: Temperature) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(self.rho_kg_m3(at.as_celsius()))
    }

    /// Specific heat `c_p`, without any heat of melting.
    #[must_use]
    pub fn specific_heat(self, at: Temperature) -> SpecificHeatCapacity {
        SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>(self.cp_j_kg_k(at.as_celsius()))
    }

    pub(super) fn k_w_m_k(self, t: f64) -> f64 {
        let quadratic = match self {
            Self::Water => [0.57109, 1.7625e-3, -6.7036e-6],
            Self::Ice => [2.2196, -6.2489e-3, 1.0154e-4],
            Self::Protein => [0.17881, 1.1958e-3, -2.7178e-6],
            Self::Fat => [0.18071, -2.7604e-4, -1.7749e-7],
            Self::Carbohydrate => [0.20141, 1.3874e-3, -4.3312e-6],
            Self::Fibre => [0.18331, 1.2497e-3, -3.1683e-6],
            Self::Ash => [0.32962, 1.4011e-3, -2.9069e-6],
        };
        evaluate(quadratic, t)
    }

    pub(super) fn rho_kg_m3(self, t: f64) -> f64 {
        let quadratic = match self {
            Self::Water => [997.18, 3.1439e-3, -3.7574e-3],
            Self::Ice => [916.89, -0.13071, 0.0],
            Self::Protein => [1329.9, -0.5184, 0.0],
            Self::Fat => [925.59, -0.41757, 0.0],
            Self::Carbohydrate => [1599.1, -0.31046, 0.0],
            Self::Fibre => [1311.5, -0.36589, 0.0],
            Self::Ash => [2423.8, -0.28063, 0.0],
        };
        evaluate(quadratic, t)
    }

    pub(super) fn cp_j_kg_k(self, t: f64) -> f64 {
        let quadratic = match self {
            Self::Water if t < 0.0 => [4081.7, -5.3062, 9.9516e-1],
            Self::Water => [4176.2, -9.0864e-2, 5.4731e-3],
            Self::Ice => [2062.3, 6.0769, 0.0],
            Self::Protein => [2008.2, 1.2089, -1.3129e-3],
            Self::Fat => [1984.2, 1.4733, -4.8008e-3],
            Self::Carbohydrate => [1548.8, 1.9625, -5.9399e-3],
            Self::Fibre => [1845.9, 1.8306, -4.6509e-3],
            Self::Ash => [1092.6, 1.8896, -3.6817e-3],
        };
        evaluate(quadratic, t)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, want: f64) -> bool {
        (got - want).abs() <= 1e-4 * want
    }

    /// `CoolProp` 8.0.0, `INCOMP::FoodProtein`, `FoodFat`, `FoodIce`, `FoodAsh`: density, specific heat, conductivity.
    #[test]
    fn components_agree_with_coolprop() {
        for (component, t, rho, cp, k) in [
            (Component::Protein, 20.0, 1319.53, 2031.85, 0.20164),
            (Component::Fat, 20.0, 917.24, 2011.75, 0.17512),
            (Component::Ice, -10.0, 918.20, 2001.53, 2.29224),
            (Component::Ash, 60.0, 2406.96, 1192.72, 0.40322),
        ] {
            let at = Temperature::from_celsius(t).unwrap();
            assert!(near(component.density(at).value, rho), "{component:?}");
            assert!(near(component.specific_heat(at).value, cp), "{component:?}");
            assert!(near(component.conductivity(at).value, k), "{component:?}");
        }
    }

    /// Liquid water at 20 °C: 998.2 kg/m³, 4184 J/(kg·K), 0.598 W/(m·K) (IAPWS, rounded); the fit is good to 1 %.
    #[test]
    fn water_is_close_to_real_water() {
        let at = Temperature::from_celsius(20.0).unwrap();
        assert!((Component::Water.density(at).value / 998.2 - 1.0).abs() < 0.01);
        assert!((Component::Water.specific_heat(at).value / 4184.0 - 1.0).abs() < 0.01);
        assert!((Component::Water.conductivity(at).value / 0.598 - 1.0).abs() < 0.01);
    }

    /// Signs and powers of ten of the slopes, where copies of the table have gone wrong: every property moves by
    /// less than its known span, and fat, ice and the densities fall with warmth.
    #[test]
    fn slopes_have_the_printed_signs() {
        for component in Component::ALL {
            let [cold, warm] = [1.0, 40.0];
            assert_eq!(
                component.k_w_m_k(warm) < component.k_w_m_k(cold),
                matches!(component, Component::Fat | Component::Ice),
                "{component:?}"
            );
            assert!(component.rho_kg_m3(warm) < component.rho_kg_m3(cold));
        }
        let ice = Component::Ice;
        assert!((ice.k_w_m_k(-40.0) - 2.632).abs() < 0.001);
    }
}
