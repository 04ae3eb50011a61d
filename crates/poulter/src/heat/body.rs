//! The shape of the food: one depth, with an area that changes with it.

use crate::math;

/// A grid of nodes from the centre (r = 0) to the surface (r = R), area ∝ (r/R)^(E−1).
///
/// E = 1 is a slab cooled or heated from both faces, 2 a long cylinder, 3 a sphere. Each node owns the volume between
/// the two faces half-way to its neighbours; the volumes are exact, so the sum is R/E per unit of surface.
#[derive(Clone, Debug)]
pub(super) struct Mesh {
    radius: f64,
    dimension: f64,
    /// Volume of each node per area of surface, m.
    pub(super) volume: Vec<f64>,
    /// Area of the face beyond each node but the last, divided by the spacing, 1/m.
    pub(super) conductance: Vec<f64>,
}

impl Mesh {
    /// `nodes` is at least 3, `radius` in m, `dimension` E from 1 to 3.
    pub(super) fn new(nodes: usize, radius: f64, dimension: f64) -> Self {
        let cells = nodes as f64 - 1.0;
        let spacing = radius / cells;
        let mut volume = Vec::with_capacity(nodes);
        let mut conductance = Vec::with_capacity(nodes - 1);
        let mut inside = 0.0;
        for node in 0..nodes - 1 {
            let face = (node as f64 + 0.5) / cells;
            let area = math::pow(face, dimension - 1.0);
            let enclosed = area * face * radius / dimension;
            volume.push(enclosed - inside);
            conductance.push(area / spacing);
            inside = enclosed;
        }
        volume.push(radius / dimension - inside);
        Self {
            radius,
            dimension,
            volume,
            conductance,
        }
    }

    /// R = c m^(1/3), with c in m/kg^(1/3).
    pub(super) fn radius_m(mass_kg: f64, length_m_per_cbrt_kg: f64) -> f64 {
        length_m_per_cbrt_kg * math::cbrt(mass_kg)
    }

    pub(super) fn nodes(&self) -> usize {
        self.volume.len()
    }

    /// Surface area per kilogram, E/(ρ R), in m²/kg.
    pub(super) fn surface_per_mass(&self, density: f64) -> f64 {
        self.dimension / (density * self.radius)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn volumes_fill_the_body() {
        for dimension in [1.0, 1.5, 2.0, 3.0] {
            let mesh = Mesh::new(31, 0.08, dimension);
            let sum: f64 = mesh.volume.iter().sum();
            assert!((sum - 0.08 / dimension).abs() < 1e-15);
            assert!(mesh.volume.iter().all(|&v| v > 0.0));
        }
    }

    /// A sphere of 8 cm: 3/R over the density.
    #[test]
    fn surface_per_mass_is_that_of_a_sphere() {
        let got = Mesh::new(31, 0.08, 3.0).surface_per_mass(1000.0);
        assert!((got - 0.0375).abs() < 1e-12);
    }
}
