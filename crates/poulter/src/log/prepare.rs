//! Snapping columns of the caller's, with the quick look taken on the way.

use std::borrow::Cow;

use pulp::{Arch, Simd, WithSimd};

use crate::units::TemperatureUnit;

use super::build::{elapsed_ms, reading_steps};
use super::check::quick_look;
use super::{LogChecks, Place, PlaceRole, TemperatureLog};

/// Snaps the readings of one place and looks at them once.
pub(crate) struct Column<'a> {
    pub(crate) clock: &'a [f64],
    pub(crate) values: &'a [f64],
    pub(crate) steps: &'a mut Vec<f64>,
    pub(crate) unit: TemperatureUnit,
    pub(crate) inside: bool,
    pub(crate) checks: &'a LogChecks,
}

impl WithSimd for Column<'_> {
    type Output = bool;

    #[inline(always)]
    #[allow(clippy::inline_always)] // compiled once for each instruction set
    fn with_simd<S: Simd>(self, _: S) -> bool {
        self.steps.resize(self.values.len(), 0.0);
        // One loop a unit, so that each is vectorised.
        let pairs = self.steps.iter_mut().zip(self.values);
        match self.unit {
            TemperatureUnit::Celsius => {
                pairs.for_each(|(to, v)| *to = reading_steps(*v, TemperatureUnit::Celsius));
            }
            TemperatureUnit::Fahrenheit => {
                pairs.for_each(|(to, v)| *to = reading_steps(*v, TemperatureUnit::Fahrenheit));
            }
            TemperatureUnit::Kelvin => {
                pairs.for_each(|(to, v)| *to = reading_steps(*v, TemperatureUnit::Kelvin));
            }
        }
        quick_look(self.clock, self.steps, self.inside, self.checks)
    }
}

/// A log of columns of the caller's that share a clock.
pub(crate) fn prepare_log<'v>(
    elapsed_s: &[f64],
    columns: impl Iterator<Item = (Place, TemperatureUnit, Cow<'v, [f64]>)>,
    checks: &LogChecks,
) -> TemperatureLog {
    let clock: Vec<f64> = elapsed_s.iter().map(|&s| elapsed_ms(s)).collect();
    let mut passes = true;
    let columns: Vec<(Place, TemperatureUnit, Vec<f64>)> = columns
        .map(|(place, unit, values)| {
            let mut steps = Vec::new();
            passes &= Arch::new().dispatch(Column {
                clock: &clock,
                values: &values,
                steps: &mut steps,
                unit,
                inside: place.role() == PlaceRole::Inside,
                checks,
            });
            (place, unit, steps)
        })
        .collect();
    TemperatureLog::of_steps(clock, columns.into_iter(), passes.then_some(*checks))
}
