//! Heat conduction with freezing, in one depth.
//!
//! ∂H/∂t = (1/A) ∂(A ∂Θ/∂r)/∂r on the [`Mesh`], with H the unknown. Between two breaks of the schedule
//! the surroundings are one steady [`Boundary`]. Steps are Crank–Nicolson; after every break four backward-Euler steps of
//! half the length damp the jump. Each step is a tridiagonal Newton iteration on H that stops when no node moves by
//! more than [`SETTLED_J_M3`]. Second order in space and time, and it conserves energy, which tests hold it to.

use crate::error::{Error, ErrorKind};

use super::body::Mesh;
use super::boundary::{Boundary, Flow};
use super::material::Material;

/// Newton stops when the largest change is below this, 0.06 mK above freezing. The error left is of second order.
const SETTLED_J_M3: f64 = 200.0;

/// Largest share of the heat moved by which the energy may fail to close.
const BALANCE: f64 = 1e-6;

/// Newton gives up after this many rounds, and the step is halved.
const MOST_ROUNDS: usize = 25;

/// A step is halved at most this often.
const MOST_HALVINGS: u32 = 8;

/// Backward-Euler steps of half length after a break of the schedule.
const START_STEPS: u32 = 4;

/// Share of the longest stable step that an explicit step takes.
const STABLE: f64 = 0.9;

/// Share of the new time level in a step.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Weight {
    /// Backward Euler.
    New,
    /// Crank–Nicolson.
    Half,
}

/// A body and its enthalpy at each node.
#[derive(Clone, Debug)]
pub(super) struct Body<'a> {
    material: &'a Material,
    mesh: Mesh,
    enthalpy: Vec<f64>,
    /// Heat taken up through the surface so far, J/m².
    heat: f64,
    /// The same, with heat that went out counted as well.
    moved: f64,
    content_at_start: f64,
    /// 1/volume of each node, and the quickest rate inside, 1/s: what explicit steps need.
    per_volume: Vec<f64>,
    quickest_inside: f64,
    /// Water given off through the surface so far, kg/m².
    water: f64,
    start_steps: u32,
    /// Length of the last step; 0 when it says nothing about the next one.
    last_step_s: f64,
    work: Work,
}

/// Space for one step, kept so that a step allocates nothing.
#[derive(Clone, Debug)]
struct Work {
    old: Vec<f64>,
    /// Net flow into each node at the old time level, per area of surface, W/m².
    old_flow: Vec<f64>,
    theta: Vec<f64>,
    slope: Vec<f64>,
    upper: Vec<f64>,
    change: Vec<f64>,
}

impl<'a> Body<'a> {
    /// A body of one temperature throughout.
    pub(super) fn new(material: &'a Material, mesh: Mesh, start_degc: f64) -> Self {
        let nodes = mesh.nodes();
        let per_volume: Vec<f64> = mesh.volume.iter().map(|v| 1.0 / v).collect();
        let mut inner = 0.0;
        let quickest_inside = mesh
            .conductance
            .iter()
            .zip(&per_volume)
            .map(|(&outer, &per_volume)| {
                let rate = (inner + outer) * per_volume * material.steepest_theta();
                inner = outer;
                rate
            })
            .fold(0.0, f64::max);
        let mut body = Self {
            material,
            mesh,
            enthalpy: vec![material.enthalpy(start_degc); nodes],
            heat: 0.0,
            moved: 0.0,
            content_at_start: 0.0,
            per_volume,
            quickest_inside,
            water: 0.0,
            start_steps: START_STEPS,
            last_step_s: 0.0,
            work: Work {
                old: vec![0.0; nodes],
                old_flow: vec![0.0; nodes],
                theta: vec![0.0; nodes],
                slope: vec![0.0; nodes],
                upper: vec![0.0; nodes],
                change: vec![0.0; nodes],
            },
        };
        body.content_at_start = body.content();
        body
    }

    /// Says that the surroundings have changed at once.
    pub(super) fn jump(&mut self) {
        self.start_steps = START_STEPS;
        self.last_step_s = 0.0;
    }

    /// Moves on by `step_s` seconds in unchanged surroundings.
    pub(super) fn advance(&mut self, around: &Boundary, step_s: f64) -> Result<(), Error> {
        let mut left = step_s;
        while self.start_steps > 0 && left > 0.0 {
            // The first steps are half as long; a clipped step may end in the middle of them.
            let part = (0.5 * step_s).min(left);
            self.try_step(around, part, Weight::New, 0)?;
            self.start_steps -= 1;
            left -= part;
        }
        if left > 0.0 {
            self.try_step(around, left, Weight::Half, 0)?;
        }
        Ok(())
    }

