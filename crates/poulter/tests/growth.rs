//! Growth through the public door: cooling profiles worked out beside it in Python, and what must always hold.

use poulter::growth::{CardinalRate, GrowthModel, GrowthRequest, Lag, SquareRootRate};
use poulter::lethality::LethalityRequest;
use poulter::log::{LogChecks, LogColumns, Place, TemperatureLog};
use poulter::units::{Duration, Temperature, TemperatureUnit};
use poulter::{ErrorKind, lethality::Lethality};
use proptest::prelude::*;

fn patient() -> LogChecks {
    LogChecks {
        longest_gap: Duration::parse("24 h").unwrap(),
        flat_line: Duration::parse("48 h").unwrap(),
        ..LogChecks::default()
    }
}

fn log_of(points: &[(f64, f64)]) -> TemperatureLog {
    let mut log = TemperatureLog::new(&[(Place::CORE, TemperatureUnit::Celsius)]).unwrap();
    for &(hours, celsius) in points {
        let reading = Temperature::from_celsius(celsius).unwrap();
        log.push(Duration::from_hours(hours).unwrap(), &[Some(reading)])
            .unwrap();
    }
    log
}

fn growth(model: GrowthModel, lag: Option<Lag>, points: &[(f64, f64)]) -> (f64, Option<f64>) {
    let log = log_of(points);
    let answer = GrowthRequest { model, lag }
        .assess(&log.sound(&patient()).unwrap())
        .unwrap();
    assert!(answer.is_experimental);
    let place = &answer.places[0];
    (
        place.without_lag.as_log10(),
        place.with_lag.map(poulter::growth::LogGrowth::as_log10),
    )
}

const CHICKEN: GrowthModel = GrowthModel::PerfringensRoastedChicken;

#[test]
fn cooling_profiles_agree_with_an_equation_solver() {
    // M and log10 growth from SciPy 1.17 (solve_ivp and quad) with the published parameters; start 2, ceiling 8.5.
    // The profile of the cooked turkey trials: 48.9 to 26.7 degC in the time given, to 12.8 in 5 h, to 4.4 in 5 h.
    for (first_h, m, growths) in [
        (1.0, 8.05, [(0.0, 3.50), (3.0, 2.20), (6.0, 0.94)]),
        (1.5, 10.17, [(0.0, 4.41), (3.0, 3.11), (6.0, 1.82)]),
        (2.0, 12.28, [(0.0, 5.30), (3.0, 4.03), (6.0, 2.73)]),
        (3.0, 16.51, [(0.0, 6.42), (3.0, 5.78), (6.0, 4.56)]),
    ] {
        let points = [
            (0.0, 48.9),
            (first_h, 26.7),
            (first_h + 5.0, 12.8),
            (first_h + 10.0, 4.4),
        ];
        for (h0, expected) in growths {
            let lag = Lag {
                h0,
                start_log10: 2.0,
                ceiling_log10: 8.5,
            };
            let (without, with) = growth(CHICKEN, Some(lag), &points);
            // The table is printed to a hundredth.
            assert!(
                (without * std::f64::consts::LN_10 - m).abs() < 0.0051,
                "{first_h} h"
            );
            assert!(
                (with.unwrap() - expected).abs() < 0.0051,
                "{first_h} h, h0 {h0}"
            );
        }
    }
}

#[test]
fn the_bound_without_lag_is_never_below_the_figure_with_lag() {
    let points = [(0.0, 54.0), (4.0, 30.0), (9.0, 5.0)];
    let mut last = f64::INFINITY;
    for h0 in [0.0, 1.0, 3.0, 6.0, 10.0] {
        let lag = Lag {
            h0,
            start_log10: 2.0,
            ceiling_log10: 8.5,
        };
        let (without, with) = growth(CHICKEN, Some(lag), &points);
        let with = with.unwrap();
        assert!(with <= without && with < last);
        last = with;
    }
}

#[test]
fn the_place_with_the_most_growth_decides() {
    let text =
        "elapsed_h,breast_temp_degC,thigh_temp_degC,oven_temp_degC\n0,20,40,40\n2,20,40,40\n";
    let log = TemperatureLog::from_csv(text).unwrap();
    let answer = GrowthRequest::new(CHICKEN)
        .assess(&log.sound(&patient()).unwrap())
        .unwrap();
    assert_eq!(answer.governing, Place::THIGH);
    assert_eq!(answer.places.len(), 2);
}

