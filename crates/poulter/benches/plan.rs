//! Microseconds a plan: `cargo bench -p poulter --bench plan`.
//!
//! Each figure is the best of many runs. The baseline of the same run is the answer to a single question, how long a
//! bird roasts, since a plan asks such questions for every combination of methods.

use std::hint::black_box;
use std::time::Instant;

use poulter::plan::{Order, plan};
use poulter::roast::{RoastQuery, roast_time};
use poulter::rules::Rulebook;

const ORDERS: [(&str, &str); 6] = [
    (
        "frozen, all combinations",
        include_str!("../../../tests/orders/lakeside-supper.toml"),
    ),
    (
        "thawed, all combinations",
        include_str!("../../../tests/orders/high-lodge.toml"),
    ),
    (
        "two ducks, small oven",
        include_str!("../../../tests/orders/two-ducks.toml"),
    ),
    (
        "class of 24",
        include_str!("../../../tests/orders/class-of-24.toml"),
    ),
    (
        "no way, with changes",
        include_str!("../../../tests/orders/late-thaw.toml"),
    ),
    (
        "still frozen on the day",
        include_str!("../../../tests/orders/still-frozen.toml"),
    ),
];

fn best<T>(mut run: impl FnMut() -> T) -> f64 {
    let begun = Instant::now();
    let mut best = f64::MAX;
    while begun.elapsed().as_secs() < 2 {
        let start = Instant::now();
        black_box(run());
        best = best.min(start.elapsed().as_secs_f64() * 1e6);
    }
    best
}

/// Two birds and four dishes; in one oven they do not fit, whatever the hours.
fn crowded(ovens: &str) -> Order {
    let text = r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-12T09:00[Europe/Lisbon]",
        "guests": {"adults": 11},
        "birds": [
            {"species": "turkey", "mass": "6.8 kg", "state": "frozen"},
            {"species": "turkey", "mass": "5 kg", "state": "frozen"}],
        "dishes": [
            {"name": "gratin", "time": "45 min", "coolest": "300 °F", "hottest": "350 °F"},
            {"name": "roots", "time": "40 min", "coolest": "400 °F", "hottest": "425 °F"},
            {"name": "pie", "time": "50 min", "coolest": "350 °F", "hottest": "375 °F", "can_be_held": true},
            {"name": "stuffing", "time": "35 min", "coolest": "325 °F", "hottest": "350 °F", "can_be_held": true}],
        "kitchen": OVENS}"#;
    serde_json::from_str(&text.replace("OVENS", ovens)).expect("an order")
}

fn main() {
    let book = Rulebook::builtin();
    let query: RoastQuery =
        serde_json::from_str(r#"{"species": "turkey", "mass": "14 lb"}"#).expect("a question");
    let question = best(|| roast_time(book, &query).expect("an answer"));
    println!("| work | µs | of one question |\n|---|---|---|");
    println!("| how long a bird roasts | {question:.1} | 1 |");
    let mut orders: Vec<(&str, Order)> = ORDERS
        .iter()
        .map(|&(name, text)| (name, Order::from_toml(text).expect("an order")))
        .collect();
    let two = r#"{"ovens": [{"dishes_at_once": 2}, {"dishes_at_once": 2}]}"#;
    orders.push(("two birds, four dishes, two ovens", crowded(two)));
    orders.push(("the same, one oven: no way", crowded(r#"{"ovens": [{}]}"#)));
    let full =
        r#"{"ovens": [{"dishes_at_once": 2}, {"dishes_at_once": 2}], "refrigerator_room": "9 L"}"#;
    orders.push(("the same, a full refrigerator", crowded(full)));
    for (name, order) in orders {
        let time = best(|| plan(book, &order).expect("a plan"));
        println!("| {name} | {time:.0} | {:.0} |", time / question);
    }
}
