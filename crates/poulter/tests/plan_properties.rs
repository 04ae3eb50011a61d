//! What must hold of every plan, whatever the order.

use poulter::plan::{Moment, Order, Plan, Step, plan};
use poulter::rules::Rulebook;
use poulter::units::Duration;
use proptest::prelude::*;
use serde_json::json;

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

fn planned(value: serde_json::Value) -> Plan {
    let order: Order = serde_json::from_value(value).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn order(
    pounds: f64,
    state: &str,
    hours_ahead: i64,
    kitchen: &serde_json::Value,
) -> serde_json::Value {
    let serve = Moment::parse(SERVE).unwrap();
    let now = serve.before(duration(&format!("{hours_ahead} h")));
    json!({
        "serve_at": SERVE,
        "now": now,
        "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": format!("{pounds} lb"), "state": state},
        "kitchen": kitchen,
    })
}

fn step<'p>(plan: &'p Plan, id: &str) -> Option<&'p Step> {
    plan.steps.iter().find(|step| step.id == id)
}

fn kitchens() -> impl Strategy<Value = serde_json::Value> {
    prop_oneof![
        Just(json!({})),
        Just(json!({"oven": {"fan": true}})),
        Just(json!({"altitude": "7000 ft"})),
        Just(json!({"refrigerator": "3 degC"})),
        Just(json!({"refrigerator": "7 degC"})),
    ]
}

fn states() -> impl Strategy<Value = &'static str> {
    prop_oneof![
        Just("frozen"),
        Just("part-frozen"),
        Just("thawed"),
        Just("fresh")
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(160))]

    #[test]
    fn a_plan_serves_on_time_in_the_slow_case_and_holds_in_the_quick_one(
        tenths in 80_u32..=240, state in states(), hours in 1_i64..240, kitchen in kitchens(),
    ) {
        let plan = planned(order(f64::from(tenths) / 10.0, state, hours, &kitchen));
        let serve = Moment::parse(SERVE).unwrap();
        let now = serve.before(duration(&format!("{hours} h")));
        if !plan.feasible {
            prop_assert!(plan.steps.is_empty() && plan.shopping.is_empty());
            prop_assert!(plan.chains.iter().all(|chain| !chain.kept && !chain.reason.is_empty()));
            return Ok(());
        }
        prop_assert!(plan.chains[0].kept && plan.changes.is_empty());
        for step in &plan.steps {
            let window = &step.window;
            prop_assert!(window.earliest <= window.planned && window.planned <= window.latest, "{}", step.id);
            prop_assert!(window.planned >= now, "{} starts before now", step.id);
            prop_assert!(step.duration.low <= step.duration.likely && step.duration.likely <= step.duration.high);
        }
        let roast = step(&plan, "roast").unwrap();
        let rest = step(&plan, "rest").unwrap();
        let carve = step(&plan, "carve").unwrap();
        // Slow: the longest roast, the shortest rest and the longest carving still end at the serving hour.
        let slow = roast.window.latest.after(roast.duration.high).after(rest.duration.low).after(carve.duration.high);
        prop_assert!(slow <= serve, "slow case ends at {slow}");
        // Quick: the shortest roast, then the longest rest, and no longer than two hours hot (USDA FSIS).
        let quick = roast.window.earliest.after(roast.duration.low).after(rest.duration.high);
        prop_assert!(carve.window.planned.since(&quick) <= duration("2 h"));
        if let Some(thaw) = step(&plan, "thaw") {
            let next = step(&plan, "brine").map_or(step(&plan, "prepare").unwrap(), |brine| brine);
            prop_assert!(thaw.window.latest.after(thaw.duration.high) <= next.window.planned);
            // Thawed at its quickest, the raw bird waits no more than two days (USDA FSIS).
            let thawed = thaw.window.earliest.after(thaw.duration.low);
            let in_the_refrigerator = plan.chains[0].thaw == Some(poulter::thaw::ThawMethod::Refrigerator);
            prop_assert!(!in_the_refrigerator || roast.window.planned.since(&thawed) <= duration("2 d"));
        }
        if let Some(brine) = step(&plan, "brine") {
            prop_assert!(roast.window.planned.since(&brine.window.earliest) <= duration("2 d"));
        }
    }

    #[test]
    fn more_time_never_makes_a_frozen_bird_impossible(tenths in 80_u32..=240, hours in 1_i64..200) {
        let pounds = f64::from(tenths) / 10.0;
        let sooner = planned(order(pounds, "frozen", hours, &json!({})));
        let later = planned(order(pounds, "frozen", hours + 24, &json!({})));
        prop_assert!(!sooner.feasible || later.feasible);
    }

    #[test]
    fn a_change_of_the_hour_that_is_offered_does(tenths in 80_u32..=240, hours in 1_i64..8) {
        let asked = order(f64::from(tenths) / 10.0, "frozen", hours, &json!({}));
        for change in planned(asked.clone()).changes {
            if change.later_by > Duration::ZERO {
                let mut moved = asked.clone();
                moved["serve_at"] = json!(change.serve_at);
                prop_assert!(planned(moved).feasible, "{}", change.change);
            }
        }
    }

    #[test]
    fn the_same_order_gives_the_same_bytes(tenths in 80_u32..=240, hours in 1_i64..200) {
        let asked = order(f64::from(tenths) / 10.0, "frozen", hours, &json!({}));
        let bytes = |plan: &Plan| serde_json::to_string(plan).unwrap();
        prop_assert_eq!(bytes(&planned(asked.clone())), bytes(&planned(asked)));
    }
}

#[test]
fn a_warm_refrigerator_rules_out_thawing_and_brining_in_it_at_the_line() {
    // USDA FSIS: 40 °F or below.
    for (refrigerator, fine) in [("39.999 °F", true), ("40 °F", true), ("40.001 °F", false)] {
        let plan = planned(order(
            14.0,
            "frozen",
            200,
            &json!({"refrigerator": refrigerator}),
        ));
        let thaws_cold = plan
            .chains
            .iter()
            .any(|chain| chain.kept && chain.thaw == Some(poulter::thaw::ThawMethod::Refrigerator));
        assert_eq!(thaws_cold, fine, "{refrigerator}");
    }
}

#[test]
fn now_is_honoured_at_the_line() {
    let mut asked = order(14.0, "thawed", 100, &json!({}));
    asked["methods"] = json!({"brine": "none", "roast": "steady"});
    asked["now"] = serde_json::Value::Null;
    let plan = planned(asked.clone());
    let must = plan.chains[0]
        .criteria
        .as_ref()
        .unwrap()
        .must_start_by
        .clone();
    let second = duration("1 s");
    for (now, feasible) in [
        (must.before(second), true),
        (must.clone(), true),
        (must.after(second), false),
    ] {
        asked["now"] = json!(now);
        assert_eq!(planned(asked.clone()).feasible, feasible, "{now}");
    }
}
