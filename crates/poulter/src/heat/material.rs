//! Temperature and Kirchhoff variable as functions of enthalpy.

use std::sync::LazyLock;

use crate::bird::Composition;

use super::ice::MELTING_J_KG;
use super::mixture::{MixingRule, Mixture};

/// Temperature at which the density of the whole body is taken, that of a refrigerator (40 °F); it stays constant, so
/// that mass is conserved.
const DENSITY_AT_DEGC: f64 = 4.4;

/// Ends of the table: a little beyond the range of the component properties. Straight lines continue it.
const COLDEST_DEGC: f64 = -45.0;
const HOTTEST_DEGC: f64 = 155.0;

/// Steps in which the properties are integrated on either side of the freezing point: 0.04 K below, 0.16 K above.
const INTEGRATION_STEPS: u32 = 1000;

/// Cells of the table. One cell is about 0.2 K above freezing and 0.01 K where melting begins.
const CELLS: usize = 1024;

/// How much better a stirred or freely convecting liquid spreads heat than a still one. Any large number will do:
/// the liquid then has one temperature throughout.
const STIRRING: f64 = 300.0;

/// One straight piece of a curve: where its line meets H = 0, and its slope.
#[derive(Clone, Copy, Debug)]
struct Piece {
    value: f64,
    slope: f64,
}

/// A food as the solver sees it.
///
/// H is the enthalpy in J/m³ above the solid–liquid boundary, `H(T) = ρ(∫Σ x_i c_p,i dT − L x_ice)`; `Θ = ∫k dT` is the
/// Kirchhoff variable in W/m. Both T(H) and Θ(H) are piecewise linear on the same even grid, on which H = 0, where
/// freezing begins, is a node.
#[derive(Clone, Debug)]
pub(super) struct Material {
    lowest: f64,
    step: f64,
    cells_per_unit: f64,
    theta: Box<[Piece; CELLS]>,
    temperature: Box<[Piece; CELLS]>,
    density: f64,
}

/// A straight piece found for one enthalpy.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    pub(super) value: f64,
    /// Derivative with respect to enthalpy.
    pub(super) slope: f64,
}

static TURKEY: LazyLock<Material> = LazyLock::new(|| Material::new(&Composition::TURKEY));
static CHICKEN: LazyLock<Material> = LazyLock::new(|| Material::new(&Composition::CHICKEN));
static STOCK: LazyLock<Material> = LazyLock::new(|| Material::new(&Composition::STOCK));
static STIRRED_STOCK: LazyLock<Material> = LazyLock::new(|| STOCK.stirred());

