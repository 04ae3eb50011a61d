//! What a kitchen lacks never helps: an order that cannot be done stays so when a resource is taken away. Beside it an
//! oracle that tries every start of every stage.

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

const DAY: i64 = 24 * 60;

/// The last start of thaw or brine that serves a turkey of 13 lb, found by trying them all in steps of 15 min; minutes
/// before serving.
///
/// USDA FSIS: thaw 3 to 4 d in the refrigerator, then raw for 2 d at most, or 6 to 8 h in water, then cooked at once; roast
/// 3 h to 3 h 45 min; rest 20 min. Common practice, no source: brine 8 to 24 h wet or 1 to 3 d dry, carve 20 min, make
/// ready 45 min. The oven is begun on a quarter of an hour, 4 h 30 min before.
fn last_start(thaw: Option<&str>, brine: &str) -> Option<i64> {
    let (oven, ready) = (270, 315);
    let (quick, slow, may_wait) = match thaw {
        None => (0, 0, 2 * DAY),
        Some("refrigerator") => (3 * DAY, 4 * DAY, 2 * DAY),
        Some(_) => (6 * 60, 8 * 60, 0),
    };
    if brine != "none" && may_wait == 0 {
        return None;
    }
    let starts = || (0..=12 * DAY).step_by(15);
    let brined = |start: i64| match brine {
        "none" => start == ready,
        "wet" => (8 * 60..=DAY).contains(&(start - ready)),
        _ => (DAY..=3 * DAY).contains(&(start - oven)),
    };
    let whole = |next: i64| match thaw {
        None => (next - oven <= may_wait).then_some(next),
        Some(_) => starts().find(|start| {
            start - slow >= next && (may_wait == 0 || start - quick - oven <= may_wait)
        }),
    };
    starts()
        .filter(|&start| brined(start))
        .filter_map(whole)
        .min()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn the_chains_agree_with_trying_every_start(
        quarters in 1_i64..=40 * 24, thaw in prop::option::of(prop_oneof![Just("refrigerator"), Just("cold-water")]),
        brine in prop_oneof![Just("none"), Just("wet"), Just("dry")], near in any::<bool>(),
    ) {
        // Half of the moments lie near the line, to a quarter of an hour.
        let last = last_start(thaw, brine);
        let quarters = match last {
            Some(last) if near => last / 15 + quarters % 5 - 2,
            _ => quarters,
        };
        let serve: Moment = SERVE.parse().unwrap();
        let now = serve.before(Duration::parse(&format!("{} min", quarters * 15)).unwrap());
        let asked = json!({
            "serve_at": SERVE, "now": now, "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "13 lb", "state": if thaw.is_some() { "frozen" } else { "thawed" }},
            "methods": {"thaw": thaw, "brine": brine, "roast": "steady"},
        });
        let plan = planned(&asked);
        // A thawed bird in hand has waited from now on, and no more than two days are left of it.
        prop_assume!(thaw.is_some() || quarters * 15 <= 2 * DAY);
        prop_assert_eq!(
            plan.feasible, last.is_some_and(|last| last <= quarters * 15), "{:?} {} {}: {}", thaw, brine, quarters,
            plan.chains[0].reason
        );
    }
}
