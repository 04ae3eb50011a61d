//! Plans made anew from what was done and measured.

use poulter::heat::{RemainingThawQuery, remaining_thaw};
use poulter::plan::{Moment, Order, Plan, plan};
use poulter::rules::{Rulebook, Verdict};
use poulter::units::Duration;
use proptest::prelude::*;
use serde_json::{Value, json};

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn frozen(now: &str) -> Value {
    json!({
        "serve_at": SERVE,
        "now": now,
        "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
    })
}

fn thawed(now: &str) -> Value {
    let mut order = frozen(now);
    order["bird"]["state"] = json!("thawed");
    order["methods"] = json!({"brine": "none", "roast": "steady"});
    order
}

fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

/// The news that every step was begun as planned, up to a step.
fn as_planned(plan: &Plan, until: usize) -> (Vec<Value>, Option<Moment>) {
    let mut news = Vec::new();
    let mut last = None;
    let doings = ["thaw", "brine", "prepare", "roast"];
    for step in plan
        .steps
        .iter()
        .filter(|step| doings.contains(&step.id.as_str()))
        .take(until)
    {
        let mut piece = json!({"at": step.window.planned, "started": step.id});
        let chain = &plan.chains[0];
        if step.id == "thaw" {
            piece["thaw"] = json!(chain.thaw);
        } else if !news.is_empty() && step.id == "brine" {
            news.push(json!({"at": step.window.planned, "finished": "thaw"}));
        }
        if step.id == "brine" {
            piece["brine"] = json!(chain.brine);
        }
        news.push(piece);
        last = Some(step.window.planned.clone());
    }
    (news, last)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever was done as planned, the steps that are left are the same and there is no news.
    #[test]
    fn no_news_is_the_same_plan(tenths in 80_u32..=240, until in 0_usize..=4, days in 3_i64..9, state in prop_oneof![Just("frozen"), Just("thawed")]) {
        let serve = moment(SERVE);
        let first = if state == "frozen" { serve.before(duration(&format!("{days} d"))) } else { serve.before(duration("20 h")) };
        let mut asked = frozen(&first.to_string());
        asked["bird"]["mass"] = json!(format!("{} lb", f64::from(tenths) / 10.0));
        asked["bird"]["state"] = json!(state);
        let before = planned(&asked);
        prop_assume!(before.feasible);
        let (news, last) = as_planned(&before, until);
        asked["planned_at"] = json!(first);
        asked["now"] = json!(last.unwrap_or(first));
        asked["progress"] = json!(news);
        let after = planned(&asked);
        prop_assert!(after.feasible, "{:?}", after.chains.first());
        prop_assert!(after.news.is_empty(), "{:?}", after.news);
        for step in &after.steps {
            let was = before.steps.iter().find(|was| was.id == step.id).unwrap();
            prop_assert_eq!(&step.window.planned, &was.window.planned, "{}", step.id);
        }
        prop_assert_eq!(after.on_time.is_some(), true);
    }
}

#[test]
fn a_plan_without_progress_has_no_news() {
    let plan = planned(&frozen("2026-12-12T09:00[Europe/Lisbon]"));
    assert!(plan.feasible && plan.news.is_empty() && plan.abandoned.is_empty());
}

