//! Times of the heat model, and in the same run their ratio to the explicit scheme.
//!
//! `cargo bench -p poulter --bench heat`

mod explicit;

use std::hint::black_box;
use std::time::Instant;

use poulter::heat::{
    Forecast, ForecastQuery, ProbePlace, RoastSimulationQuery, ThawSimulationQuery, simulate_roast,
    simulate_thaw,
};
use poulter::plan::{Order, plan};
use poulter::rules::Rulebook;
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

    let food = explicit::Food::turkey()?;
    let breast = libm::cbrt(roast.mass.as_kilograms()) * 0.0355;
    let oven = [(246.11, 1800.0), (162.78, 16_200.0)];
    let end = food.roast::<31>(breast, 4.444, &oven);
    let explicit_s = least(200, || food.roast::<31>(breast, 4.444, black_box(&oven)));
    println!(
        "the same, explicit       {:9.1} µs a zone: {:.1} times as long",
        explicit_s * 1e6,
        explicit_s / roast_s
    );
    let coarse = food.roast::<21>(breast, 4.444, &oven);
    let coarse_s = least(200, || food.roast::<21>(breast, 4.444, black_box(&oven)));
    println!(
        "the same, on 21 nodes    {:9.1} µs a zone: {:.1} times as long, {coarse:.2} °C",
        coarse_s * 1e6,
        coarse_s / roast_s
    );
    let newton = food.roast_by_crank_nicolson(breast, 4.444, &oven);
    let newton_s = least(200, || {
        food.roast_by_crank_nicolson(breast, 4.444, black_box(&oven))
    });
    println!(
        "the same, textbook CN    {:9.1} µs a zone: {:.1} times as long, {newton:.2} °C",
        newton_s * 1e6,
        newton_s / roast_s
    );
    let small_s = least(50, || {
        food.roast::<31>(0.5 * breast, 4.444, black_box(&oven))
    });
    println!(
        "explicit, 3 lb           {:9.1} µs: {:.1} times as long",
        small_s * 1e6,
        small_s / roast_s
    );
    let simulated = simulate_roast(&roast)?;
    let ours = simulated.zones[0]
        .curve
        .temp_degC
        .last()
        .copied()
        .unwrap_or(f64::NAN);
    println!("centre of the breast     {ours:9.2} °C, explicit {end:.2} °C");

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
            "probes": [{"place": "breast"}], "members": 200}"#,
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
        forecast.push(ProbePlace::Breast, elapsed, reading)?;
    }
    let update = least(50, || forecast.time_to_target());
    println!(
        "update of the forecast   {:9.1} µs, {} members count",
        update * 1e6,
        forecast.time_to_target()?.effective_members
    );
    plans()
}

/// A full plan with every combination of methods, by the rules and with the model.
fn plans() -> Result<(), Box<dyn std::error::Error>> {
    let mut order: Order = serde_json::from_str(
        r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-12T09:00[Europe/Lisbon]",
            "guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}}"#,
    )?;
    let book = Rulebook::builtin();
    let rules_s = least(100, || plan(book, &order));
    order.use_model = true;
    let model_s = least(100, || plan(book, &order));
    println!("plan, rules only         {:9.1} µs", rules_s * 1e6);
    println!(
        "plan with the model      {:9.1} µs, {:.1} times as long",
        model_s * 1e6,
        model_s / rules_s
    );
    order.use_model = false;
    kitchens(&order, rules_s)?;
    order.use_model = true;
    // Too late: every change that would help is tried as well.
    order.now = Some("2026-12-19T12:30[Europe/Lisbon]".parse()?);
    let late_s = least(50, || plan(book, &order));
    println!("the same, not feasible   {:9.1} µs", late_s * 1e6);
    Ok(())
}

/// The same order in a full kitchen, and made anew half way, as ratios to the plan by the rules alone.
fn kitchens(order: &Order, rules_s: f64) -> Result<(), Box<dyn std::error::Error>> {
    let book = Rulebook::builtin();
    let mut full: serde_json::Value = serde_json::to_value(order)?;
    full["dishes"] = serde_json::json!([
        {"name": "gratin", "time": "45 min", "coolest": "300 °F", "hottest": "350 °F"},
        {"name": "roots", "time": "40 min", "coolest": "400 °F", "hottest": "425 °F"},
        {"name": "pie", "time": "50 min", "coolest": "350 °F", "hottest": "375 °F", "can_be_held": true},
        {"name": "stuffing", "time": "35 min", "coolest": "325 °F", "hottest": "350 °F", "can_be_held": true}]);
    full["bird"] = serde_json::Value::Null;
    full["birds"] = serde_json::json!([
        {"species": "turkey", "mass": "6.8 kg", "state": "frozen"},
        {"species": "turkey", "mass": "5 kg", "state": "frozen"}]);
    full["kitchen"]["ovens"] = serde_json::json!([{"dishes_at_once": 2}, {"dishes_at_once": 2}]);
    let kitchen: Order = serde_json::from_value(full.clone())?;
    let kitchen_s = least(20, || plan(book, &kitchen));
    println!(
        "2 birds, 4 dishes, 2 ovens {:7.1} µs, {:.1} times as long; feasible: {}",
        kitchen_s * 1e6,
        kitchen_s / rules_s,
        plan(book, &kitchen)?.answer.feasible
    );
    full["kitchen"]["ovens"] = serde_json::json!([{}]);
    let crowded: Order = serde_json::from_value(full)?;
    let crowded_s = least(20, || plan(book, &crowded));
    println!(
        "the same, 1 oven         {:9.1} µs, {:.1} times as long; feasible: {}",
        crowded_s * 1e6,
        crowded_s / rules_s,
        plan(book, &crowded)?.answer.feasible
    );
    let mut news: serde_json::Value = serde_json::to_value(order)?;
    news["planned_at"] = news["now"].take();
    news["now"] = serde_json::json!("2026-12-16T09:00[Europe/Lisbon]");
    news["progress"] = serde_json::json!([
        {"at": "2026-12-14T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
        {"at": "2026-12-16T09:00[Europe/Lisbon]", "reading": "8 °F"}]);
    let anew: Order = serde_json::from_value(news)?;
    let anew_s = least(50, || plan(book, &anew));
    println!(
        "made anew half way       {:9.1} µs, {:.1} times as long",
        anew_s * 1e6,
        anew_s / rules_s
    );
    Ok(())
}