impl Material {
    pub(super) fn turkey() -> &'static Self {
        &TURKEY
    }

    pub(super) fn chicken() -> &'static Self {
        &CHICKEN
    }

    pub(super) fn stock(stirred: bool) -> &'static Self {
        if stirred { &STIRRED_STOCK } else { &STOCK }
    }

    pub(super) fn new(composition: &Composition) -> Self {
        let density = Mixture::at_celsius(composition, DENSITY_AT_DEGC).rho_kg_m3();
        let freezing = composition.freezing_point().as_celsius();
        let mut above = integrate(composition, density, freezing, HOTTEST_DEGC);
        let mut rows = integrate(composition, density, freezing, COLDEST_DEGC);
        rows.reverse();
        rows.pop();
        rows.append(&mut above);
        Self::from_rows(&rows, density)
    }

    /// A material whose conductivity and volumetric heat do not depend on temperature, as the exact solutions
    /// suppose.
    #[cfg(test)]
    pub(super) fn constant(k_w_m_k: f64, rho_cp_j_m3_k: f64) -> Self {
        let rows = [-300.0, 0.0, 700.0].map(|t| Row {
            celsius: t,
            enthalpy: rho_cp_j_m3_k * t,
            theta: k_w_m_k * t,
        });
        Self::from_rows(&rows, 1000.0)
    }

    /// A material that melts over a narrow range below 0 °C, as the solution of Stefan and Neumann supposes.
    #[cfg(test)]
    pub(super) fn melting_at_zero(k_w_m_k: f64, rho_cp_j_m3_k: f64, melting_j_m3: f64) -> Self {
        const RANGE_K: f64 = 0.01;
        let rows = [-300.0, -RANGE_K, 0.0, 700.0].map(|t: f64| Row {
            celsius: t,
            enthalpy: rho_cp_j_m3_k * t - if t < 0.0 { melting_j_m3 } else { 0.0 },
            theta: k_w_m_k * t,
        });
        Self::from_rows(&rows, 1000.0)
    }

    fn from_rows(rows: &[Row], density: f64) -> Self {
        let (first, last) = (rows[0], rows[rows.len() - 1]);
        let step = (last.enthalpy - first.enthalpy) / (CELLS as f64 - 2.0);
        let below_zero = (-first.enthalpy / step).ceil();
        let lowest = -below_zero * step;
        let flat = Piece {
            value: 0.0,
            slope: 0.0,
        };
        let mut theta = Box::new([flat; CELLS]);
        let mut temperature = Box::new([flat; CELLS]);
        let mut at = 0;
        let mut look_up = |enthalpy: f64| {
            while at + 2 < rows.len() && rows[at + 1].enthalpy < enthalpy {
                at += 1;
            }
            let (low, high) = (rows[at], rows[at + 1]);
            let part = (enthalpy - low.enthalpy) / (high.enthalpy - low.enthalpy);
            (
                low.theta + part * (high.theta - low.theta),
                low.celsius + part * (high.celsius - low.celsius),
            )
        };
        let mut low = look_up(lowest);
        for cell in 0..CELLS {
            let start = (cell as f64 - below_zero) * step;
            let high = look_up(start + step);
            let piece = |low: f64, high: f64| {
                let slope = (high - low) / step;
                Piece {
                    value: low - start * slope,
                    slope,
                }
            };
            theta[cell] = piece(low.0, high.0);
            temperature[cell] = piece(low.1, high.1);
            low = high;
        }
        Self {
            lowest,
            step,
            cells_per_unit: 1.0 / step,
            theta,
            temperature,
            density,
        }
    }

    /// The same material with its heat spread by motion.
    fn stirred(&self) -> Self {
        let mut stirred = self.clone();
        for piece in stirred.theta.iter_mut() {
            piece.value *= STIRRING;
            piece.slope *= STIRRING;
        }
        stirred
    }

    pub(super) fn density(&self) -> f64 {
        self.density
    }

    #[inline]
    pub(super) fn theta(&self, enthalpy: f64) -> Point {
        self.find(&self.theta, enthalpy)
    }

    #[inline]
    pub(super) fn celsius(&self, enthalpy: f64) -> Point {
        self.find(&self.temperature, enthalpy)
    }

    /// The enthalpy of a temperature, by the same straight pieces.
    pub(super) fn enthalpy(&self, celsius: f64) -> f64 {
        let (mut cell, mut beyond) = (0, CELLS);
        while beyond - cell > 1 {
            let middle = usize::midpoint(cell, beyond);
            let start = self.lowest + middle as f64 * self.step;
            let piece = self.temperature[middle];
            if piece.value + start * piece.slope <= celsius {
                cell = middle;
            } else {
                beyond = middle;
            }
        }
        let piece = self.temperature[cell];
        (celsius - piece.value) / piece.slope
    }

    #[inline]
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the cast saturates, and the first and last pieces continue the table on purpose"
    )]
    fn find(&self, pieces: &[Piece; CELLS], enthalpy: f64) -> Point {
        let cell = ((enthalpy - self.lowest) * self.cells_per_unit) as u32 as usize;
        let piece = pieces[cell.min(CELLS - 1)];
        Point {
            value: piece.value + enthalpy * piece.slope,
            slope: piece.slope,
        }
    }
}

/// One row of the integrated properties.
#[derive(Clone, Copy, Debug)]
struct Row {
    celsius: f64,
    enthalpy: f64,
    theta: f64,
}

