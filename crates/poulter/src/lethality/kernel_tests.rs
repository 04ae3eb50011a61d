//! The kernels against plain sums, libm and each other.

use super::super::tables::{CHICKEN_12_FAT, MEAT, TURKEY_12_FAT};
use super::*;
use crate::log::{
    ClearColumn, ColumnSlice, ElapsedSlice, LogChecks, Place, TemperatureLog, spans_of,
};
use crate::units::{Duration, TemperatureDifference, TemperatureUnit};

/// Steps of degrees Celsius.
fn c(celsius: f64) -> f64 {
    ((celsius + 273.15) * 9e3).round()
}

/// The longer-of-both list at 12 % fat with the nineteen rows of an incomplete copy; a missing row is the
/// geometric mean of its neighbours, which leaves the curve between them as it was.
#[allow(clippy::cast_possible_truncation)] // whole numbers below 2⁵³
fn nineteen_rows() -> Curve {
    let mut holds: Vec<i64> = [
        81.4, 65.5, 52.9, 43.0, 35.0, 28.7, 23.7, 19.8, 16.6, 13.8, 11.5, 0.0, 7.7, 0.0, 4.9, 0.0,
        2.8, 0.0, 1.6, 0.0, 1.0, 0.0,
    ]
    .iter()
    .map(|minutes: &f64| (minutes * 60e3).round() as i64)
    .collect();
    holds.extend([40_900, 0, 26_900, 0, 17_700]);
    // A thousand times longer, so that the filled rows lose nothing by being whole numbers.
    let mut holds: Vec<i64> = holds.iter().map(|hold| hold * 1_000_000).collect();
    for row in 1..holds.len() - 1 {
        if holds[row] == 0 {
            holds[row] = (holds[row - 1] as f64 * holds[row + 1] as f64)
                .sqrt()
                .round() as i64;
        }
    }
    Curve::Table(Box::new(TableCurve::new(136, &holds, 7e6)))
}

fn sums(curve: &Curve, clock: &[f64], steps: &[f64], target: f64) -> Integral {
    let spans = spans_of(clock, steps);
    integrate(curve, Trace::snapped(clock, steps, &spans), 0.0, target)
}

fn kill(curve: &Curve, clock: &[f64], steps: &[f64]) -> f64 {
    sums(curve, clock, steps, 7.0).exact
}

#[test]
fn a_ramp_through_the_table_agrees_with_adaptive_quadrature() {
    // 60 to 70 degC in 10 min; mpmath 1.3 quad, 30 digits, split at the rows.
    let (clock, steps) = ([0.0, 600_000.0], [c(60.0), c(70.0)]);
    let curves = [
        Curve::Table(Box::new(TableCurve::of(&MEAT))),
        Curve::Table(Box::new(TableCurve::of(&TURKEY_12_FAT))),
        nineteen_rows(),
    ];
    let quadrature = [
        82.903_756_352_273_77,
        24.698_457_165_218_86,
        24.876_225_436_523_5,
    ];
    for (curve, expected) in curves.iter().zip(quadrature) {
        let ours = kill(curve, &clock, &steps);
        assert!((ours / expected - 1.0).abs() < 1e-9, "{ours}");
    }
}

#[test]
fn holds_over_floor_rows_and_cap() {
    // Ten minutes each: 7 log10 times 10 min over the printed hold, by hand; nothing below 136 degF.
    for (celsius, expected) in [
        (57.0, 0.0),
        (57.778, 0.86),
        (60.0, 2.0),
        (62.778, 5.0725),
        (65.556, 14.2857),
        (70.0, 102.69),
        (80.0, 237.288),
    ] {
        let ours = kill(
            &nineteen_rows(),
            &[0.0, 600_000.0],
            &[c(celsius), c(celsius)],
        );
        // 57.778 degC lies 0.0002 degC above the row, and the printed figures carry six digits.
        assert!(
            (ours - expected).abs() < 3e-4 * expected.max(1.0),
            "{celsius}: {ours}"
        );
    }
}

