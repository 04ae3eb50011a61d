//! What passes through the surface.

use crate::math;

use super::parameters::{
    ABSOLUTE_ZERO_DEGC, DRY_AIR_HEAT_J_KG_K, STANDARD_PRESSURE_PA, STEFAN_BOLTZMANN_W_M2_K4,
};

/// Surroundings that stay as they are.
///
/// Into the body flow `h_c(T_a − T_s) + εσ(T_w⁴ − T_s⁴) − m″ L_v(T_s)`. Water leaves at
/// `m″ = h_w/(c_air p)·0.622·1.12·(p_s(T_s) − p_v)`, with the skin in series with the air:
/// `h_w = h_s h_c/(h_s + h_c)`.
/// With an unlimited supply of water at the skin instead, a fan oven would come out slower than a still one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Boundary {
    /// Air or water, °C.
    pub(super) air_degc: f64,
    /// Walls seen by the surface, °C.
    pub(super) walls_degc: f64,
    /// Convective coefficient `h_c`, W/(m²·K).
    pub(super) convection: f64,
    /// Emissivity ε; 0 under a wrap or in water.
    pub(super) emissivity: f64,
    /// Vapour conductance of the skin `h_s` as a heat coefficient, W/(m²·K); 0 where nothing can evaporate.
    pub(super) skin: f64,
    /// Pressure of water vapour in the air, Pa.
    pub(super) vapour_pa: f64,
}

/// Flow through the surface and how it changes with the surface temperature.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Flow {
    /// Heat into the body, W/m².
    pub(super) heat: f64,
    /// Change of the heat per kelvin of surface temperature, W/(m²·K); never positive.
    pub(super) slope: f64,
    /// Water leaving the body, kg/(m²·s).
    pub(super) water: f64,
}

/// Lewis relation for water vapour in air, (Pr/Sc)^(2/3) ≈ 1.12, and the ratio of the molar masses.
const LEWIS: f64 = 1.12;
const MOLAR_RATIO: f64 = 0.622;

impl Boundary {
    pub(super) fn flow(&self, surface_degc: f64) -> Flow {
        let surface_k = surface_degc - ABSOLUTE_ZERO_DEGC;
        let walls_k = self.walls_degc - ABSOLUTE_ZERO_DEGC;
        let radiation = self.emissivity * STEFAN_BOLTZMANN_W_M2_K4;
        let cubed = surface_k * surface_k * surface_k;
        let mut flow = Flow {
            heat: self.convection * (self.air_degc - surface_degc)
                + radiation * (walls_k * walls_k * walls_k * walls_k - cubed * surface_k),
            slope: -self.convection - 4.0 * radiation * cubed,
            water: 0.0,
        };
        if self.skin > 0.0 {
            let conductance = self.skin * self.convection / (self.skin + self.convection);
            let per_pascal =
                conductance / (DRY_AIR_HEAT_J_KG_K * STANDARD_PRESSURE_PA) * MOLAR_RATIO * LEWIS;
            let (pressure, pressure_slope) = saturation_pa(surface_degc);
            let latent = 2.5009e6 - 2381.0 * surface_degc;
            flow.water = per_pascal * (pressure - self.vapour_pa);
            flow.heat -= flow.water * latent;
            flow.slope -= per_pascal * pressure_slope * latent - flow.water * 2381.0;
        }
        flow
    }
}

/// Saturation pressure of water, 610.94 exp(17.625 t/(t + 243.04)) Pa, and its slope (Magnus form, Alduchov and
/// Eskridge 1996). Fitted up to 50 °C; 3 % high at 100 °C.
fn saturation_pa(celsius: f64) -> (f64, f64) {
    let below = celsius + 243.04;
    let pressure = 610.94 * math::exp(17.625 * celsius / below);
    (pressure, pressure * 17.625 * 243.04 / (below * below))
}

#[cfg(test)]
mod tests {
    use super::*;

    const OVEN: Boundary = Boundary {
        air_degc: 162.8,
        walls_degc: 162.8,
        convection: 6.0,
        emissivity: 0.9,
        skin: 1.0,
        vapour_pa: 3000.0,
    };

    /// Steam tables (IAPWS-IF97): 2339.3 Pa at 20 °C, 47 414 Pa at 80 °C, 101 418 Pa at 100 °C.
    #[test]
    fn saturation_is_that_of_the_steam_tables() {
        for (t, expected, tolerance) in [
            (20.0, 2339.3, 0.003),
            (80.0, 47_414.0, 0.015),
            (100.0, 101_418.0, 0.03),
        ] {
            let got = saturation_pa(t).0;
            assert!((got / expected - 1.0).abs() < tolerance, "{t} {got}");
        }
    }

    /// Still oven at 163 °C, skin at 85 °C: a radiative coefficient of 12.9 W/(m²·K) (Stefan–Boltzmann, ε 0.9);
    /// Chang and others 1998 measured 19.25 in all in a household oven.
    #[test]
    fn radiation_and_convection_add_up_to_a_measured_oven() {
        let dry = Boundary { skin: 0.0, ..OVEN };
        let total = dry.flow(85.0).heat / (162.8 - 85.0);
        assert!((total - 18.9).abs() < 0.1, "{total}");
        assert!((total / 19.252 - 1.0).abs() < 0.05);
    }

    #[test]
    fn slope_is_the_derivative() {
        for t in [-18.0, 4.4, 60.0, 99.0, 140.0] {
            let step = 1e-3;
            let numeric = (OVEN.flow(t + step).heat - OVEN.flow(t - step).heat) / (2.0 * step);
            assert!((OVEN.flow(t).slope / numeric - 1.0).abs() < 1e-6, "{t}");
        }
    }

    /// Steam settles on a cold skin and leaves a hot one.
    #[test]
    fn water_leaves_only_above_the_dew_point() {
        assert!(OVEN.flow(4.4).water < 0.0);
        assert!(OVEN.flow(90.0).water > 0.0);
    }
}
