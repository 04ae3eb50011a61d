//! The solver against solutions that are known exactly, and against what must always hold.

use proptest::prelude::*;

use super::body::Mesh;
use super::boundary::Boundary;
use super::material::Material;
use super::roast::roast_zones;
use super::solver::Body;

/// Convection only: the surroundings of the exact solutions.
fn convection(air_degc: f64, h: f64) -> Boundary {
    Boundary {
        air_degc,
        walls_degc: air_degc,
        convection: h,
        emissivity: 0.0,
        skin: 0.0,
        vapour_pa: 0.0,
    }
}

const OVEN: Boundary = Boundary {
    air_degc: 162.8,
    walls_degc: 162.8,
    convection: 6.0,
    emissivity: 0.9,
    skin: 1.0,
    vapour_pa: 3000.0,
};

/// Centre and surface `θ = (T − T_a)/(T_0 − T_a)` of a body of unit k, ρc and R at Fourier number `fo`.
fn theta(nodes: usize, dimension: f64, bi: f64, fo: f64, steps: u32) -> (f64, f64) {
    let material = Material::constant(1.0, 1.0);
    let mut body = Body::new(&material, Mesh::new(nodes, 1.0, dimension), 100.0);
    let around = convection(0.0, bi);
    for _ in 0..steps {
        body.advance(&around, fo / f64::from(steps)).unwrap();
    }
    (body.core_degc() / 100.0, body.surface_degc() / 100.0)
}

/// Exact values, 60 terms of the Fourier or Bessel series for a slab (E 1), cylinder (2) and sphere (3) with
/// convection: `θ = Σ C_n f(ζ_n x) exp(−ζ_n² Fo)`. E, Bi, then centre and surface at Fo 0.1, 0.2, 0.5, 1; the first
/// roots agree
/// with the one-term tables of heat-transfer textbooks.
const SERIES: &str = "
    1 1  0.993108 0.723577  0.950642 0.643391  0.772526 0.504522  0.533859 0.348177
    1 5  0.977309 0.308790  0.864881 0.231533  0.523109 0.133032  0.220721 0.056094
    2 1  0.976817 0.684565  0.870174 0.570228  0.548586 0.352786  0.249380 0.160338
    2 5  0.926486 0.255748  0.671418 0.158917  0.207554 0.047695  0.028668 0.006587
    3 1  0.949305 0.643177  0.772312 0.495912  0.370777 0.236050  0.107977 0.068740
    3 5  0.845873 0.205920  0.472248 0.100922  0.065675 0.013813  0.002414 0.000508";

/// E, Bi, and centre and surface by Fourier number.
fn series() -> impl Iterator<Item = (f64, f64, Vec<(f64, f64)>)> {
    SERIES.trim().lines().map(|line| {
        let row: Vec<f64> = line
            .split_whitespace()
            .map(|number| number.parse().unwrap())
            .collect();
        let pairs = row[2..].chunks(2).map(|pair| (pair[0], pair[1])).collect();
        (row[0], row[1], pairs)
    })
}

#[test]
fn exact_series_are_reproduced() {
    for (dimension, bi, rows) in series() {
        for (fo, (centre, surface)) in [0.1, 0.2, 0.5, 1.0].into_iter().zip(rows) {
            let got = theta(321, dimension, bi, fo, 2000);
            assert!(
                (got.0 - centre).abs() < 1e-5,
                "E {dimension} Bi {bi} Fo {fo}: {got:?}"
            );
            assert!(
                (got.1 - surface).abs() < 1e-5,
                "E {dimension} Bi {bi} Fo {fo}: {got:?}"
            );
        }
    }
}

/// Halving spacing and step together divides the error by four.
#[test]
fn convergence_is_of_second_order() {
    for (dimension, bi, rows) in series() {
        let exact = rows[2].0;
        let error = |nodes, steps| (theta(nodes, dimension, bi, 0.5, steps).0 - exact).abs();
        let (coarse, fine) = (error(11, 50), error(21, 100));
        // The exact value is printed to six places, which blurs the ratio a little.
        let ratio = coarse / fine;
        assert!(
            (3.3..5.0).contains(&ratio),
            "E {dimension} Bi {bi}: {coarse} {fine}"
        );
    }
}