#[test]
fn the_floor_is_tested_under_at_and_over() {
    let chicken = Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT)));
    let row = 5.0 * (136_000.0 + 459_670.0);
    let held = |x: f64| kill(&chicken, &[0.0, 4_884_000.0], &[x, x]);
    assert_eq!(held(row - 1.0), 0.0);
    assert!((held(row) - 7.0).abs() < 1e-12);
    assert!(held(row + 1.0) > 7.0);
    let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
    let held = |x: f64| kill(&line, &[0.0, 120_000.0], &[x, x]);
    assert_eq!(held(c(60.0) - 1.0), 0.0);
    assert!(held(c(60.0)) > 0.0 && held(c(60.0) + 1.0) > held(c(60.0)));
    assert!(held(c(80.0) - 1.0) < held(c(80.0)));
    assert_eq!(held(c(80.0)), held(c(80.0) + 1.0));
}

#[test]
fn a_first_order_ramp_is_exact_and_the_mean_of_ends_is_not() {
    // F = 3.1060223829 min by the analytic integral, 5.2321 min by the mean of the end rates; D is 20 s.
    let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
    let (clock, steps) = ([0.0, 600_000.0], [c(60.0), c(70.0)]);
    let sum = sums(&line, &clock, &steps, 6.0);
    assert!((sum.exact / 3.0 - 3.106_022_382_9).abs() < 1e-9);
    assert!((sum.trapezoid / 3.0 - 5.2321).abs() < 1e-4);
}

/// A log that crosses floor, rows and cap, long enough for several blocks and a short one.
fn roast() -> (Vec<f64>, Vec<f64>) {
    let clock: Vec<f64> = (0..1000).map(|i| f64::from(i) * 7_000.0).collect();
    let steps = clock
        .iter()
        .map(|t| c(85.0 - 80.0 * crate::math::exp(-t / 2.4e6)))
        .collect();
    (clock, steps)
}

#[test]
fn every_instruction_set_gives_the_same_bits() {
    let (clock, steps) = roast();
    let spans = spans_of(&clock, &steps);
    for curve in [
        Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
        Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0))),
        unbounded(5.6),
        // Runs are too wide for one exponential, and steps for the mean of two.
        unbounded(0.4),
    ] {
        let trace = Trace::snapped(&clock, &steps, &spans);
        let on = |arch: Arch| {
            let sum = Integrator::new(&curve, 7.0);
            Integrator { arch, ..sum }.over(trace, 4_500.0)
        };
        let plain = on(Arch::Scalar);
        let mut others = vec![integrate(&curve, trace, 4_500.0, 7.0)];
        #[cfg(target_arch = "x86_64")]
        {
            use pulp::x86::{V3, V4};
            others.extend(V3::try_new().map(|avx2| on(Arch::V3(avx2))));
            others.extend(V4::try_new().map(|avx512| on(Arch::V4(avx512))));
        }
        for other in others {
            assert_eq!(plain.exact.to_bits(), other.exact.to_bits());
            assert_eq!(plain.trapezoid.to_bits(), other.trapezoid.to_bits());
            assert_eq!(plain.strict.to_bits(), other.strict.to_bits());
            assert_eq!(plain.reached_ms, other.reached_ms);
        }
    }
}

/// z in kelvin, with neither floor nor cap.
fn unbounded(z: f64) -> Curve {
    let (floor, cap) = (f64::NEG_INFINITY, f64::INFINITY);
    Curve::FirstOrder(FirstOrder::new(180e3, z, c(60.0), floor, cap))
}

#[test]
fn blocks_agree_with_one_segment_after_another() {
    let (clock, steps) = roast();
    for curve in [
        Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
        Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0))),
        unbounded(5.6),
        unbounded(0.4),
    ] {
        let one_by_one: f64 = clock
            .windows(2)
            .zip(steps.windows(2))
            .map(|(t, x)| curve.segment((t[0], t[1]), (x[0], x[1])))
            .sum();
        let ours = kill(&curve, &clock, &steps);
        assert!((ours / one_by_one - 1.0).abs() < 1e-13);
    }
}

