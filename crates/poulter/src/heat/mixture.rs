//! Properties of a mixture from those of its components.

use uom::si::f64::{MassDensity, SpecificHeatCapacity, ThermalConductivity};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;

use crate::bird::Composition;
use crate::units::Temperature;

use super::component::Component;
use super::ice::IceRule;

/// How the conductivities of the components add up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MixingRule {
    /// Layers along the flow: `Σ v_i k_i`, the upper bound.
    Parallel,
    /// Layers across the flow: `1/Σ(v_i/k_i)`, the lower bound.
    Series,
    /// Solids dispersed in water and ice, which lie parallel (Maxwell 1873, Eucken 1932):
    /// `k_c [2k_c + k_d − 2v_d(k_c − k_d)] / [2k_c + k_d + v_d(k_c − k_d)]`. The one the model uses. A comparison of
    /// rules ranks Levy's variant a little better (Fricke and Becker 2001); choosing the parallel rule instead
    /// shortens a roast by 2.8 %.
    MaxwellEucken,
}

/// A food of known composition at one temperature, with its ice by [`IceRule::Chen`].
///
/// `ρ = 1/Σ(x_i/ρ_i)`, `c_p = Σ x_i c_p,i`, `v_i = ρ x_i/ρ_i`; every sum is divided by `Σ x_i`, because printed shares do
/// not add up to one. Valid from −40 °C to 150 °C, the range of the component properties.
///
/// ```
/// use poulter::bird::Composition;
/// use poulter::heat::{Mixture, MixingRule};
/// use poulter::units::Temperature;
/// let turkey = Mixture::new(&Composition::TURKEY, Temperature::parse("20 °C")?);
/// let k = turkey.conductivity(MixingRule::MaxwellEucken).value;
/// // Sweat, Haugh and Stadelman 1973 measured 0.488 W/(m·K) in white chicken meat at 20 °C.
/// assert!((k / 0.488 - 1.0).abs() < 0.03);
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Mixture {
    celsius: f64,
    shares: [f64; Component::ALL.len()],
    sum: f64,
}

impl Mixture {
    /// The food at this temperature.
    #[must_use]
    pub fn new(composition: &Composition, at: Temperature) -> Self {
        Self::at_celsius(composition, at.as_celsius())
    }

    pub(super) fn at_celsius(composition: &Composition, celsius: f64) -> Self {
        let water = composition.water().as_ratio();
        let protein = composition.protein().as_ratio();
        let freezing = composition.freezing_point().as_celsius();
        let ice = IceRule::Chen.share(water, protein, freezing, celsius);
        let shares = [
            water - ice,
            ice,
            protein,
            composition.fat().as_ratio(),
            composition.carbohydrate().as_ratio(),
            composition.fibre().as_ratio(),
            composition.ash().as_ratio(),
        ];
        Self {
            celsius,
            shares,
            sum: shares.iter().sum(),
        }
    }

