//! A plan with the heat model beside the printed times.

use poulter::plan::Order;
use poulter::rules::Rulebook;
use proptest::prelude::*;
use serde_json::{Value, json};

fn plan(order: &Value) -> Value {
    let mut request = order.clone();
    request["kind"] = json!("plan");
    let answer =
        poulter::evaluate_json(&request.to_string()).unwrap_or_else(|error| panic!("{error}"));
    serde_json::from_str(&answer).unwrap()
}

fn order(pounds: f64, state: &str) -> Value {
    json!({
        "serve_at": "2026-12-19T18:30[Europe/Lisbon]",
        "guests": {"adults": 6},
        "bird": {"species": "turkey", "mass": format!("{pounds} lb"), "state": state},
        "methods": {"brine": "none", "roast": "steady"},
    })
}

fn with_model(mut order: Value) -> Value {
    order["use_model"] = json!(true);
    order
}

fn step<'a>(plan: &'a Value, id: &str) -> &'a Value {
    let mut steps = plan["answer"]["steps"].as_array().unwrap().iter();
    steps.find(|step| step["id"] == id).unwrap()
}

fn minutes(time: &Value) -> f64 {
    let time: poulter::units::Duration = serde_json::from_value(time.clone()).unwrap();
    time.as_hours() * 60.0
}

fn texts(list: &Value) -> String {
    let texts: Vec<String> = list
        .as_array()
        .unwrap()
        .iter()
        .map(Value::to_string)
        .collect();
    texts.join("\n")
}

#[test]
fn a_plan_that_does_not_ask_for_the_model_has_none_of_it() {
    let mut silent = order(12.0, "thawed");
    let plain = plan(&silent);
    silent["use_model"] = json!(false);
    assert_eq!(plan(&silent), plain);
    assert!(!plain.to_string().contains("Model:"));
    assert_eq!(step(&plain, "roast").get("model"), None);
}

#[test]
fn the_step_says_model_and_the_rule_beside_it() {
    let plan = plan(&with_model(order(12.0, "thawed")));
    let roast = step(&plan, "roast");
    let said = texts(&roast["do"]);
    assert!(
        said.contains("Model: ") && said.contains("; the rule: 3 h to 3 h 45 min."),
        "{said}"
    );
    assert_eq!(roast["model"]["kind"], "model");
    assert!(texts(&roast["rules"]).contains("us-consumer.roast.time-unstuffed"));
}

/// Conduction in one shape gives a time that rises with mass to the power 2/3 at most: 6 lb lies between 2.63 h for
/// 8 lb (reference calculation) times (6/8)^(2/3) and 2.63 h itself.
#[test]
fn a_bird_below_the_table_gets_the_models_time_and_a_caution() {
    let plan = plan(&with_model(order(6.0, "thawed")));
    let roast = step(&plan, "roast");
    let likely = minutes(&roast["model"]["time"]["likely"]) / 60.0;
    assert!((2.17..2.63).contains(&likely), "{likely}");
    assert_eq!(roast["duration"], roast["model"]["time"]);
    assert!(texts(&roast["do"]).contains("No row is published"));
    let cautions = texts(&plan["answer"]["findings"]);
    assert!(cautions.contains("from the heat model alone"), "{cautions}");
}

#[test]
fn a_thaw_says_from_when_to_look() {
    let mut frozen = with_model(order(12.0, "frozen"));
    frozen["methods"]["thaw"] = json!("refrigerator");
    let plan = plan(&frozen);
    let thaw = step(&plan, "thaw");
    let printed = &thaw["model"]["printed"];
    assert_eq!(thaw["duration"]["low"], printed["low"]);
    let high = minutes(&thaw["model"]["time"]["high"]).max(minutes(&printed["high"]));
    assert!((minutes(&thaw["duration"]["high"]) - high).abs() < 1e-6);
    let cautions = texts(&plan["answer"]["findings"]);
    assert!(cautions.contains("Look from then on"), "{cautions}");
}

#[test]
fn the_model_is_left_out_where_it_was_not_checked() {
    let mut high_up = with_model(order(12.0, "thawed"));
    high_up["kitchen"] = json!({"altitude": "9000 ft"});
    let mut duck = with_model(order(5.0, "thawed"));
    duck["bird"]["species"] = json!("duck");
    for order in [high_up, duck] {
        let plan = plan(&order);
        assert_eq!(step(&plan, "roast").get("model"), None, "{order}");
    }
}

#[test]
fn a_dinner_that_only_the_models_slow_case_makes_late_names_the_printed_times() {
    let mut late = order(12.0, "thawed");
    late["now"] = json!("2026-12-19T13:10[Europe/Lisbon]");
    assert_eq!(plan(&late)["answer"]["feasible"], true);
    let late = plan(&with_model(late));
    assert_eq!(late["answer"]["feasible"], false);
    assert!(texts(&late["answer"]["changes"]).contains("printed times alone"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// Asking for the model never shortens the slow case and never lengthens the quick case of a roast.
    #[test]
    fn the_model_only_widens(tenths in 80..240_u32, stuffed: bool) {
        let mut order = order(f64::from(tenths) / 10.0, "thawed");
        order["bird"]["stuffed"] = json!(stuffed);
        let (plain, wide) = (plan(&order), plan(&with_model(order)));
        prop_assume!(wide["answer"]["feasible"] == true);
        let (plain, wide) = (step(&plain, "roast"), step(&wide, "roast"));
        prop_assert!(minutes(&wide["duration"]["high"]) >= minutes(&plain["duration"]["high"]));
        prop_assert!(minutes(&wide["duration"]["low"]) <= minutes(&plain["duration"]["low"]));
        prop_assert_eq!(&wide["duration"]["likely"], &plain["duration"]["likely"]);
    }
}

/// FoodSafety.gov's roasting chart: a young goose of 8 to 12 lb takes 2½ to 3 h at 325 °F. No British source prints one.
#[test]
fn a_goose_by_british_rules_borrows_its_time_and_nothing_else() {
    let order = Order::from_toml(include_str!("../../../tests/orders/goose-uk.toml")).unwrap();
    let answer = poulter::plan::plan(Rulebook::builtin(), &order).unwrap();
    let plan = &answer.answer;
    assert!(plan.feasible, "{:?}", plan.chains);
    let step = |id: &str| plan.steps.iter().find(|step| step.id == id).unwrap();
    let roast = step("roast");
    assert_eq!(roast.duration.high.as_minutes(), 180.0);
    assert_eq!(roast.duration.low.as_minutes(), 150.0);
    assert!(
        roast
            .rules
            .iter()
            .any(|rule| rule.starts_with("us-consumer.roast.time"))
    );
    // The Food Standards Agency: 70 °C for two minutes. The temperature alone would not do.
    let places = &step("measure").record;
    assert!(!places.is_empty());
    for place in places {
        assert!(
            place.limit.contains("70 °C") && place.limit.contains("2 min"),
            "{}",
            place.limit
        );
        assert!(place.rule.as_deref().unwrap().starts_with("uk."));
    }
    let said = |words: &str| answer.assumed.iter().any(|text| text.contains(words));
    assert!(
        said("prints no roasting time for this bird"),
        "{:?}",
        answer.assumed
    );
    assert!(
        said("sets no longest time for food held hot"),
        "{:?}",
        answer.assumed
    );
    assert!(
        roast.record.is_empty(),
        "no British source prints a lowest oven"
    );
}
