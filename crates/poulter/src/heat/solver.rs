//! Heat conduction with freezing, in one depth.
//!
//! ∂H/∂t = (1/A) ∂(A ∂Θ/∂r)/∂r on the [`Mesh`], with H the unknown. Between two breaks of the schedule
//! the surroundings are one steady [`Boundary`]. Steps are Crank–Nicolson; after every break four backward-Euler steps of
//! half the length damp the jump. Each step is a tridiagonal Newton iteration on H that stops when no node lacks
//! more than [`SETTLED_J_M3`]. Second order in space and time, and it conserves energy, which tests hold it to.

use crate::error::{Error, ErrorKind};

use super::body::Mesh;
use super::boundary::{Boundary, Flow};
use super::material::Material;
use super::tridiagonal::Tridiagonal;

/// Newton stops when no node lacks more than this per volume, 0.06 mK above freezing.
const SETTLED_J_M3: f64 = 200.0;

/// Largest share of the heat moved by which the energy may fail to close.
const BALANCE: f64 = 1e-6;

/// Newton gives up after this many rounds, and the step is halved.
const MOST_ROUNDS: usize = 25;

/// A step is halved at most this often.
const MOST_HALVINGS: u32 = 8;

/// Backward-Euler steps of half length after a break of the schedule.
const START_STEPS: u32 = 4;

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
    /// 1/volume of each node.
    per_volume: Vec<f64>,
    /// Water given off through the surface so far, kg/m².
    water: f64,
    start_steps: u32,
    /// Length of the last step; 0 when it says nothing about the next one.
    last_step_s: f64,
    /// Flow at the surface, with its slope per J/m³ of the last node.
    surface: Flow,
    /// Whether surface, flows and slopes are those of the present state and surroundings.
    evaluated: bool,
    work: Work,
}

/// Space for one step, kept so that a step allocates nothing.
#[derive(Clone, Debug)]
struct Work {
    old: Vec<f64>,
    /// Net flow into each node per area of surface, W/m².
    flow: Vec<f64>,
    old_flow: Vec<f64>,
    slope: Vec<f64>,
    rows: Tridiagonal,
}

impl<'a> Body<'a> {
    /// A body of one temperature throughout.
    pub(super) fn new(material: &'a Material, mesh: Mesh, start_degc: f64) -> Self {
        let nodes = mesh.nodes();
        let per_volume: Vec<f64> = mesh.volume.iter().map(|v| 1.0 / v).collect();
        let mut body = Self {
            material,
            mesh,
            enthalpy: vec![material.enthalpy(start_degc); nodes],
            heat: 0.0,
            moved: 0.0,
            content_at_start: 0.0,
            per_volume,
            water: 0.0,
            start_steps: START_STEPS,
            last_step_s: 0.0,
            surface: Flow::default(),
            evaluated: false,
            work: Work {
                old: vec![0.0; nodes],
                flow: vec![0.0; nodes],
                old_flow: vec![0.0; nodes],
                slope: vec![0.0; nodes],
                rows: Tridiagonal::new(nodes),
            },
        };
        body.content_at_start = body.content();
        body
    }

