//! Lethality through the public door: published tables, the UK list, and what must always hold.

use poulter::ErrorKind;
use poulter::lethality::{
    DecimalReduction, DwellOutcome, KillColumns, LethalityRequest, LogBatch, LogReduction, Scheme,
};
use poulter::log::{LogChecks, Place, TemperatureLog};
use poulter::units::{Duration, Temperature, TemperatureDifference, TemperatureUnit};
use proptest::prelude::*;

/// Rows of the FSIS 12 % fat columns (Revised Appendix A, December 2021), copied here a second time on purpose.
const CHICKEN: &[(u32, &str)] = &[
    (136, "81.4 min"),
    (137, "65.5 min"),
    (138, "52.9 min"),
    (139, "43 min"),
    (140, "35 min"),
    (141, "28.7 min"),
    (142, "23.5 min"),
    (143, "19.3 min"),
    (144, "15.9 min"),
    (145, "13 min"),
    (146, "10.6 min"),
    (147, "8.6 min"),
    (148, "6.8 min"),
    (149, "5.4 min"),
    (150, "4.2 min"),
    (151, "3.1 min"),
    (152, "2.3 min"),
    (153, "1.6 min"),
    (154, "1.1 min"),
    (155, "54.4 s"),
    (156, "43 s"),
    (157, "34 s"),
    (158, "26.9 s"),
    (159, "21.3 s"),
    (160, "16.9 s"),
    (161, "13.3 s"),
    (162, "10.5 s"),
];
const TURKEY: &[(u32, &str)] = &[
    (136, "70.8 min"),
    (137, "58.5 min"),
    (138, "48.5 min"),
    (139, "40.4 min"),
    (140, "33.7 min"),
    (141, "28.2 min"),
    (142, "23.7 min"),
    (143, "19.8 min"),
    (144, "16.6 min"),
    (145, "13.8 min"),
    (146, "11.5 min"),
    (147, "9.4 min"),
    (148, "7.7 min"),
    (149, "6.2 min"),
    (150, "4.9 min"),
    (151, "3.8 min"),
    (152, "2.8 min"),
    (153, "2.1 min"),
    (154, "1.6 min"),
    (155, "1.3 min"),
    (156, "1 min"),
    (157, "50.4 s"),
    (158, "40.9 s"),
    (159, "33.2 s"),
    (160, "26.9 s"),
    (161, "21.9 s"),
    (162, "17.7 s"),
    (163, "14.4 s"),
    (164, "11.7 s"),
];
/// FDA Food Code 2009, 3-401.11(B)(2), the same numbers as the FSIS guidance to 9 CFR 318.17.
const MEAT: &[(u32, &str)] = &[
    (130, "112 min"),
    (131, "89 min"),
    (132, "71 min"),
    (133, "56 min"),
    (134, "45 min"),
    (135, "36 min"),
    (136, "28 min"),
    (137, "23 min"),
    (138, "18 min"),
    (139, "15 min"),
    (140, "12 min"),
    (141, "9 min"),
    (142, "8 min"),
    (143, "6 min"),
    (144, "5 min"),
    (145, "4 min"),
    (146, "169 s"),
    (147, "134 s"),
    (148, "107 s"),
    (149, "85 s"),
    (150, "67 s"),
    (151, "54 s"),
    (152, "43 s"),
    (153, "34 s"),
    (154, "27 s"),
    (155, "22 s"),
    (156, "17 s"),
    (157, "14 s"),
];

fn patient() -> LogChecks {
    LogChecks {
        longest_gap: Duration::parse("24 h").unwrap(),
        flat_line: Duration::parse("48 h").unwrap(),
        ..LogChecks::default()
    }
}

fn held(fahrenheit: f64, hold: Duration) -> TemperatureLog {
    let mut log = TemperatureLog::new(&[(Place::BREAST, TemperatureUnit::Fahrenheit)]).unwrap();
    let reading = [Some(Temperature::from_fahrenheit(fahrenheit).unwrap())];
    log.push(Duration::ZERO, &reading).unwrap();
    log.push(hold, &reading).unwrap();
    log
}