#[test]
fn every_form_of_a_block_holds_up_to_its_limit_and_past_it() {
    // Readings a millionth under, at and over where one exponential for a run gives way to one a reading, the short
    // mean factor to the long one, and that one to segments by themselves.
    let z = 5.0;
    let slope = std::f64::consts::LN_10 / (z * 9e3);
    let clock: Vec<f64> = (0..=BLOCK).map(|i| i as f64 * 1e3).collect();
    for limit in [2.0 * NEAR, 2.0 * TINY_H, 2.0 * SMALL_H] {
        for share in [1.0 - 1e-6, 1.0, 1.0 + 1e-6] {
            let width = limit * share / slope;
            let steps: Vec<f64> = (0..=BLOCK)
                .map(|i| c(60.0) + width * (i % 2) as f64)
                .collect();
            for curve in [unbounded(z), Curve::Table(Box::new(TableCurve::of(&MEAT)))] {
                let segments = clock.windows(2).zip(steps.windows(2));
                let one_by_one: f64 = segments
                    .map(|(t, x)| curve.segment((t[0], t[1]), (x[0], x[1])))
                    .sum();
                let ours = kill(&curve, &clock, &steps);
                assert!((ours / one_by_one - 1.0).abs() < 1e-13, "{limit} {share}");
            }
        }
    }
}

#[test]
fn the_staircase_is_the_rate_of_the_row_below() {
    let stairs = |clock: &[f64], degf: &[f64]| {
        let log = TemperatureLog::from_slices(
            ElapsedSlice { elapsed_s: clock },
            &[ColumnSlice {
                place: Place::CORE,
                unit: TemperatureUnit::Fahrenheit,
                temperatures: degf,
            }],
        );
        let checks = LogChecks {
            longest_gap: Duration::parse("1 h").unwrap(),
            flat_line: Duration::parse("1 h").unwrap(),
            ..LogChecks::default()
        };
        let log = log.unwrap();
        let sound = log.sound(&checks).unwrap();
        let (_, trace) = sound.inside().next().unwrap();
        let chicken = Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT)));
        integrate(&chicken, trace, 0.0, 7.0).strict
    };
    // 140.5 degF held 35 min is the 140 degF row held 35 min.
    let strict = stairs(&[0.0, 2100.0], &[140.5, 140.5]);
    assert!((strict - 7.0).abs() < 1e-12);
    // 139.5 to 140.5 degF: half the time at each row, 43.0 and 35.0 min.
    let strict = stairs(&[0.0, 2100.0], &[139.5, 140.5]);
    assert!((strict - 7.0 * (17.5 / 43.0 + 17.5 / 35.0)).abs() < 1e-12);
    // The first row is 136 degF.
    assert_eq!(stairs(&[0.0, 1000.0], &[40.0, 135.999]), 0.0);
    // A row of 0.1 s a reading: 21 s at 140 degF after two hundred cold readings, with a step of a reading each way.
    let seconds: Vec<f64> = (0..600).map(|i| f64::from(i) * 0.1).collect();
    let hot = |i: &u32| (200..=410).contains(i);
    let degf: Vec<f64> = (0..600)
        .map(|i| if hot(&i) { 140.0 } else { 139.0 })
        .collect();
    let expected = 7.0 * (21.0 / 35.0 + 38.9 / 43.0) / 60.0;
    assert!((stairs(&seconds, &degf) - expected).abs() < 1e-12);
}

#[test]
fn the_target_is_reached_in_the_first_millisecond_that_has_it() {
    // Steep and level segments, each asked for shares of what it collects.
    for curve in [
        Curve::Table(Box::new(TableCurve::of(&MEAT))),
        unbounded(1.0),
        unbounded(5.6),
    ] {
        for (lasted, from, to) in [
            (1.0, 60.0, 61.0),
            (2.0, 60.0, 61.0),
            (1_000.0, 62.0, 62.1),
            (600_000.0, 50.0, 75.0),
            (600_000.0, 75.0, 50.0),
            (3_600_000.0, 65.0, 65.0),
        ] {
            let (t, x) = ((500.0, 500.0 + lasted), (c(from), c(to)));
            let slope = (x.1 - x.0) / lasted;
            let by = |ms: f64| curve.segment((t.0, ms), (x.0, x.0 + slope * (ms - t.0)));
            let all = curve.segment(t, x);
            for share in [0.0, 1e-9, 0.1, 0.5, 0.999, 1.0] {
                let wanted = all * share;
                let ms = whole_ms(&curve, t, x, wanted, all);
                assert!(ms > t.0 && ms <= t.1 && ms.fract() == 0.0);
                assert!(ms == t.1 || by(ms) >= wanted, "{lasted} {share}");
                assert!(ms - 1.0 <= t.0 || by(ms - 1.0) < wanted, "{lasted} {share}");
            }
        }
    }
}