/// Half-space with convection: θ = 1 − [erfc(η) − exp(hx/k + h²αt/k²) erfc(η + h√(αt)/k)], k 0.5, α 1.4e-7, h 18.
#[test]
fn the_half_space_is_reproduced_near_the_surface() {
    let material = Material::constant(0.5, 0.5 / 1.4e-7);
    let around = convection(100.0, 18.0);
    for (depth_m, seconds, exact) in [
        (0.0, 600.0, 0.285_527),
        (0.0, 3600.0, 0.513_720),
        (0.005, 600.0, 0.173_711),
        (0.01, 1800.0, 0.238_798),
        (0.02, 3600.0, 0.227_728),
    ] {
        // A slab 0.16 m deep feels nothing at its far side within an hour.
        let mut body = Body::new(&material, Mesh::new(641, 0.16, 1.0), 0.0);
        for _ in 0..720 {
            body.advance(&around, seconds / 720.0).unwrap();
        }
        let got = body.at_degc(1.0 - depth_m / 0.16) / 100.0;
        assert!((got - exact).abs() < 2e-5, "{depth_m} {seconds}: {got}");
    }
}

/// A 14 lb bird taken as a sphere, in US units: 75 lb/ft³, 0.98 Btu/(lb °F), k 0.26, α 0.0035 ft²/h, 40 °F in 325 °F,
/// 185 °F at a third of the radius after 5 h. The full series gives Bi 15.73 and 313.6 °F at the skin (a textbook
/// problem; answers computed from the series, two printed solutions are wrong).
#[test]
fn the_textbook_bird_as_a_sphere() {
    let (radius_ft, alpha, k) = (0.3545, 0.0035, 0.26);
    let material = Material::constant(k, k / alpha);
    let mut body = Body::new(&material, Mesh::new(241, radius_ft, 3.0), 40.0);
    let around = convection(325.0, 15.73 * k / radius_ft);
    for _ in 0..1000 {
        body.advance(&around, 5.0 / 1000.0).unwrap();
    }
    assert!((body.at_degc(1.0 / 3.0) / 185.0 - 1.0).abs() < 1e-3);
    assert!((body.surface_degc() / 313.6 - 1.0).abs() < 1e-3);
}

/// Melting of a half-space at its melting point whose surface is held at `T_s`, k and ρc alike in both phases: the
/// front is at `2λ√(αt)` with `λ exp(λ²) erf λ = Ste/√π`, and the heat taken up is `2 k T_s √(t/(πα))/erf λ`.
/// λ = 0.5 and erf 0.5 = 0.5204998778 give Ste = 0.5 e^0.25 · 0.5204998778 · √π = 0.592297.
#[test]
fn melting_takes_up_the_heat_of_stefan_and_neumann() {
    let (k, rho_cp, surface) = (0.5, 2.0e6, 20.0);
    let stefan = 0.592_297;
    let material = Material::melting_at_zero(k, rho_cp, rho_cp * surface / stefan);
    let alpha: f64 = k / rho_cp;
    let seconds = 3600.0;
    let exact =
        2.0 * k * surface * (seconds / (std::f64::consts::PI * alpha)).sqrt() / 0.520_499_877_8;
    let uptake = |nodes: usize, steps: u32| {
        // Starts just below the melting range's lower end; the coefficient is large enough to hold the surface.
        let mut body = Body::new(&material, Mesh::new(nodes, 0.08, 1.0), -0.01);
        let around = convection(surface, 1e5);
        for _ in 0..steps {
            body.advance(&around, seconds / f64::from(steps)).unwrap();
        }
        body.heat()
    };
    let error = (uptake(401, 1800) / exact - 1.0).abs();
    assert!(error < 0.005, "{error}");
}

/// Plank's time to freeze a sphere at its freezing point, `ρL/ΔT (D/6h + D²/24k)`: D 7 cm, 250 MJ/m³, air 38.75 K
/// colder, k 1.2, h 50 give 2603 s (textbook problem, from memory; computed from the formula). Plank leaves out sensible
/// heat; here it is 0.3 % of the latent.
#[test]
fn freezing_takes_the_time_of_plank() {
    let material = Material::melting_at_zero(1.2, 2.0e4, 2.5e8);
    let mut body = Body::new(&material, Mesh::new(121, 0.035, 3.0), 0.01);
    let around = convection(-38.75, 50.0);
    let mut seconds = 0.0;
    while body.hottest_degc() > -0.01 {
        body.advance(&around, 1.0).unwrap();
        seconds += 1.0;
        assert!(seconds < 4000.0, "still {} °C", body.hottest_degc());
    }
    let plank: f64 = 2.5e8 / 38.75 * (0.07 / 300.0 + 0.07 * 0.07 / 28.8);
    assert!((plank - 2603.0).abs() < 1.0, "{plank}");
    assert!((seconds / plank - 1.0).abs() < 0.01, "{seconds} {plank}");
}

