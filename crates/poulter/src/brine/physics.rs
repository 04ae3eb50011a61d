//! Salt, heat and space: the balances behind a brine. SI units throughout; private.

use std::f64::consts::PI;

use crate::math;

/// Water in raw turkey, kg/kg. USDA SR26: 0.727 whole, 0.754 meat alone; the middle (read, derived).
pub(super) const MEAT_WATER: f64 = 0.74;

/// Diffusivity of salt in cold meat, m²/s: low, likely, high.
///
/// Pork loin in brine of 50–280 kg/m³ at 5 °C: (1.90 ± 0.28)·10⁻¹⁰, book chapter, abstract read. No value for poultry
/// was found, so the interval is wide and the result is an order of magnitude.
pub(super) const SALT_DIFFUSIVITY: [f64; 3] = [1.5e-10, 2e-10, 5e-10];

/// Share of the brine's strength that stands at the surface of the meat; fitted to a published assay of 12-lb birds
/// (derived).
pub(super) const SURFACE_SHARE: f64 = 0.75;

/// Half the thickness of the breast of a 12-lb turkey, m; the thickness at which the assay was compared (derived).
pub(super) const HALF_THICKNESS: f64 = 0.03;

/// Strongest brine the property table covers, kg/kg.
pub(super) const STRONGEST: f64 = 0.23;

/// Strength, freezing point in °C, density at 4 °C in kg/m³. `CoolProp` 8.0.0, `INCOMP::MNA[w]`; its densities agree with
/// a physico-chemical handbook (WNT, Warszawa 1974) within 0.02 % at 20 °C.
const BRINE: [(f64, f64, f64); 11] = [
    (0.0, 0.0, 999.97),
    (0.01, -0.596, 1007.47),
    (0.03, -1.803, 1022.48),
    (0.04, -2.422, 1030.00),
    (0.05, -3.055, 1037.55),
    (0.06, -3.706, 1045.12),
    (0.08, -5.074, 1060.34),
    (0.10, -6.553, 1075.70),
    (0.15, -10.90, 1114.80),
    (0.20, -16.46, 1154.97),
    (0.23, -20.51, 1179.55),
];

/// Freezing point in °C and density at 4 °C in kg/m³ of a brine, on the straight line between rows of the table.
pub(super) fn brine_properties(strength: f64) -> Option<(f64, f64)> {
    BRINE.windows(2).find_map(|pair| {
        let [(w0, t0, d0), (w1, t1, d1)] = [pair[0], pair[1]];
        (w0..=w1).contains(&strength).then(|| {
            let along = (strength - w0) / (w1 - w0);
            (t0 + along * (t1 - t0), d0 + along * (d1 - d0))
        })
    })
}

/// Salt in the water of brine and meat together, and salt on meat, once nothing moves any more.
///
/// `z = m_s / (m_s + m_w + w m)`, `f = w m_s / (m_w + w m)`: well mixed, no salt bound.
pub(super) fn equilibrium(salt_kg: f64, water_kg: f64, meat_kg: f64) -> (f64, f64) {
    let all_water = water_kg + MEAT_WATER * meat_kg;
    (
        salt_kg / (salt_kg + all_water),
        MEAT_WATER * salt_kg / all_water,
    )
}

/// Mean uptake of a slab with both faces at constant strength, as a share of full uptake.
///
/// `F = 1 − Σ 8/((2k+1)²π²)·exp(−(2k+1)²π² D t / 4L²)`, with L half the thickness.
pub(super) fn slab_uptake(diffusivity: f64, seconds: f64, half_thickness: f64) -> f64 {
    let fourier = diffusivity * seconds / (half_thickness * half_thickness);
    // Below this the first 200 terms no longer suffice, and the early-time form is exact to 1e-9.
    if fourier < 0.01 {
        return 2.0 * (fourier / PI).sqrt();
    }
    let rest: f64 = (0..200)
        .map(|k| {
            let odd = f64::from(2 * k + 1) * PI;
            8.0 / (odd * odd) * math::exp(-odd * odd * fourier / 4.0)
        })
        .sum();
    1.0 - rest
}

/// How deep the salt has gone, m: `2 √(D t)`.
pub(super) fn depth(diffusivity: f64, seconds: f64) -> f64 {
    2.0 * (diffusivity * seconds).sqrt()
}

/// Heat to melt ice, J/kg.
const MELT: f64 = 334e3;
/// Heat capacity of ice near −18 °C, J/(kg K).
const ICE_CAPACITY: f64 = 2050.0;
/// Heat capacity of water, J/(kg K).
const WATER_CAPACITY: f64 = 4190.0;