    /// Moves on by `step_s` seconds in explicit steps that are short enough to be stable: quick above freezing, where
    /// the diffusivity hardly changes, and of first order in time with an error far below that of the space. Below
    /// freezing use [`Body::advance`].
    pub(super) fn advance_explicit(&mut self, around: &Boundary, step_s: f64) {
        let last = self.enthalpy.len() - 1;
        let mut left = step_s;
        while left > 0.0 {
            let surface = self.material.celsius(self.enthalpy[last]);
            let flow = around.flow(surface.value);
            let at_surface = (self.mesh.conductance[last - 1] * self.material.steepest_theta()
                - flow.slope * surface.slope)
                / self.mesh.volume[last];
            let step = (STABLE / at_surface.max(self.quickest_inside)).min(left);
            let mut from_inside = 0.0;
            let mut theta = self.material.theta(self.enthalpy[0]).value;
            for node in 0..last {
                let beyond = self.material.theta(self.enthalpy[node + 1]).value;
                let from_outside = self.mesh.conductance[node] * (beyond - theta);
                self.enthalpy[node] += step * (from_outside - from_inside) * self.per_volume[node];
                from_inside = from_outside;
                theta = beyond;
            }
            self.enthalpy[last] += step * (flow.heat - from_inside) * self.per_volume[last];
            let heat = step * flow.heat;
            self.heat += heat;
            self.moved += heat.abs();
            self.water += step * flow.water;
            left -= step;
        }
        self.last_step_s = 0.0;
    }

    fn try_step(
        &mut self,
        around: &Boundary,
        step_s: f64,
        weight: Weight,
        halvings: u32,
    ) -> Result<(), Error> {
        self.guess(step_s);
        if self.newton(around, step_s, weight) {
            self.last_step_s = step_s;
            return Ok(());
        }
        self.enthalpy.copy_from_slice(&self.work.old);
        self.last_step_s = 0.0;
        if halvings == MOST_HALVINGS {
            return Err(Error::new(
                ErrorKind::NotConverged,
                format!("{step_s} s"),
                "surroundings that the heat model can follow are needed",
            ));
        }
        self.try_step(around, 0.5 * step_s, Weight::New, halvings + 1)?;
        self.last_step_s = 0.0;
        self.try_step(around, 0.5 * step_s, Weight::New, halvings + 1)
    }

    /// Keeps the state as the old one and starts the iteration where the last step was heading.
    fn guess(&mut self, step_s: f64) {
        let ratio = if self.last_step_s > 0.0 {
            step_s / self.last_step_s
        } else {
            0.0
        };
        for (now, old) in self.enthalpy.iter_mut().zip(&mut self.work.old) {
            let start = *now;
            *now += ratio * (start - *old);
            *old = start;
        }
    }

    /// One step from `work.old`; false when the iteration does not settle.
    fn newton(&mut self, around: &Boundary, step_s: f64, weight: Weight) -> bool {
        let (new, old) = match weight {
            Weight::New => (step_s, 0.0),
            Weight::Half => (0.5 * step_s, 0.5 * step_s),
        };
        let before = if old > 0.0 {
            self.flow_before(around)
        } else {
            Flow::default()
        };
        for _ in 0..MOST_ROUNDS {
            let surface = self.look_up(around);
            let largest = self.correct(surface, new, old);
            if !largest.is_finite() {
                return false;
            }
            if largest <= SETTLED_J_M3 {
                // The flow through the surface as the linear system saw it: with it the energy closes exactly.
                let moved = self.work.change[self.enthalpy.len() - 1] * surface.slope;
                let heat = new * (surface.heat + moved) + old * before.heat;
                self.heat += heat;
                self.moved += heat.abs();
                self.water += new * surface.water + old * before.water;
                return true;
            }
        }
        false
    }

    /// Θ and its slope at every node; the flow at the surface, with its slope per J/m³ of the last node.
    fn look_up(&mut self, around: &Boundary) -> Flow {
        let work = &mut self.work;
        for ((&enthalpy, theta), slope) in self
            .enthalpy
            .iter()
            .zip(&mut work.theta)
            .zip(&mut work.slope)
        {
            let point = self.material.theta(enthalpy);
            *theta = point.value;
            *slope = point.slope;
        }
        let surface = self
            .material
            .celsius(self.enthalpy[self.enthalpy.len() - 1]);
        let mut flow = around.flow(surface.value);
        flow.slope *= surface.slope;
        flow
    }

    /// Net flow into each node in the old state.
    fn flow_before(&mut self, around: &Boundary) -> Flow {
        let work = &mut self.work;
        let mut from_inside = 0.0;
        let mut theta = self.material.theta(work.old[0]).value;
        for (node, &conductance) in self.mesh.conductance.iter().enumerate() {
            let beyond = self.material.theta(work.old[node + 1]).value;
            let from_outside = conductance * (beyond - theta);
            work.old_flow[node] = from_outside - from_inside;
            from_inside = from_outside;
            theta = beyond;
        }
        let last = work.old.len() - 1;
        let surface = self.material.celsius(work.old[last]).value;
        let flow = around.flow(surface);
        work.old_flow[last] = flow.heat - from_inside;
        flow
    }

