//! What one cook cannot do at once is told, not hidden.

use poulter::plan::{Order, Plan, plan};
use poulter::rules::Rulebook;

fn planned(birds: &str) -> Plan {
    let order = format!(
        r#"{{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-18T09:00[Europe/Lisbon]",
            "guests": {{"adults": 20}}, "kitchen": {{"ovens": [{{}}, {{}}]}}, "birds": [{birds}]}}"#
    );
    let order: Order = serde_json::from_str(&order).unwrap();
    let plan = plan(Rulebook::builtin(), &order).unwrap().answer;
    assert!(plan.feasible, "{:?}", plan.chains);
    plan
}

/// The lines of every carving.
fn carving(plan: &Plan) -> Vec<&str> {
    let steps = plan
        .steps
        .iter()
        .filter(|step| step.id.starts_with("carve"));
    steps
        .flat_map(|step| step.to_do.iter().map(String::as_str))
        .collect()
}

#[test]
fn birds_of_two_lines_brined_at_one_hour_want_two_cooks() {
    let turkey = r#""species": "turkey", "mass": "12 lb", "state": "fresh""#;
    let plan = planned(&format!(
        r#"{{"name": "left", {turkey}}}, {{"name": "right", {turkey}}}"#
    ));
    let text = |text: &str| {
        plan.findings
            .iter()
            .any(|finding| finding.text.contains(text))
    };
    assert!(
        text("Put the bird into the brine, left"),
        "{:#?}",
        plan.findings
    );
    assert!(text("Have a second pair of hands for them"));
}

#[test]
fn the_time_of_carving_is_told_for_all_birds_of_a_line() {
    // 15 to 20 min for a bird (common practice, no source).
    let line = |count: u32| {
        format!(r#"{{"species": "turkey", "mass": "12 lb", "state": "fresh", "count": {count}}}"#)
    };
    let (one, two) = (planned(&line(1)), planned(&line(2)));
    assert!(!carving(&one).iter().any(|line| line.contains("one cook")));
    assert!(
        carving(&two)
            .iter()
            .any(|line| line.contains("the 2 of them take one cook 30 min to 40 min")),
        "{:?}",
        carving(&two)
    );
}
