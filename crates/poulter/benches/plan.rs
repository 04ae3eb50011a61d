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

fn main() {
    let book = Rulebook::builtin();
    let query: RoastQuery =
        serde_json::from_str(r#"{"species": "turkey", "mass": "14 lb"}"#).expect("a question");
    let question = best(|| roast_time(book, &query).expect("an answer"));
    println!("| work | µs | of one question |\n|---|---|---|");
    println!("| how long a bird roasts | {question:.1} | 1 |");
    for (name, text) in ORDERS {
        let order = Order::from_toml(text).expect("an order");
        let time = best(|| plan(book, &order).expect("a plan"));
        println!("| {name} | {time:.0} | {:.0} |", time / question);
    }
}
