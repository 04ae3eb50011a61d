//! The kill along a simulated curve.

use schemars::JsonSchema;
use serde::Serialize;

use crate::bird::Species;
use crate::error::Error;
use crate::lethality::{KillColumns, LogReduction, NumberSource, Prepared, Scheme};

use super::curve::{Curve, Trace};

/// How the kill along a simulated curve was counted.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KillBasis {
    /// The scheme, that of the species.
    pub scheme: Scheme,
    /// The reduction that the scheme asks for; no more is counted.
    pub target: LogReduction,
    /// Where the scheme comes from.
    pub source: NumberSource,
    /// That it is no verdict.
    pub note: &'static str,
}

const NO_VERDICT: &str = "Kill computed from temperatures that a model computed: it explains and is no verdict. Only \
    measured temperatures meet a minimum, and carry-over never does.";

/// A scheme made ready for curves.
pub(super) struct Kill {
    scheme: Scheme,
    prepared: Prepared,
}

impl Kill {
    pub(super) fn of(species: Species) -> Result<Self, Error> {
        let scheme = match species {
            Species::Turkey => Scheme::Poultry7LogTurkey,
            Species::Chicken => Scheme::Poultry7LogChicken,
            _ => Scheme::Poultry7Log,
        };
        Ok(Self {
            scheme,
            prepared: scheme.prepare()?,
        })
    }

    pub(super) fn basis(&self) -> KillBasis {
        KillBasis {
            scheme: self.scheme,
            target: self.scheme.target(),
            source: self.scheme.citation(),
            note: NO_VERDICT,
        }
    }

    /// The kill at the centre over a whole trace, on top of nothing.
    pub(super) fn total(&self, trace: &Trace) -> f64 {
        self.between(trace, 0, trace.elapsed_s.len() - 1)
    }

    /// The kill at the centre up to each row of its curve, on top of `before`, cut to a thousandth.
    pub(super) fn along(&self, trace: &Trace, curve: &Curve, before: f64) -> Vec<f64> {
        let target = self.scheme.target().as_log10();
        let (mut sum, mut from) = (before, 0);
        let up_to = |end: &f64| {
            let to = trace.elapsed_s.partition_point(|elapsed| elapsed < end);
            if sum < target {
                sum += self.between(trace, from, to);
            }
            from = to;
            (sum.min(target) * 1000.0).floor() / 1000.0
        };
        curve.elapsed_s.iter().map(up_to).collect()
    }

    fn between(&self, trace: &Trace, from: usize, to: usize) -> f64 {
        self.prepared.kill(&KillColumns {
            elapsed_s: &trace.elapsed_s[from..=to],
            temp_degC: &trace.core[from..=to],
        })
    }
}
