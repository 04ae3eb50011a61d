//! Temperatures over time, by place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::Error;
use crate::units::Duration;

use super::boundary::Boundary;
use super::solver::Body;

/// A place in the food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Zone {
    /// Middle of the thickest part of the breast.
    Breast,
    /// Middle of the thickest part of the thigh, away from bone.
    Thigh,
    /// Centre of the stuffing.
    Stuffing,
    /// Centre of the food.
    Centre,
    /// Surface of the food.
    Surface,
}

/// The temperature of one place over time, the two columns of equal length.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[allow(
    non_snake_case,
    reason = "columns carry their unit as it is written on the wire"
)]
pub struct Curve {
    /// The place.
    pub zone: Zone,
    /// Time since the beginning, s.
    pub elapsed_s: Vec<f64>,
    /// Temperature, °C.
    pub temp_degC: Vec<f64>,
}

/// Surroundings for a number of seconds.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) around: Boundary,
    pub(super) seconds: f64,
    /// Whether they differ at once from those before, or only as a piece of a slow change.
    pub(super) jump: bool,
}

impl Stretch {
    pub(super) const fn after_a_jump(around: Boundary, seconds: f64) -> Self {
        Self {
            around,
            seconds,
            jump: true,
        }
    }
}

/// How long the steps are.
///
/// A jump of the surroundings is felt in a thin layer at first: the steps after it begin short and grow. Crank–Nicolson
/// then errs less than with steps of a minute throughout, in fewer steps.
#[derive(Clone, Copy, Debug)]
#[allow(clippy::struct_field_names, reason = "each carries its unit")]
pub(super) struct Pace {
    /// After a jump.
    pub(super) first_s: f64,
    pub(super) longest_s: f64,
    /// Rows of a curve; a step ends at each.
    pub(super) rows_s: f64,
}

/// How many times as long as the one before a step may be.
const GROWTH: f64 = 1.5;

/// Before a target no step is cut shorter than this.
const SHORTEST_S: f64 = 10.0;

impl Pace {
    /// Steps of one length.
    pub(super) const fn even(step_s: f64, rows_s: f64) -> Self {
        Self {
            first_s: step_s,
            longest_s: step_s,
            rows_s,
        }
    }

    /// The first row after a time, not one that rounding alone keeps apart from it.
    fn next_row(self, elapsed_s: f64) -> f64 {
        let row = ((elapsed_s + 1e-6) / self.rows_s).floor() + 1.0;
        row * self.rows_s
    }
}

/// What was seen while a body went through its stretches.
#[derive(Clone, Debug, Default)]
pub(super) struct Trace {
    pub(super) elapsed_s: Vec<f64>,
    pub(super) core: Vec<f64>,
    pub(super) surface: Vec<f64>,
    pub(super) coldest: Vec<f64>,
}