    /// Density ρ.
    #[must_use]
    pub fn density(&self) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(self.rho_kg_m3())
    }

    /// Specific heat `c_p` without the heat of melting.
    #[must_use]
    pub fn specific_heat(&self) -> SpecificHeatCapacity {
        SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>(self.cp_j_kg_k())
    }

    /// Thermal conductivity k.
    #[must_use]
    pub fn conductivity(&self, rule: MixingRule) -> ThermalConductivity {
        ThermalConductivity::new::<watt_per_meter_kelvin>(self.k_w_m_k(rule))
    }

    /// Mass of ice in a kilogram.
    pub(super) fn ice(&self) -> f64 {
        self.shares[1]
    }

    pub(super) fn rho_kg_m3(&self) -> f64 {
        let volume: f64 = self
            .parts()
            .map(|(component, x)| x / component.rho_kg_m3(self.celsius))
            .sum();
        self.sum / volume
    }

    pub(super) fn cp_j_kg_k(&self) -> f64 {
        let heat: f64 = self
            .parts()
            .map(|(component, x)| x * component.cp_j_kg_k(self.celsius))
            .sum();
        heat / self.sum
    }

    pub(super) fn k_w_m_k(&self, rule: MixingRule) -> f64 {
        let volumes = self
            .parts()
            .map(|(component, x)| (component, x / component.rho_kg_m3(self.celsius)));
        let k = |component: Component| component.k_w_m_k(self.celsius);
        match rule {
            MixingRule::Parallel => {
                let (sum, total) = volumes.fold((0.0, 0.0), |(sum, total), (component, v)| {
                    (sum + v * k(component), total + v)
                });
                sum / total
            }
            MixingRule::Series => {
                let (sum, total) = volumes.fold((0.0, 0.0), |(sum, total), (component, v)| {
                    (sum + v / k(component), total + v)
                });
                total / sum
            }
            MixingRule::MaxwellEucken => {
                let mut continuous = (0.0, 0.0);
                let mut dispersed = (0.0, 0.0);
                for (component, v) in volumes {
                    let phase = match component {
                        Component::Water | Component::Ice => &mut continuous,
                        _ => &mut dispersed,
                    };
                    phase.0 += v * k(component);
                    phase.1 += v;
                }
                if dispersed.1 == 0.0 {
                    return continuous.0 / continuous.1;
                }
                if continuous.1 == 0.0 {
                    return dispersed.0 / dispersed.1;
                }
                let k_c = continuous.0 / continuous.1;
                let k_d = dispersed.0 / dispersed.1;
                let v_d = dispersed.1 / (continuous.1 + dispersed.1);
                k_c * (2.0 * k_c + k_d - 2.0 * v_d * (k_c - k_d))
                    / (2.0 * k_c + k_d + v_d * (k_c - k_d))
            }
        }
    }

    fn parts(&self) -> impl Iterator<Item = (Component, f64)> {
        Component::ALL
            .into_iter()
            .zip(self.shares)
            .filter(|&(_, x)| x > 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn within(got: f64, want: f64, tolerance: f64) -> bool {
        (got / want - 1.0).abs() <= tolerance
    }

    /// Regression vectors: a separate reference calculation of the same equations, not independent evidence.
    #[test]
    fn turkey_matches_the_reference_calculation() {
        let warm = Mixture::at_celsius(&Composition::TURKEY, 20.0);
        assert!(within(warm.rho_kg_m3(), 1046.6, 1e-3));
        assert!(within(warm.cp_j_kg_k(), 3536.4, 1e-3));
        assert!(within(warm.k_w_m_k(MixingRule::Parallel), 0.4981, 1e-3));
        assert!(within(warm.k_w_m_k(MixingRule::Series), 0.3892, 1e-3));
        assert!(within(
            warm.k_w_m_k(MixingRule::MaxwellEucken),
            0.4768,
            1e-3
        ));

        let frozen = Mixture::at_celsius(&Composition::TURKEY, -18.0);
        assert!(within(frozen.ice(), 0.5255, 1e-3));
        assert!(within(frozen.rho_kg_m3(), 1004.3, 1e-3));
        assert!(within(frozen.cp_j_kg_k(), 2407.9, 1e-3));
        assert!(within(frozen.k_w_m_k(MixingRule::Parallel), 1.4998, 1e-3));
        assert!(within(
            frozen.k_w_m_k(MixingRule::MaxwellEucken),
            1.3716,
            1e-3
        ));
    }

    /// White chicken meat, 1.07 − 0.0149 T − 1.04e-4 T² W/(m·K) from −75 to −10 °C (Sweat, Haugh and Stadelman
    /// 1973); turkey meat 0.464 as the mean of 0 to 80 °C (Chang and others 1998).
    #[test]
    fn conductivity_is_near_the_measurements() {
        let k = |composition: &Composition, t| {
            Mixture::at_celsius(composition, t).k_w_m_k(MixingRule::MaxwellEucken)
        };
        let measured = 1.07 + 0.0149 * 18.0 - 1.04e-4 * 18.0 * 18.0;
        assert!(within(k(&Composition::CHICKEN, -18.0), measured, 0.05));
        assert!(within(k(&Composition::CHICKEN, 20.0), 0.488, 0.09));
        let mean = (0..=80)
            .map(|t| k(&Composition::TURKEY, f64::from(t)))
            .sum::<f64>()
            / 81.0;
        assert!(within(mean, 0.464, 0.09), "{mean}");
    }

    #[test]
    fn the_bounds_hold_the_rule_between_them() {
        for t in [-40.0, -18.0, -3.0, 0.0, 20.0, 74.0, 100.0] {
            let food = Mixture::at_celsius(&Composition::CHICKEN, t);
            let k = food.k_w_m_k(MixingRule::MaxwellEucken);
            assert!(food.k_w_m_k(MixingRule::Series) < k, "{t}");
            assert!(k < food.k_w_m_k(MixingRule::Parallel), "{t}");
        }
    }
}
