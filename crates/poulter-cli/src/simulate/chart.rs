//! Curves drawn with characters.

use serde_json::Value;

use poulter::units::{Duration, Temperature, TemperatureUnit};

use super::{curves, rows};

const WIDTH: usize = 60;
const HEIGHT: usize = 15;

/// One letter for each zone, with the marked temperatures as dotted lines. Empty when nothing was computed.
pub(super) fn draw(answer: &Value, marks: &[Temperature], unit: TemperatureUnit) -> Vec<String> {
    let curves: Vec<(char, Vec<(f64, f64)>)> = curves(answer)
        .into_iter()
        .map(|curve| (letter(curve), rows(curve).collect()))
        .collect();
    let points = || curves.iter().flat_map(|(_, rows)| rows);
    let marks: Vec<f64> = marks.iter().map(|mark| mark.as_celsius()).collect();
    let celsius = || points().map(|row| row.1).chain(marks.iter().copied());
    let (low, high) = (
        celsius().fold(f64::INFINITY, f64::min),
        celsius().fold(f64::NEG_INFINITY, f64::max),
    );
    let end = points().map(|row| row.0).fold(0.0, f64::max);
    if end <= 0.0 || high <= low {
        return Vec::new();
    }

    let row_of = |celsius: f64| HEIGHT - 1 - cell_of(celsius - low, high - low, HEIGHT);
    let mut canvas = vec![[' '; WIDTH]; HEIGHT];
    for &mark in &marks {
        for cell in canvas[row_of(mark)].iter_mut().step_by(2) {
            *cell = '.';
        }
    }
    for (letter, rows) in &curves {
        let times = (0..WIDTH).map(|column| end * column as f64 / (WIDTH - 1) as f64);
        for (column, elapsed) in times.enumerate() {
            if let Some(celsius) = at(rows, elapsed) {
                canvas[row_of(celsius)][column] = *letter;
            }
        }
    }

    let mut lines: Vec<String> = canvas
        .iter()
        .enumerate()
        .map(|(row, cells)| {
            let share = (HEIGHT - 1 - row) as f64 / (HEIGHT - 1) as f64;
            let label = if row % 7 == 0 {
                degrees(low + share * (high - low), unit)
            } else {
                String::new()
            };
            let cells: String = cells.iter().collect();
            format!("{label:>8} |{cells}").trim_end().to_owned()
        })
        .collect();
    lines.push(format!("{:>8} +{}", "", "-".repeat(WIDTH)));
    let end = Duration::from_minutes((end / 60.0).round())
        .map_or_else(|_| String::new(), Duration::shown);
    lines.push(format!("{:>10}0{end:>width$}", "", width = WIDTH - 1));
    let names: Vec<String> = curves_named(answer);
    lines.push(format!("{:>10}{}", "", names.join(", ")));
    lines
}

/// The temperature at a time, on a straight line between rows; nothing before the first and after the last.
fn at(rows: &[(f64, f64)], elapsed: f64) -> Option<f64> {
    let after = rows.iter().position(|row| row.0 >= elapsed)?;
    let (end_s, end) = rows[after];
    let Some(before) = after.checked_sub(1) else {
        return (end_s <= elapsed).then_some(end);
    };
    let (start_s, start) = rows[before];
    Some(start + (elapsed - start_s) / (end_s - start_s) * (end - start))
}

fn curves_named(answer: &Value) -> Vec<String> {
    curves(answer)
        .into_iter()
        .map(|curve| {
            format!(
                "{} {}",
                letter(curve),
                curve["zone"].as_str().unwrap_or_default()
            )
        })
        .collect()
}

/// The zone's letter; a stuffing and a surface never stand in one chart.
fn letter(curve: &Value) -> char {
    curve["zone"]
        .as_str()
        .and_then(|zone| zone.chars().next())
        .unwrap_or('*')
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share between nothing and all, times a small count"
)]
fn cell_of(part: f64, whole: f64, cells: usize) -> usize {
    ((part / whole * (cells - 1) as f64).round() as usize).min(cells - 1)
}

fn degrees(celsius: f64, unit: TemperatureUnit) -> String {
    let (value, sign) = match unit {
        TemperatureUnit::Fahrenheit => (celsius * 1.8 + 32.0, "°F"),
        _ => (celsius, "°C"),
    };
    // Adding nothing turns a negative zero into zero.
    format!("{:.0} {sign}", value.round() + 0.0)
}