/// Integrates `c_p` and k from the freezing point to `end`, two Gauss points a step; melting is added as the exact
/// difference of the ice at both ends.
fn integrate(composition: &Composition, density: f64, freezing: f64, end: f64) -> Vec<Row> {
    let width = (end - freezing) / f64::from(INTEGRATION_STEPS);
    let gauss = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9];
    let mut rows = vec![Row {
        celsius: freezing,
        enthalpy: 0.0,
        theta: 0.0,
    }];
    let (mut sensible, mut theta, mut start) = (0.0, 0.0, freezing);
    for step in 1..=INTEGRATION_STEPS {
        let celsius = freezing + f64::from(step) * width;
        for point in gauss {
            let food = Mixture::at_celsius(composition, start + point * (celsius - start));
            sensible += 0.5 * width * food.cp_j_kg_k();
            theta += 0.5 * width * food.k_w_m_k(MixingRule::MaxwellEucken);
        }
        let melting = MELTING_J_KG * Mixture::at_celsius(composition, celsius).ice();
        rows.push(Row {
            celsius,
            enthalpy: density * (sensible - melting),
            theta,
        });
        start = celsius;
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Enthalpy in kJ/kg above `reference`, by the closed form of Chen 1985 for a food with solids `x_s`, water `x_w`,
    /// bound water `x_b` (from memory).
    fn chen(t: f64, reference: f64, freezing: f64, [x_s, x_w, x_b]: [f64; 3]) -> f64 {
        let below = |t: f64| {
            (t - reference) * (1.55 + 1.26 * x_s - (x_w - x_b) * 333.6 * freezing / (reference * t))
        };
        if t <= freezing {
            below(t)
        } else {
            below(freezing) + (t - freezing) * (4.19 - 2.30 * x_s - 0.628 * x_s * x_s * x_s)
        }
    }

    fn kilojoules(material: &Material, from: f64, to: f64) -> f64 {
        (material.enthalpy(to) - material.enthalpy(from)) / material.density() / 1e3
    }

    /// Beef side, ASHRAE Handbook example (from memory, recomputed): 48.79, 243.14 and 280.38 kJ/kg; 34 738 kJ for
    /// 150 kg from 10 to −20 °C.
    #[test]
    fn the_closed_form_reproduces_the_handbook_example() {
        let beef = [0.4179, 0.5821, 0.0699];
        let h = |t| chen(t, -40.0, -1.7, beef);
        assert!((h(-20.0) - 48.79).abs() < 0.01);
        assert!((h(-1.7) - 243.14).abs() < 0.01);
        assert!((h(10.0) - 280.38).abs() < 0.01);
        assert!((150.0 * (h(10.0) - h(-20.0)) / 34_738.0 - 1.0).abs() < 0.003);
    }

    /// The table and Chen's closed form are different models of the same food; they stay within 5 %.
    #[test]
    fn the_table_is_near_the_closed_form() {
        let turkey = [0.296, 0.704, 0.4 * 0.2042];
        let closed = chen(4.4, -40.0, -2.8, turkey) - chen(-18.0, -40.0, -2.8, turkey);
        assert!((closed - 229.69).abs() < 0.01, "{closed}");
        let table = kilojoules(Material::turkey(), -18.0, 4.4);
        assert!((table / closed - 1.0).abs() < 0.05, "{table}");
    }

    /// Regression vectors: a separate reference calculation of the same equations.
    #[test]
    fn heat_matches_the_reference_calculation() {
        for (from, to, expected) in [(-18.0, 4.4, 240.73), (4.4, 73.9, 246.54)] {
            let got = kilojoules(Material::turkey(), from, to);
            assert!((got / expected - 1.0).abs() < 1e-3, "{got}");
        }
    }

    #[test]
    fn temperature_and_enthalpy_undo_each_other() {
        for material in [
            Material::turkey(),
            Material::chicken(),
            Material::stock(false),
        ] {
            for t in [
                -60.0, -40.0, -18.0, -2.9, -2.8, -0.6, 0.0, 4.4, 73.9, 150.0, 200.0,
            ] {
                let back = material.celsius(material.enthalpy(t)).value;
                assert!((back - t).abs() < 1e-9, "{t} {back}");
            }
        }
    }

    #[test]
    fn curves_rise_everywhere() {
        for material in [
            Material::turkey(),
            Material::chicken(),
            Material::stock(false),
            Material::stock(true),
        ] {
            assert!(material.theta.iter().all(|piece| piece.slope > 0.0));
            assert!(material.temperature.iter().all(|piece| piece.slope > 0.0));
        }
    }
}