    /// Says that the surroundings have changed, with a jump or as a piece of a slow change.
    pub(super) fn enter(&mut self, jump: bool) {
        self.evaluated = false;
        if jump {
            self.start_steps = START_STEPS;
            self.last_step_s = 0.0;
        }
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

    fn try_step(
        &mut self,
        around: &Boundary,
        step_s: f64,
        weight: Weight,
        halvings: u32,
    ) -> Result<(), Error> {
        if self.newton(around, step_s, weight) {
            self.last_step_s = step_s;
            return Ok(());
        }
        self.enthalpy.copy_from_slice(&self.work.old);
        self.last_step_s = 0.0;
        self.evaluated = false;
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
        std::mem::swap(&mut self.work.old_flow, &mut self.work.flow);
    }

    /// One step from the present state; false when the iteration does not settle.
    fn newton(&mut self, around: &Boundary, step_s: f64, weight: Weight) -> bool {
        let (new, old) = match weight {
            Weight::New => (step_s, 0.0),
            Weight::Half => (0.5 * step_s, 0.5 * step_s),
        };
        if !self.evaluated {
            self.evaluate(around);
        }
        let before = self.surface;
        self.guess(step_s);
        self.evaluate(around);
        self.residual(new, old);
        let last = self.enthalpy.len() - 1;
        for _ in 0..MOST_ROUNDS {
            let surface = self.surface;
            self.correct(new);
            // The flow through the surface as the linear rows have it: with it the energy closes exactly.
            let heat = surface.heat + surface.slope * self.work.rows.right[last];
            self.evaluate(around);
            let left = self.residual(new, old);
            if !left.is_finite() {
                return false;
            }
            if left <= SETTLED_J_M3 {
                let heat = new * heat + old * before.heat;
                self.heat += heat;
                self.moved += heat.abs();
                self.water += new * self.surface.water + old * before.water;
                return true;
            }
        }
        false
    }

    /// Slope of Θ at every node, and the net flow into each; the flow at the surface, with its slope per J/m³ of the
    /// last node.
    fn evaluate(&mut self, around: &Boundary) {
        let nodes = self.enthalpy.len();
        let (enthalpy, work) = (&self.enthalpy[..nodes], &mut self.work);
        let (slope, flow) = (&mut work.slope[..nodes], &mut work.flow[..nodes]);
        let mut theta = self.material.theta(enthalpy[0]);
        slope[0] = theta.slope;
        let mut from_inside = 0.0;
        for (node, &conductance) in self.mesh.conductance[..nodes - 1].iter().enumerate() {
            let beyond = self.material.theta(enthalpy[node + 1]);
            slope[node + 1] = beyond.slope;
            let from_outside = conductance * (beyond.value - theta.value);
            flow[node] = from_outside - from_inside;
            from_inside = from_outside;
            theta = beyond;
        }
        let surface = self.material.celsius(enthalpy[nodes - 1]);
        self.surface = around.flow(surface.value);
        self.surface.slope *= surface.slope;
        flow[nodes - 1] = self.surface.heat - from_inside;
        self.evaluated = true;
    }

    /// What each node has taken in but not stored, as the right-hand side of the rows; gives the largest per volume,
    /// J/m³. `new` and `old` are the seconds for which the new and the old flows act.
    fn residual(&mut self, new: f64, old: f64) -> f64 {
        let nodes = self.enthalpy.len();
        let work = &mut self.work;
        let (flow, old_flow) = (&work.flow[..nodes], &work.old_flow[..nodes]);
        let (enthalpy, start) = (&self.enthalpy[..nodes], &work.old[..nodes]);
        let volume = &self.mesh.volume[..nodes];
        let right = &mut work.rows.right[..nodes];
        let mut largest = 0.0;
        for node in 0..nodes {
            let stored = volume[node] * (enthalpy[node] - start[node]);
            right[node] = new * flow[node] + old * old_flow[node] - stored;
            largest = larger(largest, right[node].abs() * self.per_volume[node]);
        }
        largest
    }

    /// One Newton correction.
    fn correct(&mut self, new: f64) {
        let nodes = self.enthalpy.len();
        let work = &mut self.work;
        let (slope, volume) = (&work.slope[..nodes], &self.mesh.volume[..nodes]);
        let conductance = &self.mesh.conductance[..nodes - 1];
        let rows = &mut work.rows;
        let mut inner = 0.0;
        for node in 0..nodes - 1 {
            let outer = new * conductance[node];
            rows.lower[node + 1] = outer * slope[node];
            rows.upper[node] = outer * slope[node + 1];
            rows.diagonal[node] = volume[node] + (inner + outer) * slope[node];
            inner = outer;
        }
        rows.diagonal[nodes - 1] =
            volume[nodes - 1] + inner * slope[nodes - 1] - new * self.surface.slope;
        // The solution overwrites the coefficients that elimination changes; both ends stay without a neighbour.
        rows.lower[0] = 0.0;
        rows.upper[nodes - 1] = 0.0;
        rows.solve();
        for (enthalpy, change) in self.enthalpy.iter_mut().zip(&rows.right) {
            *enthalpy += change;
        }
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

    /// Temperature at each node, the centre first.
    pub(super) fn each_degc(&self) -> impl Iterator<Item = f64> + '_ {
        self.enthalpy
            .iter()
            .map(|&enthalpy| self.material.celsius(enthalpy).value)
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
