//! How likely the food is on the table at the hour, from the ranges of the durations.

use crate::answer::TimeEstimate;
use crate::messages::say;
use crate::units::{Duration, Fraction};

use super::chain::{Timing, longest_hold};
use super::joint::Load;
use super::order::Order;
use super::setup::Setup;
use super::steps::minutes;
use super::types::OnTime;

/// Quantiles of the standard normal distribution at 2.5 %, 7.5 %, … 47.5 %, negated (tables of the normal distribution;
/// checked against Python's `statistics.NormalDist`). The other half mirrors them.
const QUANTILES: [f64; 10] = [
    1.959_964, 1.439_531, 1.150_349, 0.934_589, 0.755_415, 0.597_760, 0.453_762, 0.318_639,
    0.189_118, 0.062_707,
];

/// The 90 % point of the standard normal distribution.
const NINETY: f64 = 1.281_552;

const WITHIN: Duration = minutes(15);

/// Twenty equally likely values of a duration, in milliseconds.
fn values(time: TimeEstimate) -> [f64; 20] {
    let likely = time.likely.steps() as f64;
    let below = (likely - time.low.steps() as f64) / NINETY;
    let above = (time.high.steps() as f64 - likely) / NINETY;
    std::array::from_fn(|at| {
        if at < 10 {
            likely - QUANTILES[at] * below
        } else {
            likely + QUANTILES[19 - at] * above
        }
    })
}

/// The chance that every load is served no more than a quarter of an hour late and never held too long.
pub(super) fn on_time(
    order: &Order,
    setups: &[(Setup<'_>, Option<String>)],
    loads: &[Load<'_>],
) -> Option<OnTime> {
    let chance: f64 = loads
        .iter()
        .map(|load| of_load(order, &setups[load.line].0, &load.timing))
        .product();
    Some(OnTime {
        probability: Fraction::from_percent((chance * 100.0).round()).ok()?,
        within: WITHIN,
        distribution: say("chance-how").to_owned(),
    })
}

fn of_load(order: &Order, setup: &Setup<'_>, timing: &Timing<'_>) -> f64 {
    let hold = longest_hold(setup.book, &setup.case(None));
    let hold = hold.map_or(0.0, |(time, _)| time.steps() as f64);
    let before = |moment: &super::Moment| -(order.serve_at.since(moment).steps() as f64);
    let oven_in = before(&timing.oven_in.planned);
    // A thaw later than its slow case puts off all that follows.
    let thawed_by = before(&timing.thaw_start.latest) + timing.thaw_time.high.steps() as f64;
    let thaw_begins = before(&timing.thaw_start.planned);
    let thaws = values(timing.thaw_time).map(|thaw| {
        if setup.standing.is_raw_and_begun() || timing.thaw.is_none() {
            0.0
        } else {
            (thaw_begins + thaw - thawed_by).max(0.0)
        }
    });
    let (roasts, carves) = (values(timing.roast_time), values(timing.carve));
    let latest = WITHIN.steps() as f64;
    let rest_low = timing.rest.low.steps() as f64;
    let rest_high = timing.rest.high.steps() as f64;
    let carve_start = before(&timing.carve_start);
    let mut met = 0_u32;
    for late in thaws {
        for roast in roasts {
            let done = oven_in + late + roast;
            if carve_start - (done + rest_high) > hold {
                continue;
            }
            for carve in carves {
                let start = carve_start.max(done + rest_low);
                met += u32::from(start + carve <= latest);
            }
        }
    }
    f64::from(met) / 8000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_meet_their_quantiles() {
        // Mean of the normal distribution is its middle; 10 % lie below its 10 % point.
        let hours = |text: &str| Duration::parse(text).unwrap();
        let time = TimeEstimate {
            low: hours("2 h"),
            likely: hours("3 h"),
            high: hours("4 h"),
        };
        let values = values(time);
        let mean = values.iter().sum::<f64>() / 20.0 / 3.6e6;
        assert!((mean - 3.0).abs() < 1e-9, "{mean}");
        let below = values.iter().filter(|value| **value < 2.0 * 3.6e6).count();
        assert_eq!(below, 2);
        let above = values.iter().filter(|value| **value > 4.0 * 3.6e6).count();
        assert_eq!(above, 2);
    }
}