/// What the ensemble of the forecast uses, 21 nodes and steps of 150 s, against a fine grid: well below the 0.8 K that a
/// reading may be off.
#[test]
fn coarse_steps_are_good_enough_for_an_ensemble() {
    for dimension in [1.5, 2.0, 3.0] {
        let radius = Mesh::radius_m(12.0 * 0.453_592_37, 0.0355);
        let mut fine = Body::new(Material::turkey(), Mesh::new(161, radius, dimension), 4.4);
        let mut quick = Body::new(Material::turkey(), Mesh::new(21, radius, dimension), 4.4);
        for half_hour in 1..=7 {
            for _ in 0..60 {
                fine.advance(&OVEN, 30.0).unwrap();
            }
            for _ in 0..12 {
                quick.advance(&OVEN, 150.0).unwrap();
            }
            let error = (quick.core_degc() - fine.core_degc()).abs();
            assert!(
                error < 0.35,
                "E {dimension}, {half_hour} half hours: {error}"
            );
        }
    }
}

/// Regression vectors from a separate reference calculation (241 nodes) with the same equations: not independent
/// evidence. Turkey, E 2, c 0.03165 m/kg^(1/3), 4.4 °C into 162.8 °C: core at 1, 2, 3, 4 h and hours to 73.89 °C.
#[test]
fn roast_matches_the_reference_calculation() {
    for (pounds, cores, hours) in [
        (4.0, [52.77, 85.40, 94.82, 97.38], 1.5026),
        (12.0, [22.51, 58.16, 78.29, 88.44], 2.7167),
        (20.0, [12.74, 42.08, 64.49, 78.27], 3.6238),
    ] {
        let radius = Mesh::radius_m(pounds * 0.453_592_37, 0.03165);
        let mut body = Body::new(Material::turkey(), Mesh::new(241, radius, 2.0), 4.4);
        let mut before = 4.4;
        let mut reached = None;
        for step in 1..=960_u32 {
            body.advance(&OVEN, 15.0).unwrap();
            let core = body.core_degc();
            if reached.is_none() && core >= 73.89 {
                let part = (73.89 - before) / (core - before);
                reached = Some((f64::from(step) - 1.0 + part) * 15.0 / 3600.0);
            }
            before = core;
            if step % 240 == 0 {
                let expected = cores[step as usize / 240 - 1];
                assert!(
                    (core - expected).abs() < 0.15,
                    "{pounds} lb, step {step}: {core}"
                );
            }
        }
        let reached = reached.unwrap();
        assert!(
            (reached - hours).abs() * 60.0 < 0.2,
            "{pounds} lb: {reached} h"
        );
    }
}

/// Regression vectors, as above: 12 lb, the breast (c 0.0355) to 73.89 °C, the thigh (c 0.0317) to 73.89 and 82.22 °C,
/// to 0.2 min.
#[test]
fn zones_match_the_reference_calculation() {
    for (length, target, hours) in [
        (0.0355, 73.89, 3.2964),
        (0.0317, 73.89, 2.7239),
        (0.0317, 82.22, 3.3189),
    ] {
        let radius = Mesh::radius_m(12.0 * 0.453_592_37, length);
        let mut body = Body::new(Material::turkey(), Mesh::new(241, radius, 2.0), 4.4);
        let (mut before, mut elapsed) = (4.4, 0.0);
        while body.core_degc() < target {
            before = body.core_degc();
            body.advance(&OVEN, 15.0).unwrap();
            elapsed += 15.0;
        }
        let over = (body.core_degc() - target) / (body.core_degc() - before);
        let error = (elapsed - 15.0 * over) / 60.0 - 60.0 * hours;
        assert!(error.abs() < 0.2, "c {length} to {target}: {error} min");
    }
}

