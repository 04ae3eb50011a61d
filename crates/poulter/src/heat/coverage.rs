//! How often a forecast's band held the true time, counted in a study.

use crate::units::{Fraction, FractionUnit};

use super::forecast::BandCoverage;

/// Synthetic roasts of the study: turkeys of 12 lb, a probe in the breast read every minute with a noise of 0.5 K (σ),
/// truths drawn from the prior of the ensemble with another seed.
const ROASTS: u32 = 200;

/// Per cent of the roast seen, and per cent of the bands that held the true time; `cargo bench --bench heat` counts anew.
const COUNTED: [(i64, i64); 6] = [(0, 87), (25, 88), (40, 89), (55, 91), (70, 94), (85, 98)];

/// The row for a share of the roast, the next lower one where it lies between two.
pub(super) fn at(share: f64) -> BandCoverage {
    let mut row = COUNTED[0];
    for (seen, covered) in COUNTED {
        if share * 100.0 >= seen as f64 {
            row = (seen, covered);
        }
    }
    let percent = |value: i64| Fraction::from_steps(value * 10_000_000, FractionUnit::Percent);
    BandCoverage {
        seen: percent(row.0),
        covered: percent(row.1),
        roasts: ROASTS,
    }
}