#[test]
fn every_row_held_for_its_time_gives_its_target_under_at_and_over() {
    for (scheme, rows, target) in [
        (Scheme::Poultry7LogChicken, CHICKEN, 7.0),
        (Scheme::Poultry7LogTurkey, TURKEY, 7.0),
        (Scheme::Meat65Log, MEAT, 6.5),
    ] {
        let request = LethalityRequest::new(scheme);
        for &(fahrenheit, hold) in rows {
            let hold = Duration::parse(hold).unwrap();
            let millisecond = Duration::from_seconds(0.001).unwrap();
            for (time, met) in [
                (hold.minus(millisecond), false),
                (hold, true),
                (hold.plus(millisecond), true),
            ] {
                let log = held(f64::from(fahrenheit), time);
                let answer = request.assess(&log.sound(&patient()).unwrap()).unwrap();
                let place = &answer.places[0];
                assert_eq!(
                    place.target_reached.is_some(),
                    met,
                    "{fahrenheit} °F, {time}"
                );
                assert_eq!(matches!(place.dwell, DwellOutcome::Met { .. }), met);
                if time == hold {
                    assert!((place.estimate.as_log10() - target).abs() < 1e-12);
                    assert!((place.strict.as_log10() - target).abs() < 1e-12);
                    assert_eq!(place.target_reached, Some(hold));
                }
            }
            // A thousandth of a degree below its row, no row is met.
            let log = held(f64::from(fahrenheit) - 0.001, hold);
            let answer = request.assess(&log.sound(&patient()).unwrap()).unwrap();
            assert!(matches!(
                answer.places[0].dwell,
                DwellOutcome::NotMet { .. }
            ));
        }
    }
}

#[test]
fn an_instant_row_is_met_by_a_touch_and_gives_no_endless_kill() {
    for (scheme, instant) in [
        (Scheme::Poultry7LogChicken, 163.0),
        (Scheme::Poultry7LogTurkey, 165.0),
        (Scheme::Poultry7Log, 165.0),
        (Scheme::Meat65Log, 158.0),
    ] {
        let touch = |peak: f64| {
            let text = format!(
                "elapsed_s,core_temp_degF\n0,{}\n1,{peak}\n2,{}\n",
                peak - 20.0,
                peak - 20.0
            );
            let log = TemperatureLog::from_csv(&text).unwrap();
            let answer = LethalityRequest::new(scheme)
                .assess(&log.sound(&patient()).unwrap())
                .unwrap();
            let place = &answer.places[0];
            assert!(place.estimate.as_log10() < 1.0);
            matches!(place.dwell, DwellOutcome::Met { .. })
        };
        assert!(!touch(instant - 0.001) && touch(instant) && touch(instant + 0.001));
    }
}

#[test]
fn above_the_last_row_the_rate_stops_rising() {
    // Turkey, 164 °F: 11.7 s. Ten minutes at 80 °C count as ten minutes at 164 °F: 7 · 600/11.7.
    let columns = KillColumns {
        elapsed_s: &[0.0, 600.0],
        temp_degC: &[80.0, 80.0],
    };
    let kill = Scheme::Poultry7Log.kill_of(columns).unwrap().as_log10();
    assert!((kill - 7.0 * 600.0 / 11.7).abs() < 1e-9);
}

#[test]
fn the_uk_list_is_not_below_its_own_line() {
    // Food Standards Agency list; z 7.5 °C asks for 43.09 min, 9.283 min, 2 min, 25.85 s, 5.57 s.
    for (celsius, hold, line) in [
        (60.0, "45 min", 2585.2),
        (65.0, "10 min", 557.0),
        (70.0, "2 min", 120.0),
        (75.0, "30 s", 25.85),
        (80.0, "6 s", 5.57),
    ] {
        let seconds = Duration::parse(hold).unwrap().as_seconds();
        let columns = KillColumns {
            elapsed_s: &[0.0, seconds],
            temp_degC: &[celsius, celsius],
        };
        let kill = Scheme::Uk702.kill_of(columns).unwrap().as_log10();
        assert!(kill >= 6.0 - 1e-11, "{celsius}");
        assert!(
            (6.0 * seconds / kill / line - 1.0).abs() < 1e-3,
            "{celsius}"
        );
    }
}