#[test]
fn the_search_for_the_millisecond_ends_whatever_the_times() {
    let curve = unbounded(5.6);
    for late in [f64::INFINITY, 1e300, 1e17, f64::NAN, -1e300] {
        let ms = whole_ms(&curve, (0.0, late), (c(60.0), c(61.0)), 7.0, f64::INFINITY);
        assert!(ms.is_nan() || ms <= late.max(0.0), "{late}");
    }
}

#[test]
fn too_few_readings_give_no_kill() {
    let line = Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0)));
    assert_eq!(kill(&line, &[], &[]), 0.0);
    assert_eq!(kill(&line, &[0.0], &[c(70.0)]), 0.0);
}

/// From 4 to 90 °C and back in `rows` readings, slowly enough for runs that lie wholly below, between and above.
fn there_and_back(rows: u32) -> (Vec<f64>, Vec<f64>) {
    (0..rows)
        .map(|i| {
            let way = f64::from(i) / f64::from(rows - 1);
            let ripple = f64::from(i % 7) * 0.01;
            (
                f64::from(i) * 10.0,
                90.0 - 86.0 * (2.0 * way - 1.0) * (2.0 * way - 1.0) + ripple,
            )
        })
        .unzip()
}

#[test]
fn columns_where_they_lie_give_the_bits_of_a_log() {
    let curves = [
        Curve::Table(Box::new(TableCurve::of(&CHICKEN_12_FAT))),
        Curve::Table(Box::new(TableCurve::of(&MEAT))),
        Curve::FirstOrder(FirstOrder::new(20e3, 7.5, c(70.0), c(60.0), c(80.0))),
        unbounded(5.6),
    ];
    let checks = LogChecks {
        steepest_per_second: TemperatureDifference::parse("100 K").unwrap(),
        coarse_step: TemperatureDifference::parse("100 K").unwrap(),
        ..LogChecks::default()
    };
    // Runs have 64 segments, and two of them are snapped together.
    for rows in [
        200, 256, 257, 258, 1000, 1024, 1025, 1026, 2048, 2049, 2050, 5000,
    ] {
        let (times, temps) = there_and_back(rows);
        let clock = ElapsedSlice { elapsed_s: &times };
        let column = ColumnSlice {
            place: Place::CORE,
            unit: TemperatureUnit::Celsius,
            temperatures: &temps,
        };
        let log = TemperatureLog::from_slices(clock, std::slice::from_ref(&column)).unwrap();
        let sound = log.sound(&checks).unwrap();
        let (_, trace) = sound.inside().next().unwrap();
        for curve in &curves {
            let mut sum = Integrator::new(curve, 7.0);
            let clear = ClearColumn::of(clock, &column, &checks, &mut sum).unwrap();
            let logged = integrate(curve, trace, 0.0, 7.0);
            let read_again = integrate(curve, clear.trace(), 0.0, 7.0);
            for raw in [sum.answer(), read_again] {
                assert_eq!(
                    raw.exact.to_bits(),
                    logged.exact.to_bits(),
                    "{rows} {curve:?}"
                );
                assert_eq!(
                    raw.trapezoid.to_bits(),
                    logged.trapezoid.to_bits(),
                    "{rows}"
                );
                assert_eq!(raw.strict.to_bits(), logged.strict.to_bits(), "{rows}");
                assert_eq!(raw.reached_ms, logged.reached_ms, "{rows}");
            }
            let lowered = integrate(curve, trace, 4_500.0, 7.0);
            let again = integrate(curve, clear.trace(), 4_500.0, 7.0);
            assert_eq!(again.exact.to_bits(), lowered.exact.to_bits(), "{rows}");
            assert!(lowered.exact < logged.exact);
        }
    }
}