    /// One Newton correction by elimination and back substitution; gives its largest size. `new` and `old` are the
    /// seconds for which the new and the old flows act.
    fn correct(&mut self, surface: Flow, new: f64, old: f64) -> f64 {
        let nodes = self.enthalpy.len();
        let work = &mut self.work;
        let (volume, conductance) = (&self.mesh.volume[..nodes], &self.mesh.conductance);
        let (mut inner, mut from_inside) = (0.0, 0.0);
        let (mut upper_before, mut change_before) = (0.0, 0.0);
        for node in 0..nodes {
            let (outer, from_outside, outer_slope) = if node + 1 < nodes {
                let g = conductance[node];
                let flow = g * (work.theta[node + 1] - work.theta[node]);
                (g * work.slope[node], flow, g * work.slope[node + 1])
            } else {
                (-surface.slope, surface.heat, 0.0)
            };
            let stored = volume[node] * (self.enthalpy[node] - work.old[node]);
            let residual = new * (from_outside - from_inside) + old * work.old_flow[node] - stored;
            let lower = if node > 0 {
                new * conductance[node - 1] * work.slope[node - 1]
            } else {
                0.0
            };
            let diagonal =
                volume[node] + new * (inner * work.slope[node] + outer) - lower * upper_before;
            let inverse = 1.0 / diagonal;
            upper_before = new * outer_slope * inverse;
            change_before = (residual + lower * change_before) * inverse;
            work.upper[node] = upper_before;
            work.change[node] = change_before;
            inner = if node + 1 < nodes {
                conductance[node]
            } else {
                0.0
            };
            from_inside = from_outside;
        }
        let (mut beyond, mut largest) = (0.0, 0.0_f64);
        for node in (0..nodes).rev() {
            beyond = work.change[node] + work.upper[node] * beyond;
            work.change[node] = beyond;
            self.enthalpy[node] += beyond;
            largest = larger(largest, beyond.abs());
        }
        largest
    }

    /// Refuses a result whose enthalpy is not what came in through the surface, to one part in a million of the heat
    /// that moved.
    pub(super) fn check_balance(&self) -> Result<(), Error> {
        let gained = self.content() - self.content_at_start;
        // Rounding of the content itself limits the balance when almost nothing moves.
        let allowed = BALANCE * self.moved + 1e-12 * self.content_at_start.abs();
        if (gained - self.heat).abs() <= allowed {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::NotConverged,
            format!("{gained} J/m2 gained, {} J/m2 taken up", self.heat),
            "a closed energy balance is needed",
        ))
    }

    /// Water given off so far as a share of the mass.
    pub(super) fn evaporated_share(&self) -> f64 {
        self.water * self.mesh.surface_per_mass(self.material.density())
    }

    /// Temperature at the centre.
    pub(super) fn core_degc(&self) -> f64 {
        self.material.celsius(self.enthalpy[0]).value
    }

    /// Temperature at the surface.
    pub(super) fn surface_degc(&self) -> f64 {
        let last = self.enthalpy.len() - 1;
        self.material.celsius(self.enthalpy[last]).value
    }

    /// Temperature at r = `depth` · R, on a straight line between nodes; `depth` from 0 to 1.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the cast saturates and the node is clamped to the grid"
    )]
    pub(super) fn at_degc(&self, depth: f64) -> f64 {
        let along = depth * (self.enthalpy.len() as f64 - 1.0);
        let node = (along as usize).min(self.enthalpy.len() - 2);
        let [low, high] =
            [node, node + 1].map(|node| self.material.celsius(self.enthalpy[node]).value);
        low + (along - node as f64) * (high - low)
    }

    /// Lowest temperature anywhere.
    pub(super) fn coldest_degc(&self) -> f64 {
        let lowest = self.enthalpy.iter().copied().fold(f64::INFINITY, f64::min);
        self.material.celsius(lowest).value
    }

    /// Enthalpy of the body, J per m² of surface.
    fn content(&self) -> f64 {
        self.enthalpy
            .iter()
            .zip(&self.mesh.volume)
            .map(|(h, v)| h * v)
            .sum()
    }

    /// Heat taken up through the surface so far, J per m² of surface.
    #[cfg(test)]
    pub(super) fn heat(&self) -> f64 {
        self.heat
    }

    /// Highest temperature anywhere.
    #[cfg(test)]
    pub(super) fn hottest_degc(&self) -> f64 {
        let highest = self
            .enthalpy
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        self.material.celsius(highest).value
    }
}

/// The larger of the two, and NaN if there is one.
fn larger(a: f64, b: f64) -> f64 {
    if a.is_nan() || a > b { a } else { b }
}
