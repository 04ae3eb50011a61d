//! Thaw against published rules and the reference calculation.

use poulter::ErrorKind;
use poulter::bird::Species;
use poulter::heat::{Surroundings, ThawSimulation, ThawSimulationQuery, simulate_thaw};
use poulter::units::{Mass, Temperature};
use proptest::prelude::*;

fn degrees(text: &str) -> Temperature {
    Temperature::parse(text).unwrap()
}

fn query(pounds: f64, surroundings: Surroundings) -> ThawSimulationQuery {
    ThawSimulationQuery {
        species: Species::Turkey,
        mass: Mass::from_pounds(pounds).unwrap(),
        start: degrees("-18 °C"),
        surroundings,
        standard: "us-consumer".to_owned(),
    }
}

fn refrigerator(temperature: &str) -> Surroundings {
    Surroundings::Refrigerator {
        temperature: degrees(temperature),
        wrapped: true,
    }
}

fn water(temperature: &str) -> Surroundings {
    Surroundings::Water {
        temperature: degrees(temperature),
        running: false,
    }
}

fn thaw(pounds: f64, surroundings: Surroundings) -> ThawSimulation {
    simulate_thaw(&query(pounds, surroundings)).unwrap()
}

/// Reference calculation at c 0.0317 and 0.037, put on a straight line to 0.0343: a regression, not evidence, and rounded
/// in print. The surface coefficient was set by hand so that 12 lb meets the rule of the refrigerator, 58–72 h.
#[test]
fn medians_match_the_reference_calculation() {
    for (pounds, hours) in [(8.0, 55.4), (12.0, 64.4), (20.0, 77.9)] {
        let got = thaw(pounds, refrigerator("3.3 °C"))
            .thawed
            .likely
            .as_hours();
        assert!((got / hours - 1.0).abs() < 0.02, "{pounds} lb: {got}");
    }
    for (pounds, hours) in [(8.0, 4.54), (12.0, 5.83), (20.0, 7.98)] {
        let got = thaw(pounds, water("15 °C")).thawed.likely.as_hours();
        assert!((got / hours - 1.0).abs() < 0.02, "{pounds} lb: {got}");
    }
}

/// The rules, 4 to 5 lb a day and 30 min/lb, lie inside the band for the common birds of 8 to 16 lb. Below 8 lb the
/// rule is shorter than the model's median: a caution, since no measured curve exists.
#[test]
fn the_rules_lie_inside_the_band() {
    for pounds in [8.0, 12.0, 16.0] {
        let band = thaw(pounds, refrigerator("3.3 °C")).thawed;
        let rule = 24.0 * pounds / 4.5;
        assert!(
            band.low.as_hours() < rule && rule < band.high.as_hours(),
            "{pounds}"
        );
        let band = thaw(pounds, water("13 °C")).thawed;
        let rule = 0.5 * pounds;
        assert!(
            band.low.as_hours() < rule && rule < band.high.as_hours(),
            "{pounds}"
        );
    }
    let small = thaw(4.0, refrigerator("3.3 °C")).thawed;
    assert!(small.likely.as_hours() > 24.0);
}

/// Plank's equation, `t = ρ ΔH/(T_a − T_f)·(P D/h + R D²/k)` with 1/4 and 1/16 for a cylinder, fed with the whole heat
/// from −18 to 0 °C, is an upper bound: a reference calculation found it 30 to 59 % long. The cube root of 12 lb in kg is 1.75907.
#[test]
fn plank_bounds_the_water_thaw() {
    let diameter = 2.0 * 0.0343 * 1.75907;
    let resistance = diameter / (4.0 * 120.0) + diameter * diameter / (16.0 * 0.477);
    let seconds = 1050.0 * 225e3 / (10.0 + 2.8) * resistance;
    let model = thaw(12.0, water("10 °C")).thawed.likely.as_seconds();
    let ratio = seconds / model;
    assert!((1.0..1.65).contains(&ratio), "{ratio}");
}

/// The bands that were stated, to the rounding of a minute.
#[test]
fn bands_are_those_stated() {
    for (around, low, high) in [
        (refrigerator("3.3 °C"), 0.65, 1.50),
        (water("13 °C"), 0.75, 1.45),
    ] {
        let band = thaw(12.0, around).thawed;
        let likely = band.likely.as_minutes();
        assert!(
            (band.low.as_minutes() - low * likely).abs() < 1.8,
            "{band:?}"
        );
        assert!(
            (band.high.as_minutes() - high * likely).abs() < 1.8,
            "{band:?}"
        );
    }
}

#[test]
fn the_surface_leads_and_both_rise() {
    let simulation = thaw(12.0, water("15 °C"));
    let [centre, surface] = [0, 1].map(|at| &simulation.curves[at].temp_degC);
    assert!(centre.iter().zip(surface).all(|(c, s)| c <= s));
    assert!(centre.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9));
}

#[test]
fn queries_refuse_what_is_no_way_to_thaw() {
    for surroundings in [
        Surroundings::Room {
            temperature: degrees("20 °C"),
        },
        Surroundings::Oven {
            temperature: degrees("100 °C"),
            fan: false,
        },
        Surroundings::IceBath,
    ] {
        let error = simulate_thaw(&query(12.0, surroundings)).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::UnknownValue);
        assert_eq!(error.field(), "surroundings.kind");
    }
    for (temperature, fine) in [
        ("0.999 °C", false),
        ("1 °C", true),
        ("1.001 °C", true),
        ("20.999 °C", true),
        ("21 °C", true),
        ("21.001 °C", false),
    ] {
        let result = simulate_thaw(&query(4.0, water(temperature)));
        assert_eq!(result.is_ok(), fine, "{temperature}");
    }
    let mut warm = query(12.0, water("10 °C"));
    for (start, fine) in [("-3.001 °C", true), ("-3 °C", true), ("-2.999 °C", false)] {
        warm.start = degrees(start);
        assert_eq!(simulate_thaw(&warm).is_ok(), fine, "{start}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Warmer surroundings are never slower, and a heavier bird never faster.
    #[test]
    fn order_is_kept(pounds in 4.0..20.0_f64, more in 0.5..4.0_f64, celsius in 2.0..15.0_f64, warmer in 0.5..6.0_f64) {
        let around = |celsius: f64| Surroundings::Water {
            temperature: Temperature::from_celsius(celsius).unwrap(),
            running: false,
        };
        let base = thaw(pounds, around(celsius)).thawed;
        prop_assert!(base.low < base.likely && base.likely < base.high);
        prop_assert!(thaw(pounds, around(celsius + warmer)).thawed.likely <= base.likely);
        prop_assert!(thaw(pounds + more, around(celsius)).thawed.likely >= base.likely);
    }
}
