//! What a kitchen lacks never helps: an order that cannot be done stays so when a resource is taken away.

use poulter::plan::{Moment, Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::units::Duration;
use proptest::prelude::*;
use serde_json::{Value, json};

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn before(hours: i64) -> Moment {
    let serve: Moment = SERVE.parse().unwrap();
    serve.before(Duration::parse(&format!("{hours} h")).unwrap())
}

/// The kitchens that lack one thing that this one has.
fn with_less(asked: &Value) -> Vec<(&'static str, Value)> {
    let mut all = Vec::new();
    let mut less = |what, change: &dyn Fn(&mut Value)| {
        let mut value = asked.clone();
        change(&mut value);
        all.push((what, value));
    };
    let ovens = asked["kitchen"]["ovens"].as_array().unwrap().len();
    for at in 0..ovens {
        if ovens > 1 {
            less("an oven", &|value| {
                value["kitchen"]["ovens"].as_array_mut().unwrap().remove(at);
            });
        }
        less("room in an oven", &|value| {
            value["kitchen"]["ovens"][at]["birds_at_once"] = json!(1);
        });
    }
    if let Some(sinks) = asked["kitchen"]["sinks"]
        .as_u64()
        .filter(|&sinks| sinks > 0)
    {
        less("a sink", &|value| {
            value["kitchen"]["sinks"] = json!(sinks - 1);
        });
    }
    less("the cooler", &|value| {
        value["kitchen"].as_object_mut().unwrap().remove("cooler");
    });
    for litres in [3, 7, 14, 30] {
        let had = asked["kitchen"]["refrigerator_room"].as_str();
        let had = had.map_or(f64::INFINITY, |text| {
            text[..text.len() - 2].parse().unwrap()
        });
        if f64::from(litres) < had {
            less("room in the refrigerator", &|value| {
                value["kitchen"]["refrigerator_room"] = json!(format!("{litres} L"));
            });
        }
    }
    for day in ["2026-12-17", "2026-12-18", "2026-12-19"] {
        less("room on one day", &|value| {
            value["kitchen"]["refrigerator_days"] = json!([{"day": day, "room": "0 L"}]);
        });
    }
    let free = asked["cook"]["free"].as_array().unwrap().len();
    for at in 0..free {
        // Without any hour named every waking hour is free, so the last one stays.
        if free > 1 {
            less("a free hour", &|value| {
                value["cook"]["free"].as_array_mut().unwrap().remove(at);
            });
        }
    }
    less("sleepless hours", &|value| {
        value["cook"]["asleep"] = json!({"from": "20:00", "to": "10:00"});
    });
    all
}

fn kitchens() -> impl Strategy<Value = Value> {
    let oven = (any::<bool>(), prop::option::of(1_u32..=2))
        .prop_map(|(fan, most)| json!({"fan": fan, "birds_at_once": most}));
    let litres = |most: u32| prop::option::of((1..=most).prop_map(|litres| format!("{litres} L")));
    (
        prop::collection::vec(oven, 1..=2),
        0_u32..=2,
        litres(40),
        litres(60),
    )
        .prop_map(|(ovens, sinks, room, cooler)| {
            json!({"ovens": ovens, "sinks": sinks, "refrigerator_room": room,
                "cooler": cooler.map(|room| json!({"room": room}))})
        })
}

fn birds() -> impl Strategy<Value = Vec<Value>> {
    let bird = (8_u32..=16, prop_oneof![Just("frozen"), Just("thawed"), Just("fresh")]).prop_map(
        |(pounds, state)| json!({"species": "turkey", "mass": format!("{pounds} lb"), "state": state}),
    );
    prop::collection::vec(bird, 1..=2)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(80))]

    #[test]
    fn taking_something_away_never_helps(
        kitchen in kitchens(), birds in birds(), hours in 6_i64..150, minutes in prop::option::of(10_u32..60),
        free in prop::collection::vec((8_i64..100, 1_i64..6), 0..=3),
    ) {
        let free: Vec<Value> = free
            .iter()
            .map(|&(from, long)| json!({"from": before(from), "to": before(from - long)}))
            .collect();
        let dishes: Vec<Value> = minutes
            .iter()
            .map(|minutes| json!({"name": "pie", "time": format!("{minutes} min"), "coolest": "350 °F", "hottest": "400 °F"}))
            .collect();
        let asked = json!({
            "serve_at": SERVE, "now": before(hours), "guests": {"adults": 8}, "birds": birds, "dishes": dishes,
            "kitchen": kitchen, "cook": {"free": free},
        });
        let feasible = planned(&asked).feasible;
        for (what, less) in with_less(&asked) {
            prop_assert!(feasible || !planned(&less).feasible, "without {what} it can be done: {less}");
        }
    }
}
