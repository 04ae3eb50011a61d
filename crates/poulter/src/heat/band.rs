//! How far the model may be off.

use schemars::JsonSchema;
use serde::Serialize;

use crate::units::{Duration, DurationUnit};

/// A time that is shorter one time in ten, and longer one time in ten.
///
/// The ends are whole minutes, rounded outwards. They are the model's time multiplied by two ratios that come from a
/// Monte Carlo run over assumed spreads (oven σ 8 K, length 5 %, convection 25 %, skin 30 %, start 1.5 K, probe 0.1 R),
/// widened by judgement for what the model leaves out; they are not measured coverage.
///
/// ```
/// use poulter::bird::Species;
/// use poulter::heat::{RoastCut, OvenStage, RoastSimulationQuery, simulate_roast};
/// use poulter::units::{Mass, Temperature};
/// let query = RoastSimulationQuery {
///     species: Species::Turkey,
///     cut: RoastCut::Whole,
///     mass: Mass::parse("12 lb")?,
///     start: Temperature::parse("40 °F")?,
///     stuffed: false,
///     oven: vec![OvenStage::until_done(Temperature::parse("325 °F")?)],
///     oven_lag: None,
///     door_openings: vec![],
///     tent: None,
///     target: Temperature::parse("165 °F")?,
///     standard: "us-consumer".to_owned(),
/// };
/// let time = simulate_roast(&query)?.time_to_target.unwrap();
/// assert!(time.low < time.likely && time.likely < time.high);
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Band {
    /// 10th percentile.
    pub low: Duration,
    /// Median.
    pub likely: Duration,
    /// 90th percentile.
    pub high: Duration,
}

/// Ratios of the 10th and 90th percentile to the model's time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread(pub(super) f64, pub(super) f64);

/// Time to 165 °F in a whole bird without a probe: Monte Carlo 0.85–1.19, and about ± 10 % for the open question
/// whether the breast or a joint is last.
pub(super) const ROAST: Spread = Spread(0.80, 1.20);
/// Breast roasted alone (judgement).
pub(super) const BREAST_PIECE: Spread = Spread(0.75, 1.25);
/// Roast from frozen (judgement).
pub(super) const FROZEN_ROAST: Spread = Spread(0.80, 1.35);
/// Thaw in a refrigerator: the surface coefficient is known only to a factor of two.
pub(super) const REFRIGERATOR_THAW: Spread = Spread(0.65, 1.50);
/// Thaw in water (judgement and Monte Carlo).
pub(super) const WATER_THAW: Spread = Spread(0.75, 1.45);
/// Cooling: taken equal to [`REFRIGERATOR_THAW`], since the same coefficients govern it (derived).
pub(super) const COOLING: Spread = Spread(0.65, 1.50);

impl Band {
    /// Around the model's time in seconds; the longest duration there is stands for anything longer.
    pub(super) fn around(seconds: f64, Spread(low, high): Spread) -> Self {
        Self::spanning(low * seconds, seconds, high * seconds)
    }

    /// What is left of each time after this one; nothing when it is past.
    pub(super) fn less(self, passed: Duration) -> Self {
        let left = |time: Duration| time.minus(passed).in_unit(DurationUnit::Minute);
        Self {
            low: left(self.low),
            likely: left(self.likely),
            high: left(self.high),
        }
    }

    /// From its three times in seconds, with the ends rounded outwards.
    pub(super) fn spanning(low: f64, likely: f64, high: f64) -> Self {
        let from_minutes = |minutes: f64| {
            Duration::from_minutes(minutes)
                .unwrap_or_else(|_| LONGEST.in_unit(DurationUnit::Minute))
        };
        Self {
            low: from_minutes((low / 60.0).floor()),
            likely: from_minutes((likely / 60.0).round()),
            high: from_minutes((high / 60.0).ceil()),
        }
    }
}

/// 20 years, the longest duration that can be held.
const LONGEST: Duration = Duration::from_steps(631_152_000_000, DurationUnit::Day);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_are_rounded_outwards() {
        let band = Band::around(3630.0, ROAST);
        assert_eq!(band.low, Duration::from_minutes(48.0).unwrap());
        assert_eq!(band.likely, Duration::from_minutes(61.0).unwrap());
        assert_eq!(band.high, Duration::from_minutes(73.0).unwrap());
        assert_eq!(Band::around(f64::INFINITY, ROAST).low, LONGEST);
    }
}