/// Ice that brings a hot liquid down to `end` °C, kg; no losses.
///
/// `m [c_i (0 − T_ice) + L + c_w T_end] = m_h c_h (T_h − T_end)`.
pub(super) fn ice_to_chill(hot_kg: f64, hot_capacity: f64, hot: f64, end: f64, ice: f64) -> f64 {
    hot_kg * hot_capacity * (hot - end) / (MELT - ICE_CAPACITY * ice + WATER_CAPACITY * end)
}

/// Heat that leaks into a cooler for each kelvin, W/K: `A / (d/k + 1/h)` over its outer sides.
///
/// Foam conductivity 0.033 W/(m K) (food-engineering exercise, read), outer film 8 W/(m² K) (common value).
pub(super) fn cooler_leak(sides_m: [f64; 3], foam_m: f64) -> f64 {
    let [a, b, c] = sides_m;
    2.0 * (a * b + a * c + b * c) / (foam_m / 0.033 + 1.0 / 8.0)
}

/// Ice that melts at a leak of heat, kg.
pub(super) fn ice_melted(leak_w_per_k: f64, kelvin: f64, seconds: f64) -> f64 {
    leak_w_per_k * kelvin.max(0.0) * seconds / MELT
}

/// Smallest vessel, L: bird by displacement at 1.05 kg/L (from memory), brine, and 15 % of head room (common practice).
pub(crate) fn vessel_l(meat_kg: f64, brine_l: f64) -> f64 {
    (meat_kg / 1.05 + brine_l) * 1.15
}

/// Sodium in salt, kg/kg: 22.990 / 58.443, atomic masses.
pub(super) const SODIUM_IN_SALT: f64 = 22.990 / 58.443;

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, tolerance: f64) {
        assert!(
            (value - expected).abs() <= tolerance,
            "{value} is not {expected}"
        );
    }

    #[test]
    fn properties_agree_with_coolprop_and_end_at_its_range() {
        // CoolProp 8.0.0: T_FREEZE and D at 277.15 K of INCOMP::MNA[0.05].
        near(brine_properties(0.05).unwrap().0, -3.055, 0.05);
        near(brine_properties(0.05).unwrap().1, 1037.55, 0.5);
        // CRC Handbook, freezing-point lowering: 1.68 K at 0.5 mol/kg, which is 2.84 % by weight.
        near(brine_properties(0.02839).unwrap().0, -1.68, 0.05);
        assert!(brine_properties(0.2299).is_some());
        assert!(brine_properties(0.23).is_some());
        assert!(brine_properties(0.2301).is_none());
        assert!(brine_properties(f64::NAN).is_none());
    }

    #[test]
    fn salt_balance_by_hand() {
        // 12 lb, 2 gal, 438 g: f = 0.74 × 0.438 / (7.571 + 0.74 × 5.443) = 0.0279; z = 0.0364.
        let (z, f) = equilibrium(0.438, 7.571, 5.443);
        near(f, 0.0279, 0.000_28);
        near(z, 0.0364, 0.000_36);
    }

    #[test]
    fn slab_series_agrees_with_crank() {
        // Series for a plane sheet (Crank, The Mathematics of Diffusion), summed apart from this code.
        let day = 86_400.0;
        near(slab_uptake(2e-10, day, 0.02), 0.235, 0.002);
        near(slab_uptake(2e-10, day, 0.01), 0.469, 0.002);
        near(slab_uptake(2e-10, 3.0 * day, 0.03), 0.271, 0.002);
        // The early form meets the series where it takes over.
        near(
            slab_uptake(1.0, 0.009_999_9, 1.0),
            slab_uptake(1.0, 0.01, 1.0),
            1e-5,
        );
        near(depth(1.9e-10, day), 0.0081, 0.000_05);
    }

    #[test]
    fn ice_balance_by_hand() {
        // 4.19 × 96 / (2.05 × 18 + 334 + 4.19 × 4) = 1.038 kg of ice for 1 kg of water from 100 to 4 °C.
        near(ice_to_chill(1.0, 4190.0, 100.0, 4.0, -18.0), 1.038, 0.01);
        near(ice_to_chill(2.331, 3550.0, 90.0, 4.0, -18.0), 1.836, 0.01);
        // 1.28 m² / (0.03/0.033 + 1/8) = 1.238 W/K; × 19 K × 86400 s / 334 kJ/kg = 6.08 kg.
        let leak = cooler_leak([0.6, 0.4, 0.4], 0.03);
        near(leak, 1.238, 0.012);
        near(ice_melted(leak, 19.0, 86_400.0), 6.08, 0.06);
    }

    #[test]
    fn vessel_and_sodium_by_hand() {
        near(vessel_l(5.443, 7.571), 14.7, 0.2);
        near(SODIUM_IN_SALT * 1000.0, 393.4, 0.1);
    }
}
