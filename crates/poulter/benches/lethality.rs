//! Nanoseconds a sample of the lethality integrals: `cargo bench -p poulter --bench lethality`.
//!
//! Each figure is the best of two hundred runs. The plain loops beside them are the baseline of the same run.

use std::hint::black_box;
use std::time::Instant;

use poulter::batch::{LogRows, LogTable, LogsQuestion, TableReadings};
use poulter::lethality::{
    DecimalReduction, KillColumns, LethalityRequest, LogBatch, LogReduction, Scheme,
};
use poulter::log::{ColumnSlice, ElapsedSlice, LogChecks, Place, TemperatureLog};
use poulter::units::{Duration, Temperature, TemperatureDifference, TemperatureUnit};

const LONG: usize = 20_000;
const LOGS: usize = 400;
const ROWS: usize = 1_000;

fn best<T>(samples: usize, mut run: impl FnMut() -> T) -> f64 {
    let one = || {
        let start = Instant::now();
        black_box(run());
        start.elapsed().as_secs_f64() * 1e9 / samples as f64
    };
    std::iter::repeat_with(one)
        .take(200)
        .fold(f64::MAX, f64::min)
}

/// From 4 °C to 85 °C and back along parabolas, one reading a second, `rise` readings each way, with a ripple of a
/// few hundredths of a degree.
fn roast(rows: usize, rise: usize) -> (Vec<f64>, Vec<f64>) {
    (0..rows)
        .map(|i| {
            let way = i % (2 * rise);
            let left = 1.0 - way.min(2 * rise - way) as f64 / rise as f64;
            let ripple = (i % 7) as f64 * 0.01;
            (i as f64, 85.0 - 81.0 * left * left + ripple)
        })
        .unzip()
}

fn own(z: &str) -> Scheme {
    Scheme::Own(DecimalReduction {
        reference: Temperature::parse("60 °C").expect("a temperature"),
        d_value: Duration::parse("3 min").expect("a duration"),
        z_value: TemperatureDifference::parse(z).expect("a difference"),
        target: LogReduction::from_log10(7.0).expect("finite"),
        lowest: None,
        highest: None,
    })
}

/// The exact form one segment after another with the platform's own functions.
#[allow(clippy::disallowed_methods)] // the baseline, not the library
fn plain_loop(columns: KillColumns<'_>, z: f64) -> f64 {
    let segments = columns
        .elapsed_s
        .windows(2)
        .zip(columns.temp_degC.windows(2));
    segments
        .map(|(t, x)| {
            let u = std::f64::consts::LN_10 * (x[1] - x[0]) / (2.0 * z);
            let ratio = if u.abs() < 1e-3 {
                1.0 + u * u / 6.0
            } else {
                u.sinh() / u
            };
            (t[1] - t[0]) * 10_f64.powf((0.5 * (x[0] + x[1]) - 60.0) / z) * ratio
        })
        .sum::<f64>()
        / 180.0
}

fn main() {
    let (times, temps) = roast(LONG, 6000);
    let columns = KillColumns {
        elapsed_s: &times,
        temp_degC: &temps,
    };
    println!("one log of {LONG} samples, one core, ns a sample");
    let base = best(LONG, || plain_loop(columns, 5.0 / 0.9));
    println!("  plain loop, exact D/z                {base:8.2}");
    for (name, scheme) in [
        ("exact D/z", own("10 delta_degF")),
        ("UK 70 °C line with floor and cap", Scheme::Uk702),
        ("poultry table", Scheme::Poultry7Log),
    ] {
        let ns = best(LONG, || scheme.kill_of(columns));
        println!("  {name:<36} {ns:8.2}  {:5.1}x the plain loop", base / ns);
    }
    let column = || ColumnSlice {
        place: Place::CORE,
        unit: TemperatureUnit::Celsius,
        temperatures: &temps,
    };
    let checks = LogChecks::default();
    let build = best(LONG, || {
        TemperatureLog::from_slices(ElapsedSlice { elapsed_s: &times }, &[column()])
    });
    let log = TemperatureLog::from_slices(ElapsedSlice { elapsed_s: &times }, &[column()])
        .expect("columns fit");
    let check = best(LONG, || log.faults(&checks).len());
    println!(
        "  build a log {build:.2}, check it {check:.2}, faults {}",
        log.faults(&checks).len()
    );

    let (one_t, one_x) = roast(ROWS, 1000);
    let offsets: Vec<usize> = (0..=LOGS).map(|i| i * ROWS).collect();
    let times: Vec<f64> = (0..LOGS).flat_map(|_| one_t.iter().copied()).collect();
    let temps: Vec<f64> = (0..LOGS)
        .flat_map(|i| one_x.iter().map(move |x| x - (i % 50) as f64 * 0.1))
        .collect();
    let batch = LogBatch {
        offsets: &offsets,
        elapsed_s: &times,
        temperatures: &temps,
        unit: TemperatureUnit::Celsius,
    };
    println!("{LOGS} logs of {ROWS} samples, checked and judged, all cores, ns a sample");
    for (name, scheme) in [
        ("exact D/z", own("10 delta_degF")),
        ("poultry table", Scheme::Poultry7Log),
    ] {
        let request = LethalityRequest::new(scheme);
        let ns = best(LOGS * ROWS, || request.assess_batch(batch, &checks));
        let sound = request
            .assess_batch(batch, &checks)
            .map_or(0, |a| a.is_sound.iter().filter(|s| **s).count());
        println!("  {name:<36} {ns:8.2}  ({sound} sound)");
    }

    println!("the same logs judged by a rule, with kill and growth, all cores, ns a sample");
    let columns = [ColumnSlice {
        place: Place::CORE,
        unit: TemperatureUnit::Celsius,
        temperatures: &temps,
    }];
    let table = LogTable {
        rows: LogRows::EndToEnd(&offsets),
        elapsed_s: &times,
        readings: TableReadings::Columns(&columns),
    };
    for (check, more) in [
        ("cooking", serde_json::json!({"cut": "boneless-breast"})),
        (
            "cooling",
            serde_json::json!({"standard": "us-food-code-2022"}),
        ),
    ] {
        let mut question = more;
        question["check"] = check.into();
        question["scheme"] = "poultry-7log-turkey".into();
        let question = LogsQuestion::from_value(question).expect("a question");
        let ns = best(LOGS * ROWS, || question.judge(&table));
        println!("  {check:<36} {ns:8.2}");
    }
}
