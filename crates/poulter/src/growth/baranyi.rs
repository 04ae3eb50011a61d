//! The primary model of Baranyi and Roberts in its closed form.

use std::f64::consts::LN_10;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::math::{exp, ln_1p};

/// The initial state and the limits of a population.
///
/// A = M + ln(e^−M + e^−h₀ − e^(−M−h₀)); growth = A − ln(1 + (e^A − 1)/e^(ymax − y0)), all in natural logarithms.
/// No source gives h₀ for poultry, so it is the caller's.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lag {
    /// h₀, the work to be done before growth begins; 0 (no lag) to 50, without a unit.
    pub h0: f64,
    /// The population at the start, in log10 of its number; from −10 to the ceiling.
    pub start_log10: f64,
    /// The population that the food can hold, in log10 of its number; up to 15.
    pub ceiling_log10: f64,
}

impl Lag {
    pub(super) fn check(&self) -> Result<(), Error> {
        let refuse = |field: &str, given: f64, expected: &str| {
            Err(Error::new(ErrorKind::OutOfRange, given, expected).at(field))
        };
        if !(0.0..=50.0).contains(&self.h0) {
            return refuse("h0", self.h0, "a number from 0 to 50 is needed");
        }
        if !(-10.0..=15.0).contains(&self.ceiling_log10) {
            return refuse(
                "ceiling_log10",
                self.ceiling_log10,
                "a number from -10 to 15 is needed",
            );
        }
        if !(-10.0..=self.ceiling_log10).contains(&self.start_log10) {
            return refuse(
                "start_log10",
                self.start_log10,
                "a number from -10 to the ceiling is needed",
            );
        }
        Ok(())
    }

    /// Growth in log10 after M, which is in natural logarithms and not negative.
    pub(super) fn growth_log10(&self, m: f64) -> f64 {
        let adjusted = ln_of_sum(m, self.h0);
        let room = (self.ceiling_log10 - self.start_log10) * LN_10;
        // Far above the ceiling the two large terms are taken away on paper, not in floating point.
        let growth = if adjusted > room {
            room - ln_1p((1.0 - exp(-room)) * exp(room - adjusted))
        } else {
            adjusted - ln_of_sum(adjusted, room)
        };
        growth / LN_10
    }
}

/// ln(1 + e^(a−b) − e^−b) for a, b ≥ 0, without overflow and without cancelling.
///
/// It is both A for M = a, h₀ = b, and the braking term for A = a, room = b.
fn ln_of_sum(a: f64, b: f64) -> f64 {
    if a > b {
        (a - b) + ln_1p((1.0 - exp(-b)) * exp(b - a))
    } else {
        ln_1p(exp(a - b) - exp(-b))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_closed_form_agrees_with_the_differential_equations() {
        // SciPy 1.17 solve_ivp agrees with each to 1e-8; y0 2, ymax 8.5 log10.
        for (h0, m, expected) in [
            (0.0, 2.0, 2.868_588_086_4),
            (1.0, 5.0, 3.742_169_723_3),
            (3.0, 10.0, 5.040_286_944_5),
            (6.0, 8.053, 2.943_926_587_2),
            (3.0, 0.5, 2.013_805_052_2),
        ] {
            let lag = Lag {
                h0,
                start_log10: 2.0,
                ceiling_log10: 8.5,
            };
            let y = 2.0 + lag.growth_log10(m);
            assert!((y - expected).abs() < 1e-9, "h0 {h0}, M {m}: {y}");
        }
    }

    #[test]
    fn no_time_is_no_growth_and_the_ceiling_holds() {
        let lag = Lag {
            h0: 3.0,
            start_log10: 2.0,
            ceiling_log10: 8.5,
        };
        assert_eq!(lag.growth_log10(0.0), 0.0);
        for m in [100.0, 800.0, 1e6] {
            assert!((lag.growth_log10(m) - 6.5).abs() < 1e-12, "{m}");
        }
    }

    #[test]
    fn limits_are_tested_under_at_and_over() {
        let fine = |h0, start_log10, ceiling_log10| {
            let lag = Lag {
                h0,
                start_log10,
                ceiling_log10,
            };
            lag.check().is_ok()
        };
        assert!(!fine(-0.001, 2.0, 8.0) && fine(0.0, 2.0, 8.0) && fine(0.001, 2.0, 8.0));
        assert!(fine(49.999, 2.0, 8.0) && fine(50.0, 2.0, 8.0) && !fine(50.001, 2.0, 8.0));
        assert!(fine(1.0, 7.999, 8.0) && fine(1.0, 8.0, 8.0) && !fine(1.0, 8.001, 8.0));
        assert!(fine(1.0, 2.0, 14.999) && fine(1.0, 2.0, 15.0) && !fine(1.0, 2.0, 15.001));
        assert!(!fine(1.0, -10.001, 8.0) && fine(1.0, -10.0, 8.0) && fine(1.0, -9.999, 8.0));
        assert!(!fine(f64::NAN, 2.0, 8.0) && !fine(1.0, f64::NAN, 8.0));
    }
}
