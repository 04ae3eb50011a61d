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

/// The kill at one place.
pub(super) struct ZoneKill {
    /// Up to each row of the curve, no more than the target, cut to a thousandth.
    pub(super) log10: Vec<f64>,
    /// When it came to the target.
    pub(super) reached_s: Option<f64>,
}

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
        self.between(trace, 0, trace.elapsed_s.len() - 1, self.target())
            .0
    }

    /// The kill at the centre up to each row of its curve, on top of `before`.
    pub(super) fn along(&self, trace: &Trace, curve: &Curve, before: f64) -> ZoneKill {
        let target = self.target();
        let (mut sum, mut from, mut reached_s) = (before, 0, None);
        let up_to = |end: &f64| {
            let to = trace.elapsed_s.partition_point(|elapsed| elapsed < end);
            if sum < target {
                let (more, reached) = self.between(trace, from, to, target - sum);
                sum += more;
                reached_s = reached;
            }
            from = to;
            (sum.min(target) * 1000.0).floor() / 1000.0
        };
        let log10 = curve.elapsed_s.iter().map(up_to).collect();
        ZoneKill { log10, reached_s }
    }

    fn target(&self) -> f64 {
        self.scheme.target().as_log10()
    }

    fn between(&self, trace: &Trace, from: usize, to: usize, target: f64) -> (f64, Option<f64>) {
        let (elapsed_s, temp_degc) = (&trace.elapsed_s[from..=to], &trace.core[from..=to]);
        let hottest = temp_degc.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if self.prepared.spares(hottest) {
            return (0.0, None);
        }
        let columns = KillColumns {
            elapsed_s,
            temp_degC: temp_degc,
        };
        self.prepared.kill(&columns, target)
    }
}