#[test]
fn the_lowest_place_decides() {
    let text = "elapsed_min,breast_temp_degF,thigh_temp_degF,oven_temp_degF\n0,160,150,325\n4,160,150,325\n";
    let log = TemperatureLog::from_csv(text).unwrap();
    let checks = LogChecks::default();
    let answer = LethalityRequest::new(Scheme::Poultry7Log)
        .assess(&log.sound(&checks).unwrap())
        .unwrap();
    assert_eq!(answer.governing, Place::THIGH);
    assert_eq!(answer.places.len(), 2);
    assert_eq!(answer.places[1].shown, "5.7 log10");
    let oven = log
        .sound_at(&[Place::named("oven").unwrap()], &checks)
        .unwrap()
        .unwrap();
    let refused = LethalityRequest::new(Scheme::Poultry7Log)
        .assess(&oven)
        .unwrap_err();
    assert_eq!(refused.kind(), ErrorKind::MissingField);
}

#[test]
fn sensor_uncertainty_is_taken_away_from_the_estimate_and_added_to_the_limit() {
    // FSIS: with ±1 °F a limit of 150 °F becomes 151 °F.
    let hold = Duration::parse("4.9 min").unwrap();
    let with = |fahrenheit: f64, uncertainty: &str| {
        let request = LethalityRequest {
            scheme: Scheme::Poultry7LogTurkey,
            sensor_uncertainty: TemperatureDifference::parse(uncertainty).unwrap(),
        };
        let log = held(fahrenheit, hold);
        request
            .assess(&log.sound(&patient()).unwrap())
            .unwrap()
            .places
            .remove(0)
    };
    for (fahrenheit, met) in [(150.999, false), (151.0, true), (151.001, true)] {
        let place = with(fahrenheit, "1 delta_degF");
        assert_eq!(
            matches!(place.dwell, DwellOutcome::Met { .. }),
            met,
            "{fahrenheit}"
        );
        assert_eq!(
            place.target_reached_less_uncertainty.is_some(),
            met,
            "{fahrenheit}"
        );
        assert!(place.target_reached.is_some());
    }
    let request = |uncertainty: &str| {
        let request = LethalityRequest {
            scheme: Scheme::Poultry7LogTurkey,
            sensor_uncertainty: TemperatureDifference::parse(uncertainty).unwrap(),
        };
        request
            .assess(&held(150.0, hold).sound(&patient()).unwrap())
            .is_ok()
    };
    assert!(!request("-0.001 K") && request("0 K") && request("0.001 K"));
    assert!(request("9.999 K") && request("10 K") && !request("10.001 K"));
}

#[test]
fn come_up_time_counts_from_50_to_130_degrees_until_the_target() {
    // 40 to 170 °F in 130 min, one degree a minute: 80 min in the band.
    let text = "elapsed_min,core_temp_degF\n0,40\n130,170\n200,170\n";
    let log = TemperatureLog::from_csv(text).unwrap();
    let answer = LethalityRequest::new(Scheme::Poultry7Log)
        .assess(&log.sound(&patient()).unwrap())
        .unwrap();
    assert_eq!(answer.places[0].come_up.as_minutes(), 80.0);
    // Cooling after the target is reached is not come-up.
    let cooled = format!("{text}300,40\n");
    let log = TemperatureLog::from_csv(&cooled).unwrap();
    let answer = LethalityRequest::new(Scheme::Poultry7Log)
        .assess(&log.sound(&patient()).unwrap())
        .unwrap();
    assert_eq!(answer.places[0].come_up.as_minutes(), 80.0);
}

#[test]
fn the_sampling_gap_is_the_excess_of_the_mean_of_ends() {
    // u·coth(u) − 1 with u = ln 10 · dT/(2z): 1 °C a step at z 10 °F is 1.4 %, 2 °C is 5.7 % (published analysis of
    // the trapezoid on an exponential).
    for (step, percent) in [(1.0, 1.4), (2.0, 5.7)] {
        let text = format!("elapsed_s,core_temp_degC\n0,60\n60,{}\n", 60.0 + step);
        let log = TemperatureLog::from_csv(&text).unwrap();
        let own = DecimalReduction {
            reference: Temperature::parse("60 °C").unwrap(),
            d_value: Duration::parse("1 min").unwrap(),
            z_value: TemperatureDifference::parse("10 delta_degF").unwrap(),
            target: LogReduction::from_log10(7.0).unwrap(),
            lowest: None,
            highest: None,
        };
        let request = LethalityRequest::new(Scheme::Own(own));
        let answer = request.assess(&log.sound(&patient()).unwrap()).unwrap();
        let gap = answer.places[0].sampling_gap.unwrap().as_percent();
        assert!((gap - percent).abs() < 0.05, "{gap}");
        assert_eq!(answer.places[0].dwell, DwellOutcome::NoRows);
    }
}

