//! Ovens shared out by the planner against trying every start in every oven.

use poulter::plan::{Order, Plan, Resource, Use, plan};
use poulter::rules::Rulebook;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A dish: minutes, lowest temperature in °F (it takes 25 more), and whether it may wait.
type Dish = (i64, i64, bool);

/// What has an oven: its number, from and to in minutes before serving, and its temperature or a dish's lowest.
struct Kept {
    oven: usize,
    from: i64,
    to: i64,
    coolest: i64,
    is_bird: bool,
}

/// Whether birds and then dishes find a place beside what has the ovens already.
///
/// A roast takes 3 h 45 min in the slow case (FSIS, 12 lb: 3 h to 3 h 45 min), may be done early by 45 min and held hot
/// for 2 h at most (USDA FSIS). It rests 20 min and is carved in 20 min; a dish that cannot wait comes out within 15 min
/// of serving, another within 2 h; an oven changes its temperature in 10 min (common practice, no source).
fn fits(ovens: usize, birds: usize, dishes: &[Dish], kept: &mut Vec<Kept>) -> bool {
    let mut tried = |kept_now: Kept, birds: usize, dishes: &[Dish]| {
        kept.iter().all(|other| go_together(&kept_now, other)) && {
            kept.push(kept_now);
            let found = fits(ovens, birds, dishes, kept);
            kept.pop();
            found
        }
    };
    if birds > 0 {
        return (0..ovens).any(|oven| {
            (40..=220).step_by(5).any(|to| {
                let latest = to + 225;
                let held = latest - 180 - 30 - 20;
                // A bird goes in on a quarter of an hour.
                let from = (latest + 14) / 15 * 15;
                let bird = Kept {
                    oven,
                    from,
                    to,
                    coolest: 325,
                    is_bird: true,
                };
                held <= 120 && tried(bird, birds - 1, dishes)
            })
        });
    }
    let Some((&(minutes, coolest, may_wait), rest)) = dishes.split_first() else {
        return true;
    };
    let longest_wait = if may_wait { 120 } else { 15 };
    (0..ovens).any(|oven| {
        (0..=longest_wait).step_by(5).any(|to| {
            let dish = Kept {
                oven,
                from: to + minutes,
                to,
                coolest,
                is_bird: false,
            };
            tried(dish, 0, rest)
        })
    })
}

fn go_together(one: &Kept, other: &Kept) -> bool {
    let same_heat = match (one.is_bird, other.is_bird) {
        (true, true) => false,
        (false, false) => (one.coolest - other.coolest).abs() <= 25,
        _ => {
            let (bird, dish) = if one.is_bird {
                (one, other)
            } else {
                (other, one)
            };
            (dish.coolest..=dish.coolest + 25).contains(&bird.coolest)
        }
    };
    let change = if same_heat { 0 } else { 10 };
    one.oven != other.oven || one.to >= other.from + change || other.to >= one.from + change
}

fn planned(ovens: usize, birds: usize, dishes: &[Dish]) -> Plan {
    let birds: Vec<Value> = (0..birds)
        .map(|at| json!({"name": format!("bird {at}"), "species": "turkey", "mass": "12 lb", "state": "thawed"}))
        .collect();
    let dishes: Vec<Value> = (dishes.iter().enumerate())
        .map(|(at, (minutes, coolest, may_wait))| {
            json!({
                "name": format!("dish {at}"), "time": format!("{minutes} min"), "can_be_held": may_wait,
                "coolest": format!("{coolest} °F"), "hottest": format!("{} °F", coolest + 25),
            })
        })
        .collect();
    let order: Order = serde_json::from_value(json!({
        "serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-19T07:00[Europe/Lisbon]",
        "guests": {"adults": 8}, "birds": birds, "dishes": dishes,
        "methods": {"brine": "none", "roast": "steady"},
        "kitchen": {"ovens": vec![json!({"birds_at_once": 1}); ovens]},
    }))
    .unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

/// Two uses of one oven at one time, apart from dishes that come out together.
fn overlap(plan: &Plan) -> Option<(&Use, &Use)> {
    let uses: Vec<&Use> = plan.steps.iter().flat_map(|step| &step.uses).collect();
    let pairs = uses
        .iter()
        .enumerate()
        .flat_map(|(at, one)| uses[at + 1..].iter().map(move |other| (*one, *other)));
    let ovens = |(one, other): &(&Use, &Use)| {
        one.resource == Resource::Oven
            && other.resource == Resource::Oven
            && one.number == other.number
    };
    pairs
        .filter(ovens)
        .find(|(one, other)| one.to != other.to && one.from < other.to && other.from < one.to)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn the_search_agrees_with_trying_every_start_in_every_oven(
        ovens in 1_usize..=2,
        birds in 1_usize..=2,
        dishes in prop::collection::vec((1_i64..=12, prop_oneof![Just(300_i64), Just(325), Just(400)], any::<bool>()), 0..4),
    ) {
        let dishes: Vec<Dish> = dishes.iter().map(|&(fives, coolest, may_wait)| (fives * 5, coolest, may_wait)).collect();
        let plan = planned(ovens, birds, &dishes);
        prop_assert_eq!(plan.feasible, fits(ovens, birds, &dishes, &mut Vec::new()), "{} {} {:?}", ovens, birds, dishes);
        prop_assert!(overlap(&plan).is_none(), "{:?}", overlap(&plan));
    }
}

/// More ways than are tried: the answer comes at once, is no plan, and says why.
#[test]
fn an_order_with_too_many_ways_is_given_up_and_says_so() {
    let bird = |species: &str, mass: &str, count: u32, state: &str| json!({"name": format!("{species} {state}"), "species": species, "mass": mass, "count": count, "state": state});
    let dish = |name: &str, minutes: u32, coolest: u32, can_be_held: bool| json!({"name": name, "time": format!("{minutes} min"), "coolest": format!("{coolest} °F"), "hottest": "425 °F", "can_be_held": can_be_held});
    let order: Order = serde_json::from_value(json!({
        "serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-17T20:00[Europe/Lisbon]", "guests": {"adults": 20},
        "birds": [bird("goose", "10 lb", 2, "fresh"), bird("turkey", "12 lb", 3, "frozen"),
            bird("chicken", "4 lb", 6, "thawed"), bird("goose", "10 lb", 6, "thawed")],
        "kitchen": {"ovens": [{"birds_at_once": 3, "fan": true}, {"birds_at_once": 3}, {"birds_at_once": 1}],
            "sinks": 2, "refrigerator_room": "60 L"},
        "dishes": [dish("a", 40, 325, true), dish("b", 60, 400, false), dish("c", 20, 400, true), dish("d", 20, 375, true)],
    }))
    .unwrap();
    let plan = plan(Rulebook::builtin(), &order).unwrap().answer;
    assert!(!plan.feasible);
    assert!(
        plan.chains
            .iter()
            .any(|chain| chain.reason.contains("more ways than were tried")),
        "{:?}",
        plan.chains
    );
}
