//! Secondary models: the rate of growth as a function of temperature, and its integral along a straight line.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::{Error, ErrorKind};
use crate::log::STEPS_PER_KELVIN;
use crate::math::Numbers;
use crate::units::Temperature;

/// 0 °C in steps.
const ICE_POINT: f64 = 273.15 * STEPS_PER_KELVIN;

/// The cardinal temperature model of Rosso and others.
///
/// µ = `µ_opt` (T − Tmax)(T − Tmin)² / {(Topt − Tmin)[(Topt − Tmin)(T − Topt) − (Topt − Tmax)(Topt + Tmin − 2T)]}
/// between Tmin and Tmax, else 0. The form is recalled from the literature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CardinalRate {
    /// Tmin: no growth at or below it.
    pub lowest: Temperature,
    /// Topt: the fastest growth; above the middle of Tmin and Tmax.
    pub best: Temperature,
    /// Tmax: no growth at or above it.
    pub highest: Temperature,
    /// `µ_opt`, in natural logarithms an hour; above 0, up to 20.
    pub best_rate_per_h: f64,
}

/// The square root model of Ratkowsky and others: √µ = b (T − Tmin) above Tmin, else 0.
///
/// It has no upper end: use it only well below the temperature of fastest growth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SquareRootRate {
    /// Tmin: no growth at or below it.
    pub lowest: Temperature,
    /// b, in the root of natural logarithms an hour for each kelvin; above 0, up to 1.
    pub root_rate_per_kelvin: f64,
}

/// Points and weights of Gauss and Legendre's eight-point rule on −1 … 1, positive half (Abramowitz and Stegun,
/// table 25.4).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_48),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_26),
];

/// Degrees Celsius, for arithmetic.
pub(super) fn celsius(t: Temperature) -> f64 {
    t.as_celsius()
}

fn out_of_range(field: &str, given: &dyn std::fmt::Display, expected: &str) -> Error {
    Error::new(ErrorKind::OutOfRange, given, expected).at(field)
}

impl CardinalRate {
    pub(super) fn check(&self) -> Result<(), Error> {
        let (low, best, high) = (self.lowest, self.best, self.highest);
        // Below the middle the denominator changes its sign inside the range.
        let doubled = 2 * best.exact().ninths_of_millikelvin();
        let ends = low.exact().ninths_of_millikelvin() + high.exact().ninths_of_millikelvin();
        if !(low < best && best < high && doubled > ends) {
            return Err(out_of_range(
                "best",
                &best,
                "a best temperature above the middle of lowest and highest, and below highest, is needed",
            ));
        }
        if !(self.best_rate_per_h > 0.0 && self.best_rate_per_h <= 20.0) {
            return Err(out_of_range(
                "best_rate_per_h",
                &self.best_rate_per_h,
                "a rate above 0 and up to 20 an hour is needed",
            ));
        }
        Ok(())
    }

    /// µ in natural logarithms an hour at degrees Celsius.
    pub(super) fn rate(&self, t: f64) -> f64 {
        let (low, best, high) = (
            celsius(self.lowest),
            celsius(self.best),
            celsius(self.highest),
        );
        if t <= low || t >= high {
            return 0.0;
        }
        let above = (t - high) * (t - low) * (t - low);
        let below =
            (best - low) * ((best - low) * (t - best) - (best - high) * (best + low - 2.0 * t));
        self.best_rate_per_h * above / below
    }

    /// ∫ µ dt over `hours` while the temperature goes straight from `from` to `to`, for a rate whose pole is far off:
    /// eight Gauss points on each part between Tmin, Topt and Tmax err by less than 10⁻¹² of the whole.
    pub(super) fn integral(&self, hours: f64, from: f64, to: f64) -> f64 {
        if from == to {
            return hours * self.rate(from);
        }
        let low = from.min(to).max(celsius(self.lowest));
        let high = from.max(to).min(celsius(self.highest));
        if low >= high {
            return 0.0;
        }
        let best = celsius(self.best);
        let area = if low < best && best < high {
            self.area(low, best) + self.area(best, high)
        } else {
            self.area(low, high)
        };
        hours * area / (to - from).abs()
    }