#[test]
fn columns_that_cannot_be_integrated_are_refused() {
    let kill = |elapsed_s: &[f64], temp: &[f64]| {
        Scheme::Poultry7Log
            .kill_of(KillColumns {
                elapsed_s,
                temp_degC: temp,
            })
            .map(|_| ())
    };
    assert!(kill(&[0.0, 1.0], &[60.0, 60.0]).is_ok());
    assert_eq!(
        kill(&[0.0], &[60.0, 60.0]).unwrap_err().kind(),
        ErrorKind::Conflict
    );
    for (times, temps) in [
        ([0.0, 0.0], [60.0, 60.0]),
        ([1.0, 0.0], [60.0, 60.0]),
        ([0.0, f64::NAN], [60.0, 60.0]),
        ([0.0, 1.0], [60.0, f64::NAN]),
        ([0.0, 1.0], [60.0, f64::INFINITY]),
        ([0.0, 1.0], [60.0, 601.0]),
    ] {
        assert_eq!(
            kill(&times, &temps).unwrap_err().kind(),
            ErrorKind::OutOfRange
        );
    }
}

#[test]
fn a_batch_agrees_with_its_logs_one_by_one() {
    let (mut offsets, mut times, mut temps) = (vec![0], Vec::new(), Vec::new());
    for log in 0..40_u32 {
        for row in 0..100_u32 {
            times.push(f64::from(row) * 10.0);
            let reading = 140.0 + f64::from(log) * 0.1 + f64::from(row) * 0.2;
            temps.push(if log == 7 && row == 50 {
                f64::NAN
            } else {
                reading
            });
        }
        offsets.push(times.len());
    }
    let request = LethalityRequest {
        scheme: Scheme::Poultry7Log,
        sensor_uncertainty: TemperatureDifference::parse("0.5 delta_degF").unwrap(),
    };
    let unit = TemperatureUnit::Fahrenheit;
    let batch = LogBatch {
        offsets: &offsets,
        elapsed_s: &times,
        temperatures: &temps,
        unit,
    };
    let answer = request.assess_batch(batch, &LogChecks::default()).unwrap();
    for (log, span) in offsets.windows(2).enumerate() {
        let span = span[0]..span[1];
        let mut one = TemperatureLog::new(&[(Place::CORE, unit)]).unwrap();
        for row in span {
            let reading = Temperature::from_fahrenheit(temps[row]).ok();
            one.push(Duration::from_seconds(times[row]).unwrap(), &[reading])
                .unwrap();
        }
        let checks = LogChecks::default();
        let Ok(sound) = one.sound(&checks) else {
            assert_eq!(log, 7);
            assert!(!answer.is_sound[log] && answer.estimate_log10[log].is_nan());
            assert!(answer.target_reached_s[log].is_nan());
            continue;
        };
        let place = request.assess(&sound).unwrap().places.remove(0);
        assert_eq!(place.estimate.as_log10(), answer.estimate_log10[log]);
        let less = place.estimate_less_uncertainty.as_log10();
        assert_eq!(less, answer.estimate_less_uncertainty_log10[log]);
        let reached = place
            .target_reached_less_uncertainty
            .map_or(-1.0, Duration::as_seconds);
        let batched = answer.target_reached_s[log];
        assert_eq!(if batched.is_nan() { -1.0 } else { batched }, reached);
    }
}

#[test]
fn offsets_that_do_not_fit_are_refused() {
    let unit = TemperatureUnit::Celsius;
    for (offsets, fine) in [
        (&[0_usize, 2][..], true),
        (&[0, 1], false),
        (&[0, 3], false),
        (&[2, 0, 2], false),
        (&[], true),
    ] {
        let batch = LogBatch {
            offsets,
            elapsed_s: &[0.0, 1.0],
            temperatures: &[60.0, 60.0],
            unit,
        };
        let answer =
            LethalityRequest::new(Scheme::Poultry7Log).assess_batch(batch, &LogChecks::default());
        assert_eq!(answer.is_ok(), fine, "{offsets:?}");
    }
}

