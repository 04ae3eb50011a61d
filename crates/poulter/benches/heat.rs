//! Times of the heat model, and in one run the ratio of a full simulation (31 nodes, 60 s) to a member of the ensemble
//! (21 nodes, 150 s).
//!
//! `cargo bench -p poulter --bench heat`

use std::hint::black_box;
use std::time::Instant;

use poulter::heat::{
    Forecast, ForecastQuery, RoastSimulationQuery, ThawSimulationQuery, simulate_roast,
    simulate_thaw,
};
use poulter::units::{Duration, Temperature};

/// Seconds of one call, the least of several.
fn least<T>(rounds: u32, mut call: impl FnMut() -> T) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..rounds {
        let begun = Instant::now();
        black_box(call());
        least = least.min(begun.elapsed().as_secs_f64());
    }
    least
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    // Too large to be done: both zones stay in for the whole five hours.
    let roast: RoastSimulationQuery = serde_json::from_str(
        r#"{"species": "turkey", "mass": "24 lb", "start": "40 °F", "target": "185 °F",
            "oven": [{"temperature": "475 °F", "duration": "30 min"},
                     {"temperature": "325 °F", "duration": "270 min"}]}"#,
    )?;
    simulate_roast(&roast)?;
    let zones = simulate_roast(&roast)?.zones.len();
    let roast_s = least(200, || simulate_roast(&roast)) / zones as f64;
    println!("5 h roast                {:9.1} µs a zone", roast_s * 1e6);

    let thaw: ThawSimulationQuery = serde_json::from_str(
        r#"{"species": "turkey", "mass": "12 lb", "start": "0 °F",
            "surroundings": {"kind": "refrigerator", "temperature": "38 °F", "wrapped": true}}"#,
    )?;
    let hours = simulate_thaw(&thaw)?.thawed.likely.as_hours();
    let thawing = least(200, || simulate_thaw(&thaw)) * 72.0 / hours;
    println!("72 h thaw                {:9.1} µs", thawing * 1e6);

    let mut query: ForecastQuery = serde_json::from_str(
        r#"{"roast": {"species": "turkey", "mass": "12 lb", "start": "40 °F", "target": "165 °F",
                      "oven": [{"temperature": "325 °F"}]},
            "zone": "breast", "members": 200}"#,
    )?;
    let member_s = least(60, || Forecast::new(&query)) / 200.0;
    println!(
        "one member               {:9.1} µs, a roast over a member {:.2}",
        member_s * 1e6,
        roast_s / member_s
    );
    query.members = 3000;
    let ensemble = least(5, || Forecast::new(&query));
    println!("3000 members             {:9.1} ms", ensemble * 1e3);

    let mut forecast = Forecast::new(&query)?;
    for minute in 1..=90_u32 {
        let elapsed = Duration::from_minutes(f64::from(minute))?;
        let reading = Temperature::from_celsius(4.4 + 0.003 * f64::from(minute * minute))?;
        forecast.push(elapsed, reading)?;
    }
    let update = least(50, || forecast.time_to_target());
    println!(
        "update of the forecast   {:9.1} µs, {} members count",
        update * 1e6,
        forecast.time_to_target()?.effective_members
    );
    Ok(())
}