    /// ∫ µ dT between two temperatures inside Tmin and Tmax.
    fn area(&self, low: f64, high: f64) -> f64 {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let sum: f64 = GAUSS
            .iter()
            .map(|&(point, weight)| {
                weight * (self.rate(middle - half * point) + self.rate(middle + half * point))
            })
            .sum();
        half * sum
    }
}

impl SquareRootRate {
    pub(super) fn check(&self) -> Result<(), Error> {
        if self.root_rate_per_kelvin > 0.0 && self.root_rate_per_kelvin <= 1.0 {
            return Ok(());
        }
        Err(out_of_range(
            "root_rate_per_kelvin",
            &self.root_rate_per_kelvin,
            "a number above 0 and up to 1 is needed",
        ))
    }

    /// ∫ µ dt over `hours` along a straight line: the mean of a square, without a difference that cancels.
    pub(super) fn integral(&self, hours: f64, from: f64, to: f64) -> f64 {
        let root = |t: f64| self.root_rate_per_kelvin * (t - celsius(self.lowest));
        let (low, high) = (root(from.min(to)), root(from.max(to)));
        if high <= 0.0 {
            return 0.0;
        }
        // Only the share of the line above Tmin counts.
        let share = if low < 0.0 { high / (high - low) } else { 1.0 };
        let low = low.max(0.0);
        hours * share * (low * low + low * high + high * high) / 3.0
    }
}

/// Degrees Celsius of whole steps.
#[inline(always)]
#[allow(clippy::inline_always)] // part of the vectorised loop
pub(super) fn celsius_of_steps<N: Numbers>(steps: N) -> N {
    (steps - steps.like(ICE_POINT)) * steps.like(1.0 / STEPS_PER_KELVIN)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chicken() -> CardinalRate {
        CardinalRate {
            lowest: Temperature::parse("8.8 °C").unwrap(),
            best: Temperature::parse("46.4 °C").unwrap(),
            highest: Temperature::parse("51.5 °C").unwrap(),
            best_rate_per_h: 6.06,
        }
    }

    #[test]
    fn the_cardinal_rate_passes_through_its_points() {
        // Computed in Python from the published parameters.
        for (t, expected) in [
            (20.0, 0.695_910_407),
            (30.0, 2.429_157_286),
            (40.0, 4.914_550_057),
            (46.4, 6.06),
        ] {
            assert!((chicken().rate(t) - expected).abs() < 1e-9, "{t}");
        }
    }

    #[test]
    fn no_growth_at_or_beyond_the_ends() {
        for (t, grows) in [
            (8.799, false),
            (8.8, false),
            (8.801, true),
            (51.499, true),
            (51.5, false),
            (51.501, false),
        ] {
            assert_eq!(chicken().rate(t) > 0.0, grows, "{t}");
        }
    }

    #[test]
    fn the_square_root_integral_is_its_cubic() {
        // M = b² dt (T₂ − Tmin)³ / (3 (T₂ − T₁)) = 0.035² · 3 · 15³ / 60, by hand.
        let model = SquareRootRate {
            lowest: Temperature::parse("5 °C").unwrap(),
            root_rate_per_kelvin: 0.035,
        };
        assert!((model.integral(3.0, 0.0, 20.0) - 0.206_718_75).abs() < 1e-12);
        assert!((model.integral(3.0, 20.0, 0.0) - 0.206_718_75).abs() < 1e-12);
        assert_eq!(model.integral(3.0, 0.0, 5.0), 0.0);
        let held = model.integral(2.0, 15.0, 15.0);
        assert!((held - 2.0 * 0.35 * 0.35).abs() < 1e-15);
    }

    #[test]
    fn parameters_are_tested_under_at_and_over() {
        let rate = |best_rate_per_h| {
            CardinalRate {
                best_rate_per_h,
                ..chicken()
            }
            .check()
            .is_ok()
        };
        assert!(!rate(0.0) && rate(1e-9) && !rate(-1e-9));
        assert!(rate(19.999) && rate(20.0) && !rate(20.001));
        let best = |text: &str| {
            let best = Temperature::parse(text).unwrap();
            CardinalRate { best, ..chicken() }.check().is_ok()
        };
        assert!(!best("30.149 °C") && !best("30.15 °C") && best("30.151 °C"));
        assert!(best("51.499 °C") && !best("51.5 °C") && !best("51.501 °C"));
    }
}