fn any_scheme() -> impl Strategy<Value = Scheme> {
    prop_oneof![
        Just(Scheme::Poultry7LogChicken),
        Just(Scheme::Poultry7LogTurkey),
        Just(Scheme::Poultry7Log),
        Just(Scheme::Meat65Log),
        Just(Scheme::Uk702),
        (3_000_i32..30_000, 50_000_i32..75_000).prop_map(|(z, reference)| {
            let reference = Temperature::from_celsius(f64::from(reference) / 1e3).unwrap();
            Scheme::Own(DecimalReduction {
                reference,
                d_value: Duration::parse("1 min").unwrap(),
                z_value: TemperatureDifference::from_kelvin(f64::from(z) / 1e3).unwrap(),
                target: LogReduction::from_log10(7.0).unwrap(),
                lowest: None,
                highest: None,
            })
        }),
    ]
}

/// Even thousandths of a degree and even seconds, so that every middle is a whole number.
fn any_log() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
    proptest::collection::vec((1_i32..200, 20_000_i32..45_000), 2..150).prop_map(|rows| {
        let mut now = 0;
        rows.iter()
            .map(|&(step, half)| {
                now += 2 * step;
                (f64::from(now), f64::from(2 * half) / 1e3)
            })
            .unzip()
    })
}

fn kill(scheme: Scheme, times: &[f64], temps: &[f64]) -> f64 {
    let columns = KillColumns {
        elapsed_s: times,
        temp_degC: temps,
    };
    scheme.kill_of(columns).unwrap().as_log10()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()) + 1e-12
}

proptest! {
    #[test]
    fn hotter_is_never_less_kill(scheme in any_scheme(), (times, temps) in any_log(), rise in 0_i32..5000) {
        let hotter: Vec<f64> = temps.iter().map(|t| t + f64::from(rise) / 1e3).collect();
        let (cool, hot) = (kill(scheme, &times, &temps), kill(scheme, &times, &hotter));
        prop_assert!(hot >= cool * (1.0 - 1e-9), "{cool} {hot}");
    }

    #[test]
    fn longer_is_never_less_kill(scheme in any_scheme(), (times, temps) in any_log()) {
        let cut = times.len() - 1;
        let (short, long) = (kill(scheme, &times[..cut], &temps[..cut]), kill(scheme, &times, &temps));
        prop_assert!(long >= short * (1.0 - 1e-12));
    }

    #[test]
    fn splitting_a_segment_changes_nothing(scheme in any_scheme(), (times, temps) in any_log()) {
        let (mut t, mut x) = (vec![times[0]], vec![temps[0]]);
        for row in 1..times.len() {
            t.extend([f64::midpoint(times[row - 1], times[row]), times[row]]);
            x.extend([f64::midpoint(temps[row - 1], temps[row]), temps[row]]);
        }
        let (whole, split) = (kill(scheme, &times, &temps), kill(scheme, &t, &x));
        prop_assert!(near(whole, split), "{whole} {split}");
    }

    #[test]
    fn a_log_run_backwards_kills_as_much(scheme in any_scheme(), (times, temps) in any_log()) {
        let end = times[times.len() - 1];
        let t: Vec<f64> = times.iter().rev().map(|t| end - t).collect();
        let x: Vec<f64> = temps.iter().rev().copied().collect();
        let (forth, back) = (kill(scheme, &times, &temps), kill(scheme, &t, &x));
        prop_assert!(near(forth, back), "{forth} {back}");
    }

    #[test]
    fn the_longer_time_of_both_species_asks_for_at_least_as_much((times, temps) in any_log()) {
        let both = kill(Scheme::Poultry7Log, &times, &temps);
        // The chicken column stops at 162 °F with its own last rate, the longer list goes on to 164 °F.
        prop_assert!(both <= kill(Scheme::Poultry7LogTurkey, &times, &temps) * (1.0 + 1e-9));
    }
}