#[test]
fn models_of_the_callers_are_worked_out_and_checked() {
    let lowest = Temperature::parse("5 °C").unwrap();
    let square = |root_rate_per_kelvin| {
        GrowthModel::SquareRoot(SquareRootRate {
            lowest,
            root_rate_per_kelvin,
        })
    };
    // 0.035² · 3 · 15³ / 60 natural logarithms, by hand.
    let (log10, _) = growth(square(0.035), None, &[(0.0, 0.0), (3.0, 20.0)]);
    assert!((log10 * std::f64::consts::LN_10 - 0.206_718_75).abs() < 1e-12);
    let log = log_of(&[(0.0, 0.0), (3.0, 20.0)]);
    let sound = log.sound(&patient()).unwrap();
    for (rate, fine) in [
        (0.0, false),
        (1e-6, true),
        (1.0, true),
        (1.001, false),
        (f64::NAN, false),
    ] {
        let answer = GrowthRequest::new(square(rate)).assess(&sound);
        assert_eq!(answer.is_ok(), fine, "{rate}");
        if let Err(error) = answer {
            assert_eq!(error.kind(), ErrorKind::OutOfRange);
            assert_eq!(error.field(), "model.root_rate_per_kelvin");
        }
    }
    let text = r#"{"model":{"model":"cardinal","lowest":"8.8 °C","best":"46.4 °C","highest":"51.5 °C",
                   "best_rate_per_h":6.06},"lag":null}"#;
    let own: GrowthRequest = serde_json::from_str(text).unwrap();
    let points = [(0.0, 30.0), (1.0, 30.0)];
    assert_eq!(
        growth(own.model, None, &points),
        growth(CHICKEN, None, &points)
    );
    assert!(
        (growth(own.model, None, &points).0 * std::f64::consts::LN_10 - 2.429_157_286).abs() < 1e-9
    );
    assert!(matches!(
        own.model,
        GrowthModel::Cardinal(CardinalRate { .. })
    ));
}

#[test]
fn what_comes_in_refuses_unknown_fields_and_has_a_schema() {
    for schema in [
        schemars::schema_for!(LogColumns),
        schemars::schema_for!(LogChecks),
        schemars::schema_for!(LethalityRequest),
        schemars::schema_for!(GrowthRequest),
    ] {
        assert_eq!(
            schema.get("additionalProperties"),
            Some(&serde_json::Value::Bool(false))
        );
    }
    assert!(schemars::schema_for!(Lethality).get("properties").is_some());
    assert!(serde_json::from_str::<GrowthRequest>(r#"{"model":{"model":"salmonella"}}"#).is_err());
    let extra = r#"{"elapsed_s":[],"places":[],"x":1}"#;
    assert!(serde_json::from_str::<LogColumns>(extra).is_err());
}

proptest! {
    #[test]
    fn longer_is_never_less_growth_and_a_split_changes_nothing(
        rows in proptest::collection::vec((3_u32..60, 0_i32..30_000), 2..40),
    ) {
        let mut now = 0;
        let points: Vec<(f64, f64)> = rows
            .iter()
            .map(|&(minutes, half)| {
                now += 2 * minutes;
                (f64::from(now) / 60.0, f64::from(2 * half) / 1e3)
            })
            .collect();
        let (whole, _) = growth(CHICKEN, None, &points);
        let mut split = vec![points[0]];
        for pair in points.windows(2) {
            let middle = (f64::midpoint(pair[0].0, pair[1].0), f64::midpoint(pair[0].1, pair[1].1));
            split.extend([middle, pair[1]]);
        }
        let (halves, _) = growth(CHICKEN, None, &split);
        // Eight points on a whole segment against eight on each half.
        prop_assert!((whole - halves).abs() <= 2e-6 * whole.max(1e-3), "{whole} {halves}");
        if points.len() > 2 {
            let (less, _) = growth(CHICKEN, None, &points[..points.len() - 1]);
            prop_assert!(whole >= less);
        }
    }
}
