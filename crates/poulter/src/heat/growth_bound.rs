//! How much could grow in meat while it cools.

use schemars::JsonSchema;
use serde::Serialize;

use std::f64::consts::LN_10;

use crate::error::Error;
use crate::growth::{GrowthModel, LogGrowth};
use crate::lethality::NumberSource;
use crate::log::STEPS_PER_KELVIN;
use crate::units::{Fraction, FractionUnit};

use super::band::COOLING;
use super::curve::{Curve, Trace, Zone};
use super::parameters::ABSOLUTE_ZERO_DEGC;

/// Growth of Clostridium perfringens while cooked meat cools, without lag and without a ceiling.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CoolingGrowth {
    /// The organism and food.
    pub model: GrowthModel,
    /// True: a figure that explains and never passes food.
    pub is_experimental: bool,
    /// Where the parameters come from.
    pub citation: NumberSource,
    /// Growth at the place where it is most, at the model's own times, rounded up to a thousandth.
    pub without_lag: LogGrowth,
    /// The same with every time 1.50 as long, the slow end of the band of the passings.
    pub without_lag_slow: LogGrowth,
    /// Where it is most: 0 % at the centre, 100 % at the surface.
    pub most_at: Fraction,
    /// Growth along each of the curves.
    pub zones: Vec<ZoneGrowth>,
    /// What it is not.
    pub note: &'static str,
}

/// Growth at one place.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ZoneGrowth {
    /// The place.
    pub zone: Zone,
    /// Growth up to each row of its curve, in powers of ten, rounded up to a thousandth.
    pub growth_log10: Vec<f64>,
}

const NO_VERDICT: &str = "Growth computed from temperatures that a model computed, with parameters of roasted chicken \
    without nitrite that for turkey are taken over, without lag and without a ceiling: experimental, a bound that \
    explains and is no verdict. Only measured temperatures meet a cooling rule.";

const MODEL: GrowthModel = GrowthModel::PerfringensRoastedChicken;

/// Temperatures at every node while a body cools, a column for each.
pub(super) struct Everywhere {
    columns: Vec<Vec<f64>>,
}

impl Everywhere {
    pub(super) fn of(first: impl Iterator<Item = f64>) -> Self {
        Self {
            columns: first.map(|celsius| vec![steps(celsius)]).collect(),
        }
    }

    pub(super) fn note(&mut self, row: impl Iterator<Item = f64>) {
        for (column, celsius) in self.columns.iter_mut().zip(row) {
            column.push(steps(celsius));
        }
    }

    /// The growth at the place where it is most, and along the curves of the centre and the surface.
    pub(super) fn growth(&self, trace: &Trace, curves: &[Curve]) -> Result<CoolingGrowth, Error> {
        let clock: Vec<f64> = trace.elapsed_s.iter().map(|s| s * 1e3).collect();
        let (mut most, mut node) = (0.0, 0);
        for (at, column) in self.columns.iter().enumerate() {
            let growth = log10(MODEL.over(&clock, column));
            if growth > most {
                (most, node) = (growth, at);
            }
        }
        let last = self.columns.len() - 1;
        let along = |curve: &Curve| ZoneGrowth {
            zone: curve.zone,
            growth_log10: self.along(
                trace,
                &clock,
                if curve.zone == Zone::Surface { last } else { 0 },
                curve,
            ),
        };
        Ok(CoolingGrowth {
            model: MODEL,
            is_experimental: true,
            citation: MODEL.citation(),
            without_lag: LogGrowth::of(rounded_up(most)),
            without_lag_slow: LogGrowth::of(rounded_up(COOLING.1 * most)),
            most_at: Fraction::from_ratio(node as f64 / last as f64)?
                .in_unit(FractionUnit::Percent),
            zones: curves.iter().map(along).collect(),
            note: NO_VERDICT,
        })
    }

    fn along(&self, trace: &Trace, clock: &[f64], node: usize, curve: &Curve) -> Vec<f64> {
        let column = &self.columns[node];
        let (mut sum, mut from) = (0.0, 0);
        let up_to = |end: &f64| {
            let to = trace.elapsed_s.partition_point(|elapsed| elapsed < end);
            sum += log10(MODEL.over(&clock[from..=to], &column[from..=to]));
            from = to;
            rounded_up(sum)
        };
        curve.elapsed_s.iter().map(up_to).collect()
    }
}

fn steps(celsius: f64) -> f64 {
    (celsius - ABSOLUTE_ZERO_DEGC) * STEPS_PER_KELVIN
}

fn log10(natural: f64) -> f64 {
    natural / LN_10
}

fn rounded_up(growth: f64) -> f64 {
    (growth * 1000.0).ceil() / 1000.0
}