#[test]
fn a_core_that_has_not_begun_to_melt_counts_anew() {
    let mut asked = frozen("2026-12-16T09:00[Europe/Lisbon]");
    asked["planned_at"] = json!("2026-12-12T09:00[Europe/Lisbon]");
    asked["progress"] = json!([
        {"at": "2026-12-14T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
        {"at": "2026-12-16T09:00[Europe/Lisbon]", "reading": "8 °F"},
    ]);
    let plan = planned(&asked);
    assert!(plan.feasible);
    assert_ne!(
        plan.chains[0].thaw,
        Some(poulter::thaw::ThawMethod::Refrigerator)
    );
    assert!(
        plan.news[0]
            .what
            .starts_with("another way: thawed in cold water"),
        "{:?}",
        plan.news
    );
    assert!(plan.news[0].why.contains("8 °F"), "{:?}", plan.news);
    let slow = plan
        .chains
        .iter()
        .find(|chain| chain.thaw == Some(poulter::thaw::ThawMethod::Refrigerator))
        .unwrap();
    // 8 °F is far below the −2.8 °C at which poultry begins to melt; the row for 12 lb is 4 days at the longest.
    assert!(
        slow.reason.contains("20 Dec 2026, 9:00 am"),
        "{}",
        slow.reason
    );
    assert!(
        plan.findings
            .iter()
            .any(|finding| finding.text.contains("8 °F at the core"))
    );
}

/// Poultry begins to freeze at −2.8 °C (ASHRAE Handbook, Refrigeration; from a copy). A colder core has no credit for the
/// time before the reading; any other keeps the rule's time from the start, which the model may only make longer.
#[test]
fn the_rule_counts_anew_below_the_point_at_which_a_bird_begins_to_melt() {
    let query = |centre: &str| -> RemainingThawQuery {
        serde_json::from_value(json!({
            "mass": "12 lb", "centre": centre,
            "surroundings": {"kind": "refrigerator", "temperature": "40 °F", "wrapped": true},
        }))
        .unwrap()
    };
    let anew = moment("2026-12-20T09:00[Europe/Lisbon]");
    let from_the_start = moment("2026-12-18T09:00[Europe/Lisbon]");
    for (reading, by_rule) in [
        ("-2.801 °C", &anew),
        ("-2.8 °C", &from_the_start),
        ("-2.799 °C", &from_the_start),
    ] {
        let mut asked = frozen("2026-12-16T09:00[Europe/Lisbon]");
        asked["planned_at"] = json!("2026-12-12T09:00[Europe/Lisbon]");
        asked["serve_at"] = json!("2026-12-17T18:00[Europe/Lisbon]");
        asked["progress"] = json!([
            {"at": "2026-12-14T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
            {"at": "2026-12-16T09:00[Europe/Lisbon]", "reading": reading},
        ]);
        let plan = planned(&asked);
        let left = remaining_thaw(&query(reading)).unwrap().remaining;
        let by_model = moment("2026-12-16T09:00[Europe/Lisbon]").after(left.high);
        let late = by_rule.clone().max(by_model).shown(plan.clock);
        let chain = plan
            .chains
            .iter()
            .find(|chain| chain.thaw == Some(poulter::thaw::ThawMethod::Refrigerator))
            .unwrap();
        assert!(
            chain.reason.contains(&late),
            "{reading}: {} {late}",
            chain.reason
        );
    }
}

#[test]
fn a_bird_still_frozen_on_the_day_gets_an_honest_rescue() {
    let text = include_str!("../../../tests/orders/still-frozen.toml");
    let plan = plan(Rulebook::builtin(), &Order::from_toml(text).unwrap())
        .unwrap()
        .answer;
    assert!(!plan.feasible && plan.steps.is_empty());
    let changes: Vec<_> = plan
        .changes
        .iter()
        .map(|change| change.change.as_str())
        .collect();
    // 14 lb at 50 % longer is at most 4.25 h × 1.5; the slow case adds a third, which still fits from 8:43.
    assert!(
        changes
            .iter()
            .any(|change| change.contains("Roast it from frozen") && change.contains("165 °F")),
        "{changes:?}"
    );
    assert!(
        changes
            .iter()
            .any(|change| change.contains("fresh or already thawed")),
        "{changes:?}"
    );
    let later = plan
        .changes
        .iter()
        .find(|change| change.later_by > Duration::ZERO)
        .unwrap();
    assert!(later.change.contains("cold water"));
    assert!(
        plan.news[0].what.contains("keeps the hour"),
        "{:?}",
        plan.news
    );
}

#[test]
fn dinner_moves_by_as_little_as_it_must() {
    // In at 16:00: 12 lb takes 3 h 45 min at the longest (FSIS), rest 20 min and carving 20 min: ready at 20:25.
    let mut asked = thawed("2026-12-19T16:10[Europe/Lisbon]");
    asked["progress"] = json!([{"at": "2026-12-19T16:00[Europe/Lisbon]", "started": "roast"}]);
    let late = planned(&asked);
    assert!(!late.feasible);
    let later = late
        .changes
        .iter()
        .find(|change| change.later_by > Duration::ZERO)
        .unwrap();
    assert_eq!(later.serve_at, moment("2026-12-19T20:30[Europe/Lisbon]"));
    asked["serve_at"] = json!(later.serve_at);
    assert!(planned(&asked).feasible);
    asked["serve_at"] = json!(later.serve_at.before(duration("15 min")));
    assert!(!planned(&asked).feasible);
}

#[test]
fn a_reading_in_the_oven_sets_the_model_beside_the_rule() {
    let at = |serve: &str| {
        let mut asked = thawed("2026-12-19T15:10[Europe/Lisbon]");
        asked["serve_at"] = json!(serve);
        asked["progress"] = json!([
            {"at": "2026-12-19T13:00[Europe/Lisbon]", "started": "roast"},
            {"at": "2026-12-19T14:30[Europe/Lisbon]", "reading": "100 °F", "place": "breast"},
            {"at": "2026-12-19T15:10[Europe/Lisbon]", "reading": "140 °F", "place": "breast"},
        ]);
        planned(&asked)
    };
    // The slow case by the readings ends after the row's 3 h 45 min, at 16:45; the earlier hour falls out by it.
    let late = at("2026-12-19T17:30[Europe/Lisbon]");
    assert!(!late.feasible);
    assert!(
        late.chains[0]
            .reason
            .starts_with("in the slow case it is done only at"),
        "{:?}",
        late.chains
    );
    assert!(
        late.changes
            .iter()
            .all(|change| change.serve_at > moment("2026-12-19T17:25[Europe/Lisbon]"))
    );
    // 13:00 and the row of 12 lb, 3 h to 3 h 45 min (USDA FSIS), end from 16:00 to 16:45.
    let told = late
        .findings
        .iter()
        .find(|finding| finding.text.starts_with("140 °F at"))
        .unwrap();
    for part in ["3:10 pm", "4:00 pm", "4:45 pm", "in its slow case at"] {
        assert!(told.text.contains(part), "{}", told.text);
    }
    // At the later hour it may be done more than two hours early: then it is carved, chilled and heated again.
    let early = at("2026-12-19T20:30[Europe/Lisbon]");
    assert!(!early.feasible);
    assert!(
        early
            .changes
            .iter()
            .any(|change| change.change.starts_with("Keep roasting")),
        "{:?}",
        early.changes
    );
    assert!(
        early.news[0].what.contains("keeps the hour"),
        "{:?}",
        early.news
    );
}

#[test]
fn a_bird_in_the_oven_goes_on_by_the_row() {
    let mut asked = thawed("2026-12-19T15:10[Europe/Lisbon]");
    asked["progress"] = json!([{"at": "2026-12-19T13:35[Europe/Lisbon]", "started": "roast"}]);
    let plan = planned(&asked);
    assert!(plan.feasible, "{:?}", plan.chains);
    let roast = plan.steps.iter().find(|step| step.id == "roast").unwrap();
    assert_eq!(roast.title, "Keep roasting");
    assert_eq!(
        roast.window.planned,
        moment("2026-12-19T13:35[Europe/Lisbon]")
    );
    assert_eq!(roast.duration.high, duration("225 min"));
}

/// Two birds and a dish at noon: what is done is told of the bird that it was done to, and the rest stays as planned.
#[test]
fn one_of_two_birds_is_late() {
    let asked = |now: &str, news: Value| {
        planned(&json!({
            "serve_at": SERVE, "now": now, "planned_at": "2026-12-19T08:00[Europe/Lisbon]", "guests": {"adults": 14},
            "birds": [
                {"name": "large", "species": "turkey", "mass": "14 lb", "state": "thawed"},
                {"name": "small", "species": "turkey", "mass": "9 lb", "state": "thawed"},
            ],
            "methods": {"brine": "none", "roast": "steady"},
            "dishes": [{"name": "pie", "time": "30 min", "coolest": "350 °F", "hottest": "400 °F"}],
            "kitchen": {"ovens": [{"name": "left"}, {"name": "right"}]},
            "progress": news,
        }))
    };
    let before = asked("2026-12-19T08:00[Europe/Lisbon]", json!([]));
    assert!(before.feasible, "{:?}", before.chains);
    let roast = |plan: &Plan, bird: &str| {
        let is_it = |step: &&poulter::plan::Step| {
            step.id.starts_with("roast") && step.bird.as_deref() == Some(bird)
        };
        plan.steps.iter().find(is_it).unwrap().clone()
    };
    let was = roast(&before, "large");
    // USDA FSIS: 14 to 18 lb, 3¾ to 4¼ h; what goes in at the last moment of its window is
    // still on time in the slow case.
    assert_eq!(was.duration.high, duration("4 h 15 min"));
    for (late_by, feasible) in [("0 min", true), ("2 h", false)] {
        let started = was.window.latest.after(duration(late_by));
        let now = started.to_string();
        let news = json!([{"at": now, "bird": "large", "started": "roast"}]);
        let after = asked(&now, news);
        assert_eq!(after.feasible, feasible, "{late_by}");
        assert!(
            after
                .news
                .iter()
                .all(|news| news.why.contains("large: roast begun")),
            "{:?}",
            after.news
        );
        if feasible {
            let small = roast(&after, "small").window.planned;
            assert_eq!(small, roast(&before, "small").window.planned);
            let dish = |plan: &Plan| plan.steps.iter().find(|step| step.id == "dish-1").cloned();
            assert_eq!(dish(&after), dish(&before));
        } else {
            let least = after.changes.iter().map(|change| change.later_by).min();
            assert!(
                least.is_some_and(|least| least > Duration::ZERO),
                "{:?}",
                after.changes
            );
        }
    }
}

#[test]
fn a_late_brine_is_shorter_and_never_longer_than_its_limit() {
    // A brine under way ends when the bird is wanted. Two days raw is the limit (USDA FSIS).
    let brined = |at: &str| {
        let mut asked = frozen("2026-12-19T09:30[Europe/Lisbon]");
        asked["bird"]["state"] = json!("thawed");
        asked["planned_at"] = json!("2026-12-17T14:00[Europe/Lisbon]");
        asked["progress"] = json!([{"at": at, "started": "brine", "brine": "dry"}]);
        planned(&asked)
    };
    let late = brined("2026-12-19T09:00[Europe/Lisbon]");
    assert!(late.feasible);
    let brine = late.steps.iter().find(|step| step.id == "brine").unwrap();
    assert_eq!(
        brine.window.planned,
        moment("2026-12-19T09:00[Europe/Lisbon]")
    );
    assert!(
        late.news
            .iter()
            .any(|news| news.step.as_deref() == Some("brine"))
    );
}

#[test]
fn a_bird_out_of_the_cold_is_given_up_at_the_line() {
    // USDA FSIS: 2 h at most.
    for (minutes, verdict) in [(119, None), (120, None), (121, Some(Verdict::Fails))] {
        let mut asked = thawed("2026-12-19T09:00[Europe/Lisbon]");
        asked["progress"] = json!([{"at": "2026-12-19T08:00[Europe/Lisbon]",
            "stood_out": {"duration": format!("{minutes} min"), "surroundings": "70 °F"}}]);
        let plan = planned(&asked);
        assert_eq!(
            plan.abandoned.first().map(|bird| bird.verdict),
            verdict,
            "{minutes}"
        );
        assert_eq!(plan.feasible, verdict.is_none(), "{minutes}");
        if let Some(bird) = plan.abandoned.first() {
            assert_eq!(bird.rule, "us-consumer.hold.out");
            assert!(plan.news[0].what.contains("must not be eaten"));
            assert!(plan.chains.iter().all(|chain| !chain.kept));
        }
    }
    let mut unknown = thawed("2026-12-19T09:00[Europe/Lisbon]");
    unknown["progress"] = json!([{"at": "2026-12-19T08:00[Europe/Lisbon]", "stood_out": {}}]);
    let plan = planned(&unknown);
    assert_eq!(plan.abandoned[0].verdict, Verdict::CannotTell);
    assert!(!plan.feasible);
}

#[test]
fn a_bird_thawed_too_long_is_given_up_at_the_line() {
    // USDA FSIS: a bird thawed in the refrigerator is cooked within 2 days.
    for (minutes, given_up) in [(-1, false), (0, false), (1, true)] {
        let over = moment("2026-12-17T12:00[Europe/Lisbon]");
        let now = over.after(duration("2 d"));
        let shift = duration("1 min");
        let now = match minutes {
            -1 => now.before(shift),
            1 => now.after(shift),
            _ => now,
        };
        let mut asked = frozen(&now.to_string());
        asked["planned_at"] = json!("2026-12-12T09:00[Europe/Lisbon]");
        asked["methods"] = json!({"brine": "none", "roast": "steady"});
        asked["progress"] = json!([
            {"at": "2026-12-14T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
            {"at": over, "finished": "thaw"},
        ]);
        let plan = planned(&asked);
        assert_eq!(!plan.abandoned.is_empty(), given_up, "{minutes}");
        if given_up {
            assert_eq!(
                plan.abandoned[0].rule,
                "us-consumer.thaw.keep-after-refrigerator"
            );
        }
    }
}

#[test]
fn a_warm_raw_bird_is_given_up_unless_its_time_is_known() {
    // USDA FSIS: 40 °F or below.
    for (reading, given_up) in [("39.999 °F", false), ("40 °F", false), ("40.001 °F", true)] {
        let mut asked = thawed("2026-12-19T09:00[Europe/Lisbon]");
        asked["progress"] = json!([{"at": "2026-12-19T08:00[Europe/Lisbon]", "reading": reading}]);
        let plan = planned(&asked);
        assert_eq!(
            plan.abandoned.first().map(|bird| bird.verdict),
            given_up.then_some(Verdict::CannotTell),
            "{reading}"
        );
    }
}