impl Trace {
    /// Sends `body` through the stretches at this pace, clipped to the breaks, until its core is at `target` if one is
    /// given, or `done`.
    pub(super) fn follow(
        body: &mut Body<'_>,
        stretches: &[Stretch],
        pace: Pace,
        target: Option<f64>,
        mut done: impl FnMut(&Body<'_>) -> bool,
    ) -> Result<Self, Error> {
        let mut trace = Self::default();
        trace.note(0.0, body);
        let (mut begun, mut length) = (0.0, pace.first_s);
        for stretch in stretches {
            body.enter(stretch.jump);
            if stretch.jump {
                length = pace.first_s;
            }
            let mut within = 0.0;
            while within < stretch.seconds {
                let end = pace.next_row(begun + within) - begun;
                let end = end.min(stretch.seconds);
                let left = (end - within).min(trace.left_to(target, length));
                let parts = (left / length).ceil();
                let step = left / parts;
                body.advance(&stretch.around, step)?;
                within = if step < end - within {
                    within + step
                } else {
                    end
                };
                length = (length * GROWTH).min(pace.longest_s);
                trace.note(begun + within, body);
                if done(body) || target.is_some_and(|target| body.core_degc() >= target) {
                    body.check_balance()?;
                    return Ok(trace);
                }
            }
            begun += stretch.seconds;
        }
        body.check_balance()?;
        Ok(trace)
    }

    /// How long the core will take to the target at its last rate, and a second: no step goes far beyond it.
    fn left_to(&self, target: Option<f64>, length: f64) -> f64 {
        let rows = self.core.len();
        let Some((target, before)) = target.zip(rows.checked_sub(2)) else {
            return f64::INFINITY;
        };
        let (core, elapsed) = (self.core[rows - 1], self.elapsed_s[rows - 1]);
        let rate = (core - self.core[before]) / (elapsed - self.elapsed_s[before]);
        let left = (target - core) / rate + 1.0;
        if rate > 0.0 && left < length {
            left.max(SHORTEST_S)
        } else {
            f64::INFINITY
        }
    }

    fn note(&mut self, elapsed_s: f64, body: &Body<'_>) {
        self.elapsed_s.push(elapsed_s);
        self.core.push(body.core_degc());
        self.surface.push(body.surface_degc());
        self.coldest.push(body.coldest_degc());
    }

    pub(super) fn end_s(&self) -> f64 {
        self.elapsed_s[self.elapsed_s.len() - 1]
    }

    /// A column as a curve, one row every `every_s` and the last one.
    pub(super) fn curve(&self, zone: Zone, column: &[f64], every_s: f64) -> Curve {
        let mut curve = Curve {
            zone,
            elapsed_s: Vec::new(),
            temp_degC: Vec::new(),
        };
        let mut next = 0.0;
        for (row, (&elapsed, &celsius)) in self.elapsed_s.iter().zip(column).enumerate() {
            if elapsed >= next - 1e-6 || row + 1 == self.elapsed_s.len() {
                curve.elapsed_s.push(elapsed);
                curve.temp_degC.push(to_thousandths(celsius));
                while next <= elapsed + 1e-6 {
                    next += every_s;
                }
            }
        }
        curve
    }

    /// When the column first rises to `celsius`, on a straight line between steps.
    pub(super) fn rises_to(&self, column: &[f64], celsius: f64) -> Option<f64> {
        self.crosses(column, |value| value >= celsius, celsius)
    }

    /// When the column first falls to `celsius`, on a straight line between steps.
    pub(super) fn falls_to(&self, column: &[f64], celsius: f64) -> Option<f64> {
        self.crosses(column, |value| value <= celsius, celsius)
    }

    fn crosses(&self, column: &[f64], there: impl Fn(f64) -> bool, celsius: f64) -> Option<f64> {
        let row = column.iter().position(|&value| there(value))?;
        let Some(before) = row.checked_sub(1) else {
            return Some(self.elapsed_s[0]);
        };
        let part = (celsius - column[before]) / (column[row] - column[before]);
        Some(self.elapsed_s[before] + part * (self.elapsed_s[row] - self.elapsed_s[before]))
    }
}

/// A temperature for a column, to 0.001 K: finer than the model is, and short to print.
fn to_thousandths(celsius: f64) -> f64 {
    (celsius * 1000.0).round() / 1000.0
}

/// A time of the model as a duration to the second.
pub(super) fn to_duration(seconds: f64) -> Result<Duration, Error> {
    Duration::from_seconds(seconds.round())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trace() -> Trace {
        Trace {
            elapsed_s: vec![0.0, 60.0, 120.0, 150.0],
            core: vec![10.0, 20.0, 40.0, 35.0],
            ..Trace::default()
        }
    }

    #[test]
    fn crossings_lie_on_straight_lines() {
        let trace = trace();
        assert_eq!(trace.rises_to(&trace.core, 30.0), Some(90.0));
        assert_eq!(trace.rises_to(&trace.core, 10.0), Some(0.0));
        assert_eq!(trace.rises_to(&trace.core, 40.0), Some(120.0));
        assert_eq!(trace.rises_to(&trace.core, 40.1), None);
        assert_eq!(trace.falls_to(&trace.core, 10.0), Some(0.0));
        assert_eq!(trace.falls_to(&trace.core, 9.9), None);
    }

    #[test]
    fn a_curve_keeps_every_nth_row_and_the_last() {
        let trace = trace();
        let curve = trace.curve(Zone::Centre, &trace.core, 120.0);
        assert_eq!(curve.elapsed_s, [0.0, 120.0, 150.0]);
        assert_eq!(curve.temp_degC, [10.0, 40.0, 35.0]);
    }
}