/// Chang, Carpenter and Toledo 1998, stuffed: 200 min + 8.8 min/kg at 162.8 °C from 4.44 to 82.2 °C, 5.9 to 10.8 kg. A
/// length fitted with 82.2 °C as the end, c 0.0329, lies −12 to +6 % from that line (a comparison).
#[test]
fn a_length_for_a_hotter_end_follows_the_stuffed_line() {
    for (kilograms, stated) in [(5.9, -0.12), (10.8, 0.06)] {
        let radius = Mesh::radius_m(kilograms, 0.0329);
        let mut body = Body::new(Material::turkey(), Mesh::new(61, radius, 2.0), 4.44);
        let mut minutes = 0.0;
        while body.core_degc() < 82.2 {
            body.advance(&OVEN, 30.0).unwrap();
            minutes += 0.5;
        }
        let error: f64 = minutes / (200.0 + 8.8 * kilograms) - 1.0;
        assert!((error - stated).abs() < 0.015, "{kilograms} kg: {error}");
    }
}

/// The reference calculation has 7.7 and 20.5 h for a wrapped bird of 12 lb in a refrigerator at 4 °C, from 57 to 21 and
/// from 21 to 5 °C, and 5.1 and 13.6 h for 4 lb. Its setting of the skin is not stated; with water going off as from a
/// bare bird the same coefficient comes within 5 and 7 % of it. Under a wrap nothing dries, so that the model has the
/// longer times without: the cautious side.
#[test]
fn a_wrap_that_lets_water_go_is_near_the_reference_calculation() {
    let tight = convection(4.0, 4.0);
    let drying = Boundary {
        skin: 1.0,
        vapour_pa: 800.0,
        ..tight
    };
    let hours = |around: &Boundary, pounds: f64| {
        let radius = Mesh::radius_m(pounds * 0.453_592_37, 0.0355);
        let mut body = Body::new(Material::turkey(), Mesh::new(31, radius, 2.0), 74.0);
        let mut minutes = 0.0;
        let passed = [57.0, 21.0, 5.0].map(|celsius| {
            while body.core_degc() > celsius {
                body.advance(around, 60.0).unwrap();
                minutes += 1.0;
            }
            minutes / 60.0
        });
        [passed[1] - passed[0], passed[2] - passed[1]]
    };
    for (pounds, expected) in [(12.0, [7.7, 20.5]), (4.0, [5.1, 13.6])] {
        let (dry, wet) = (hours(&tight, pounds), hours(&drying, pounds));
        for stage in 0..2 {
            let error: f64 = wet[stage] / expected[stage] - 1.0;
            assert!(error.abs() < [0.05, 0.07][stage], "{pounds} lb: {wet:?}");
            assert!(dry[stage] > wet[stage], "{pounds} lb: {dry:?}");
        }
    }
}

/// Foil browns later: its skin is colder at every time.
#[test]
fn a_tent_keeps_the_skin_colder() {
    let skin = |tent: serde_json::Value| {
        let query = serde_json::from_value(serde_json::json!({
            "mass": "12 lb", "start": "40 °F", "target": "165 °F", "oven": [{"temperature": "325 °F"}], "tent": tent,
        }));
        roast_zones(&query.unwrap())
            .unwrap()
            .traces
            .remove(0)
            .surface
    };
    let (bare, covered) = (skin(serde_json::Value::Null), skin(serde_json::json!({})));
    for (minute, (bare, covered)) in bare.iter().zip(&covered).enumerate().skip(1) {
        assert!(covered < bare, "{minute} min: {covered} {bare}");
    }
}

