//! Plans for pieces in place of whole birds: what is said and asked of a bird is not said of a breast.

use poulter::plan::{Order, Plan, Step, plan};
use poulter::rules::Rulebook;

fn planned(bird: &str, now: &str) -> Plan {
    let order = format!(
        r#"{{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "{now}T09:00[Europe/Lisbon]",
            "guests": {{"adults": 6}}, "bird": {bird}}}"#
    );
    let order: Order = serde_json::from_str(&order).unwrap();
    let plan = plan(Rulebook::builtin(), &order).unwrap().answer;
    assert!(plan.feasible, "{:?}", plan.chains);
    plan
}

fn step<'p>(plan: &'p Plan, id: &str) -> &'p Step {
    plan.steps.iter().find(|step| step.id == id).unwrap()
}

fn text(plan: &Plan) -> String {
    let lines = plan.steps.iter().flat_map(|step| &step.to_do);
    lines.map(String::as_str).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_piece_has_no_giblets_no_wings_and_no_cavity() {
    let words = [
        "giblets",
        "breast up",
        "tent of foil",
        "innermost thigh",
        "already stuffed",
        "lowest third",
        "legs and wings may stay whole",
    ];
    let whole = text(&planned(
        r#"{"species": "turkey", "mass": "8 lb", "state": "fresh"}"#,
        "2026-12-18",
    ));
    let breast = text(&planned(
        r#"{"species": "turkey", "cut": "breast", "mass": "5 lb", "state": "fresh"}"#,
        "2026-12-18",
    ));
    for word in words.iter().filter(|word| **word != "already stuffed") {
        assert!(whole.contains(word), "{word} of a whole bird");
    }
    for word in words {
        assert!(!breast.contains(word), "{word} of a breast: {breast}");
    }
    assert!(breast.contains("in its thickest part and clear of bone"));
}

#[test]
fn what_holds_no_bones_gives_no_stock() {
    let with = |cut: &str, mass: &str| {
        let bird = format!(
            r#"{{"species": "chicken", "cut": "{cut}", "mass": "{mass}", "count": 6, "state": "fresh"}}"#
        );
        planned(&bird, "2026-12-18")
    };
    let has_stock = |plan: &Plan| plan.steps.iter().any(|step| step.id == "stock");
    assert!(has_stock(&with("leg", "8 oz")));
    let boneless = with("boneless-breast", "4 oz");
    assert!(!has_stock(&boneless));
    assert!(
        !boneless
            .shopping
            .iter()
            .any(|line| line.item.contains("celery"))
    );
    let held = &step(&boneless, "rest").record[0];
    assert_eq!(held.place.unwrap().name(), "thickest");
}

#[test]
fn pieces_are_salted_in_one_bowl() {
    // 1 % of the raw mass, the weaker end of custom (common practice, no source): 0.64 oz for eight of 8 oz.
    let legs =
        r#"{"species": "chicken", "cut": "leg", "mass": "8 oz", "count": 8, "state": "fresh"}"#;
    let plan = planned(legs, "2026-12-18");
    let salt = step(&plan, "brine")
        .to_do
        .iter()
        .find(|line| line.contains("weigh"))
        .unwrap();
    assert!(
        salt.starts_with("For all pieces together, weigh 0.6 oz of "),
        "{salt}"
    );
    assert!(
        salt.contains("every piece") && !salt.contains("cavity"),
        "{salt}"
    );
}

#[test]
fn two_hundred_guests_are_planned_and_what_the_oven_is_taken_to_hold_is_told() {
    let order = |oven: &str| -> Order {
        serde_json::from_str(&format!(
            r#"{{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-15T09:00[Europe/Lisbon]",
                "guests": {{"adults": 200}}, "bird": {{"species": "small-hen", "state": "fresh"}},
                "kitchen": {{"ovens": [{oven}]}}}}"#
        ))
        .unwrap()
    };
    let untold = plan(Rulebook::builtin(), &order("{}")).unwrap();
    assert!(untold.answer.feasible && untold.answer.bird.count == 200);
    let assumed = "Taken to go into oven 1 at once: 200 × fresh small hen";
    assert!(
        untold.assumed.iter().any(|text| text.starts_with(assumed)),
        "{:?}",
        untold.assumed
    );
    for (holds, feasible) in [("1", false), ("199", true), ("200", true)] {
        let told = plan(
            Rulebook::builtin(),
            &order(&format!(r#"{{"birds_at_once": {holds}}}"#)),
        )
        .unwrap();
        assert_eq!(told.answer.feasible, feasible, "{holds}");
        assert!(
            !told
                .assumed
                .iter()
                .any(|text| text.contains("birds_at_once"))
        );
    }
}

#[test]
fn a_fresh_bird_without_a_window_to_buy_it_is_bought_as_early_as_a_raw_one_keeps() {
    // USDA cold storage: raw duck and raw pieces keep 1 to 2 d (read in a copy).
    for (bird, title) in [
        (
            r#"{"species": "duck", "state": "fresh"}"#,
            "Buy 2 × fresh duck of 4 lb 8 oz each",
        ),
        (
            r#"{"species": "turkey", "cut": "breast", "state": "fresh"}"#,
            "Buy one fresh turkey breast on the bone of 4 lb 8 oz",
        ),
    ] {
        let plan = planned(bird, "2026-12-15");
        let buy = step(&plan, "buy");
        assert_eq!(buy.title, title);
        let before_the_oven = (step(&plan, "roast").window.planned).since(&buy.window.earliest);
        assert!(before_the_oven.as_hours() > 24.0, "{before_the_oven}");
        assert!(before_the_oven.as_hours() <= 48.0, "{before_the_oven}");
    }
}
