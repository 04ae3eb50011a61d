//! Baselines: the same roast by the explicit scheme, the shortest program that solves the equations, and by
//! Crank–Nicolson as textbooks have it.
//!
//! Enthalpy by forward steps on 31 nodes and on 21, with the same properties, shape and surface as the model, in steps as long as
//! stability allows (0.4 of Δr² over the largest diffusivity). Good above freezing only.

use poulter::bird::Composition;
use poulter::heat::{MixingRule, Mixture};
use poulter::units::Temperature;

const NODES: usize = 31;
const CELLS: usize = 2048;
const COLDEST: f64 = 0.0;
const HOTTEST: f64 = 160.0;

/// Temperature and Θ = ∫k dT on an even grid of enthalpy per volume.
pub(crate) struct Food {
    step: f64,
    celsius: Vec<f64>,
    theta: Vec<f64>,
    diffusivity: f64,
}

impl Food {
    pub(crate) fn turkey() -> Result<Self, poulter::Error> {
        let at = |celsius: f64| {
            Temperature::from_celsius(celsius)
                .map(|temperature| Mixture::new(&Composition::TURKEY, temperature))
        };
        let density = at(4.4)?.density().value;
        let width = (HOTTEST - COLDEST) / 4000.0;
        let (mut rows, mut enthalpy, mut theta) = (vec![(0.0, COLDEST, 0.0)], 0.0, 0.0);
        let mut diffusivity: f64 = 0.0;
        for step in 0..4000_u32 {
            let middle = COLDEST + (f64::from(step) + 0.5) * width;
            // The component properties end at 150 °C.
            let food = at(middle.min(149.9))?;
            let k = food.conductivity(MixingRule::MaxwellEucken).value;
            let heat = density * food.specific_heat().value;
            enthalpy += width * heat;
            theta += width * k;
            diffusivity = diffusivity.max(k / heat);
            rows.push((enthalpy, middle + 0.5 * width, theta));
        }
        let step = enthalpy / (CELLS - 1) as f64;
        let (mut celsius, mut integral, mut at) = (Vec::new(), Vec::new(), 0);
        for cell in 0..CELLS {
            let wanted = cell as f64 * step;
            while at + 2 < rows.len() && rows[at + 1].0 < wanted {
                at += 1;
            }
            let (low, high) = (rows[at], rows[at + 1]);
            let part = (wanted - low.0) / (high.0 - low.0);
            celsius.push(low.1 + part * (high.1 - low.1));
            integral.push(low.2 + part * (high.2 - low.2));
        }
        Ok(Self {
            step,
            celsius,
            theta: integral,
            diffusivity,
        })
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "enthalpies above that of 0 °C, within the table"
    )]
    fn look_up(&self, column: &[f64], enthalpy: f64) -> f64 {
        let place = enthalpy / self.step;
        let cell = (place as usize).min(CELLS - 2);
        column[cell] + (place - cell as f64) * (column[cell + 1] - column[cell])
    }

    fn enthalpy(&self, celsius: f64) -> f64 {
        let above = self
            .celsius
            .partition_point(|&known| known < celsius)
            .max(1);
        let part =
            (celsius - self.celsius[above - 1]) / (self.celsius[above] - self.celsius[above - 1]);
        (above as f64 - 1.0 + part) * self.step
    }

    /// Slope of a column at an enthalpy.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "as for the value"
    )]
    fn slope(&self, column: &[f64], enthalpy: f64) -> f64 {
        let cell = ((enthalpy / self.step) as usize).min(CELLS - 2);
        (column[cell + 1] - column[cell]) / self.step
    }

    /// The same as [`Self::roast`] by Crank–Nicolson as textbooks have it: steps of a minute, four half steps of backward
    /// Euler after each change, Newton on a tridiagonal matrix from the state before, stopped at 200 J/m³.
    pub(crate) fn roast_by_crank_nicolson(
        &self,
        radius: f64,
        start: f64,
        oven: &[(f64, f64)],
    ) -> f64 {
        let spacing = radius / (NODES - 1) as f64;
        let face = |node: usize| (node as f64 + 0.5) * spacing / radius;
        let volume: [f64; NODES] = std::array::from_fn(|node| {
            let beyond = if node + 1 == NODES { 1.0 } else { face(node) };
            let before = if node == 0 { 0.0 } else { face(node - 1) };
            (beyond * beyond - before * before) * radius / 2.0
        });
        let mut enthalpy = [self.enthalpy(start); NODES];
        for &(air, seconds) in oven {
            let (mut elapsed, mut half_steps) = (0.0, 4);
            while elapsed < seconds {
                let (step, new) = if half_steps > 0 {
                    (30.0, 1.0)
                } else {
                    (60.0, 0.5)
                };
                half_steps -= i32::from(half_steps > 0);
                let old = enthalpy;
                let (from_old, _) = self.flows(air, &old, face, spacing);
                for _ in 0..25 {
                    let (flows, surface) = self.flows(air, &enthalpy, face, spacing);
                    let mut right = [0.0; NODES];
                    let mut worst: f64 = 0.0;
                    for node in 0..NODES {
                        right[node] = step * (new * flows[node] + (1.0 - new) * from_old[node])
                            - volume[node] * (enthalpy[node] - old[node]);
                        worst = worst.max(right[node].abs() / volume[node]);
                    }
                    if worst <= 200.0 {
                        break;
                    }
                    let slope: [f64; NODES] =
                        std::array::from_fn(|node| self.slope(&self.theta, enthalpy[node]));
                    let conducts = |node: usize| step * new * face(node) / spacing;
                    // Thomas: eliminate downwards, then back.
                    let (mut upper, mut inner) = ([0.0; NODES], 0.0);
                    for node in 0..NODES {
                        let last = node + 1 == NODES;
                        let outer = if last { 0.0 } else { conducts(node) };
                        let mut diagonal = volume[node] + (inner + outer) * slope[node];
                        if last {
                            diagonal -= step * new * surface;
                        }
                        if node > 0 {
                            let lower = -inner * slope[node - 1];
                            diagonal -= lower * upper[node - 1];
                            right[node] -= lower * right[node - 1];
                        }
                        upper[node] = if last {
                            0.0
                        } else {
                            -outer * slope[node + 1] / diagonal
                        };
                        right[node] /= diagonal;
                        inner = outer;
                    }
                    for node in (0..NODES).rev() {
                        if node + 1 < NODES {
                            right[node] -= upper[node] * right[node + 1];
                        }
                        enthalpy[node] += right[node];
                    }
                }
                elapsed += step;
            }
        }
        self.look_up(&self.celsius, enthalpy[0])
    }

    /// Net flow into every node, and the slope of the surface flow per J/m³ of the last one.
    fn flows(
        &self,
        air: f64,
        enthalpy: &[f64; NODES],
        face: impl Fn(usize) -> f64,
        spacing: f64,
    ) -> ([f64; NODES], f64) {
        let theta = enthalpy.map(|enthalpy| self.look_up(&self.theta, enthalpy));
        let mut inner = 0.0;
        let skin = self.look_up(&self.celsius, enthalpy[NODES - 1]);
        let net = std::array::from_fn(|node| {
            let outer = if node + 1 == NODES {
                flow(air, skin)
            } else {
                face(node) * (theta[node + 1] - theta[node]) / spacing
            };
            let net = outer - inner;
            inner = outer;
            net
        });
        let per_kelvin = (flow(air, skin + 0.01) - flow(air, skin - 0.01)) / 0.02;
        (
            net,
            per_kelvin * self.slope(&self.celsius, enthalpy[NODES - 1]),
        )
    }

    /// Temperature of the centre after these stretches of seconds in ovens of these temperatures.
    pub(crate) fn roast<const N: usize>(
        &self,
        radius: f64,
        start: f64,
        oven: &[(f64, f64)],
    ) -> f64 {
        let spacing = radius / (N - 1) as f64;
        let face = |node: usize| (node as f64 + 0.5) * spacing / radius;
        let mut volume = [0.0; N];
        let mut inside = 0.0;
        for (node, volume) in volume.iter_mut().enumerate() {
            let enclosed = if node + 1 == N {
                1.0
            } else {
                face(node) * face(node)
            };
            *volume = (enclosed - inside) * radius / 2.0;
            inside = enclosed;
        }
        let longest = 0.4 * spacing * spacing / self.diffusivity;
        let mut enthalpy = [self.enthalpy(start); N];
        let mut theta = [0.0; N];
        for &(air, seconds) in oven {
            let steps = (seconds / longest).ceil();
            let step = seconds / steps;
            let mut taken = 0.0;
            while taken < steps {
                for (theta, &enthalpy) in theta.iter_mut().zip(&enthalpy) {
                    *theta = self.look_up(&self.theta, enthalpy);
                }
                let mut inner = 0.0;
                for node in 0..N {
                    let outer = if node + 1 == N {
                        flow(air, self.look_up(&self.celsius, enthalpy[node]))
                    } else {
                        face(node) * (theta[node + 1] - theta[node]) / spacing
                    };
                    enthalpy[node] += step * (outer - inner) / volume[node];
                    inner = outer;
                }
                taken += 1.0;
            }
        }
        self.look_up(&self.celsius, enthalpy[0])
    }
}

/// Convection 6, emissivity 0.9, skin 1 W/(m²·K), 3 kPa of vapour: a still oven.
fn flow(air: f64, skin: f64) -> f64 {
    let (hot, cold) = (air + 273.15, skin + 273.15);
    let radiation = 0.9 * 5.670_374_419e-8 * (hot * hot * hot * hot - cold * cold * cold * cold);
    let pressure = 610.94 * libm::exp(17.625 * skin / (skin + 243.04));
    let water = 6.0 / 7.0 / (1007.0 * 101_325.0) * 0.622 * 1.12 * (pressure - 3000.0);
    6.0 * (air - skin) + radiation - water * (2.5009e6 - 2381.0 * skin)
}