/// Regression vectors, as above: 12 lb from −18 °C until no place is below 0 °C, by air at 3.3 °C (h 3) and by water at
/// 10 °C (h 120).
#[test]
fn thaw_matches_the_reference_calculation() {
    let radius = Mesh::radius_m(12.0 * 0.453_592_37, 0.03165);
    for (air, h, step_s, hours) in [(3.3, 3.0, 120.0, 76.21), (10.0, 120.0, 15.0, 6.170)] {
        let mut body = Body::new(Material::turkey(), Mesh::new(161, radius, 2.0), -18.0);
        let around = convection(air, h);
        let (mut before, mut elapsed) = (-18.0, 0.0);
        let thawed = loop {
            body.advance(&around, step_s).unwrap();
            let coldest = body.coldest_degc();
            if coldest >= 0.0 {
                break elapsed + step_s * before / (before - coldest);
            }
            before = coldest;
            elapsed += step_s;
        } / 3600.0;
        assert!((thawed / hours - 1.0).abs() < 0.003, "{air}: {thawed} h");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Heat through the surface is what the body gains, to one part in a million, whatever the surroundings do.
    #[test]
    fn energy_closes(
        start in -25.0..90.0_f64,
        changes in prop::collection::vec((-20.0..240.0_f64, 1.0..250.0_f64, 0.0..1.0_f64, 0.0..2.0_f64), 1..5),
        dimension in 1.0..3.0_f64,
        radius in 0.01..0.09_f64,
        step_s in 10.0..400.0_f64,
    ) {
        let mut body = Body::new(Material::turkey(), Mesh::new(31, radius, dimension), start);
        for (air_degc, convection, emissivity, skin) in changes {
            let around = Boundary { air_degc, walls_degc: air_degc, convection, emissivity, skin, vapour_pa: 1000.0 };
            body.enter(true);
            for _ in 0..20 {
                body.advance(&around, step_s).unwrap();
            }
        }
        prop_assert!(body.check_balance().is_ok(), "{:?}", body.check_balance());
    }

    /// Without evaporation no place leaves the span of the start and the surroundings.
    #[test]
    fn the_maximum_principle_holds(
        start in -25.0..90.0_f64,
        air in -20.0..200.0_f64,
        h in 1.0..250.0_f64,
        dimension in 1.0..3.0_f64,
        step_s in 10.0..120.0_f64,
    ) {
        let mut body = Body::new(Material::turkey(), Mesh::new(31, 0.06, dimension), start);
        let around = convection(air, h);
        let (low, high) = (start.min(air), start.max(air));
        for _ in 0..100 {
            body.advance(&around, step_s).unwrap();
            prop_assert!(body.coldest_degc() >= low - 1e-6, "{}", body.coldest_degc());
            prop_assert!(body.hottest_degc() <= high + 1e-6, "{}", body.hottest_degc());
        }
    }

    /// A hotter oven never leaves a colder centre, and a larger body is never ahead.
    #[test]
    fn hotter_is_never_slower_and_larger_never_faster(
        air in 150.0..220.0_f64,
        more in 0.5..30.0_f64,
        radius in 0.04..0.08_f64,
        growth in 1.01..1.3_f64,
    ) {
        let run = |air_degc: f64, radius: f64| {
            let mut body = Body::new(Material::turkey(), Mesh::new(31, radius, 2.0), 4.4);
            let around = Boundary { air_degc, walls_degc: air_degc, ..OVEN };
            for _ in 0..120 {
                body.advance(&around, 60.0).unwrap();
            }
            body.core_degc()
        };
        let base = run(air, radius);
        prop_assert!(run(air + more, radius) > base);
        prop_assert!(run(air, radius * growth) < base);
    }
}

/// Surroundings that are no number end in an error, never in a temperature.
#[test]
fn nonsense_does_not_converge() {
    let mut body = Body::new(Material::turkey(), Mesh::new(31, 0.06, 2.0), 4.4);
    for around in [
        convection(f64::NAN, 6.0),
        convection(160.0, f64::NAN),
        convection(f64::INFINITY, 6.0),
    ] {
        body.enter(true);
        let error = body.advance(&around, 60.0).unwrap_err();
        assert_eq!(error.kind(), crate::ErrorKind::NotConverged);
        assert!((body.core_degc() - 4.4).abs() < 1e-9);
    }
}

/// The core of a full roast on finer and finer grids closes in on the finest one.
#[test]
fn a_finer_grid_is_closer() {
    let core = |nodes: usize, step_s: f64, steps: u32| {
        let radius = Mesh::radius_m(12.0 * 0.453_592_37, 0.03165);
        let mut body = Body::new(Material::turkey(), Mesh::new(nodes, radius, 2.0), 4.4);
        for _ in 0..steps {
            body.advance(&OVEN, step_s).unwrap();
        }
        body.core_degc()
    };
    let finest = core(161, 15.0, 480);
    let errors = [(21, 120.0, 60), (41, 60.0, 120), (81, 30.0, 240)]
        .map(|(nodes, step_s, steps)| (core(nodes, step_s, steps) - finest).abs());
    assert!(errors[0] > errors[1] && errors[1] > errors[2], "{errors:?}");
    assert!(errors[0] < 0.2, "{errors:?}");
}
