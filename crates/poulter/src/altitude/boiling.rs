//! Pressure of the standard atmosphere, and the saturation temperature of water.

use crate::math;

/// Pressure at the sea in the standard atmosphere, in pascals (ICAO/ISO).
pub(super) const SEA_LEVEL_PA: f64 = 101_325.0;

/// `p = 101 325 (1 − 2.25577·10⁻⁵ h)^5.25588`, for a height in metres below 11 km (ICAO standard atmosphere).
pub(super) fn pressure_pa(height_m: f64) -> f64 {
    SEA_LEVEL_PA * math::pow(1.0 - 2.255_77e-5 * height_m, 5.255_88)
}

/// Coefficients of IAPWS-IF97, table 34: the saturation line of water.
const N: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// Saturation temperature in kelvin at a pressure from 611.213 Pa to 22.064 MPa: IAPWS-IF97, equation 31.
pub(super) fn saturation_k(pressure_pa: f64) -> f64 {
    let beta = (pressure_pa * 1e-6).sqrt().sqrt();
    let squared = beta * beta;
    let e = squared + N[2] * beta + N[5];
    let f = N[0] * squared + N[3] * beta + N[6];
    let g = N[1] * squared + N[4] * beta + N[7];
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let sum = N[9] + d;
    f64::midpoint(sum, -(sum * sum - 4.0 * (N[8] + N[9] * d)).sqrt())
}

/// Rounded to two decimals: the standard atmosphere is no better.
pub(super) fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// Rounded to a whole number of pascals; nothing outside the range of the type can come of a height in range.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped before the cast"
)]
pub(super) fn whole(value: f64) -> u32 {
    value.round().clamp(0.0, f64::from(u32::MAX)) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_saturation_line_meets_the_printed_check_values() {
        // IAPWS-IF97, table 36: 0.1, 1 and 10 MPa, printed to nine figures.
        for (pressure, kelvin) in [
            (0.1e6, 372.755_919),
            (1e6, 453.035_632),
            (10e6, 584.149_488),
        ] {
            let found = saturation_k(pressure);
            assert!((found - kelvin).abs() < 5e-7, "{pressure}: {found}");
        }
    }

    #[test]
    fn heights_meet_the_reference_table() {
        // Pressure by the standard atmosphere; boiling point from CoolProp, PropsSI('T', 'P', p, 'Q', 0, 'Water').
        for (metres, pascals, celsius) in [
            (0.0, 101_325.0, 99.974),
            (152.4, 99_508.0, 99.468),
            (304.8, 97_717.0, 98.962),
            (609.6, 94_213.0, 97.948),
            (914.4, 90_812.0, 96.934),
            (1219.2, 87_511.0, 95.919),
            (1524.0, 84_307.0, 94.903),
            (1609.3, 83_428.0, 94.619),
            (1828.8, 81_200.0, 93.887),
            (2133.6, 78_185.0, 92.869),
            (2438.4, 75_262.0, 91.851),
            (3048.0, 69_682.0, 89.812),
            (3657.6, 64_441.0, 87.769),
        ] {
            let pressure = pressure_pa(metres);
            assert!((pressure - pascals).abs() < 10.0, "{metres}: {pressure}");
            let boil = saturation_k(pressure) - 273.15;
            assert!((boil - celsius).abs() < 0.05, "{metres}: {boil}");
        }
    }

    #[test]
    fn the_agencies_rounded_points_are_met() {
        // FSIS script: 208 °F at 2,000 ft, about 198 °F at 7,500 ft; its table: 203 °F at 5,000 ft, 194 °F at 10,000 ft.
        for (feet, fahrenheit) in [
            (2000.0, 208.0),
            (7500.0, 198.0),
            (5000.0, 203.0),
            (10_000.0, 194.0),
        ] {
            let boil = saturation_k(pressure_pa(feet * 0.3048)) * 1.8 - 459.67;
            assert!((boil - fahrenheit).abs() < 0.5, "{feet}: {boil}");
        }
    }
}
