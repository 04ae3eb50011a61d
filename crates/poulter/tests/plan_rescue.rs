//! What may still become of a bird that has been in hand for a while, and by how little dinner moves.

use poulter::brine::BrineMethod;
use poulter::plan::{Moment, Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::units::Duration;
use serde_json::{Value, json};

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

fn turkey(state: &str, now: &str, news: &Value) -> Value {
    json!({
        "serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": now, "guests": {"adults": 10},
        "planned_at": "2026-12-10T09:00[Europe/Lisbon]",
        "bird": {"species": "turkey", "mass": "12 lb", "state": state},
        "methods": {"brine": "none", "roast": "steady"}, "progress": news,
    })
}

/// Bought or thawed 2 d before, a raw bird goes into the oven (USDA FSIS). 12 lb takes 3 h at the quickest; 30 min of rest,
/// 2 h hot and 20 min of carving before 18:30 let it go in at 12:40 at the earliest.
#[test]
fn a_raw_bird_waits_two_days_from_when_it_was_bought_or_thawed() {
    let bought = |at: &str| {
        let mut asked = turkey(
            "fresh",
            "2026-12-17T13:00[Europe/Lisbon]",
            &json!([{"at": at, "finished": "buy"}]),
        );
        asked["bird"]["mass"] = Value::Null;
        asked["guests"]["adults"] = json!(12);
        asked
    };
    let thawed = |at: &str| {
        turkey(
            "frozen",
            "2026-12-18T20:00[Europe/Lisbon]",
            &json!([
                {"at": "2026-12-13T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
                {"at": at, "finished": "thaw"},
                {"at": "2026-12-18T19:00[Europe/Lisbon]", "started": "brine", "brine": "dry"},
            ]),
        )
    };
    for (at, feasible) in [
        ("2026-12-17T12:39[Europe/Lisbon]", false),
        ("2026-12-17T12:40[Europe/Lisbon]", true),
        ("2026-12-17T12:41[Europe/Lisbon]", true),
    ] {
        for mut asked in [bought(at), thawed(at)] {
            asked["methods"]["brine"] = Value::Null;
            let plan = planned(&asked);
            assert_eq!(plan.feasible, feasible, "{at}: {:?}", plan.chains);
            assert!(plan.abandoned.is_empty());
        }
    }
    let late = planned(&bought("2026-12-17T12:39[Europe/Lisbon]"));
    assert!(
        late.changes
            .iter()
            .any(|change| change.change.starts_with("Buy another fresh bird")),
        "{:?}",
        late.changes
    );
}

#[test]
fn a_raw_bird_in_hand_is_given_up_at_the_line() {
    // Raw in the refrigerator for 2 d at most (USDA FSIS; FoodSafety.gov).
    for (state, rule) in [
        ("fresh", "us-consumer.storage.raw"),
        ("thawed", "us-consumer.thaw.keep-after-refrigerator"),
    ] {
        for (now, given_up) in [
            ("2026-12-12T08:59[Europe/Lisbon]", false),
            ("2026-12-12T09:00[Europe/Lisbon]", false),
            ("2026-12-12T09:01[Europe/Lisbon]", true),
        ] {
            let plan = planned(&turkey(state, now, &json!([])));
            let rules: Vec<_> = plan.abandoned.iter().map(|bird| &bird.rule).collect();
            assert_eq!(rules.contains(&&rule.to_owned()), given_up, "{state} {now}");
            assert!(!plan.feasible);
            let offers_to_freeze = plan
                .changes
                .iter()
                .any(|change| change.change.starts_with("Freeze"));
            assert!(!(given_up && offers_to_freeze), "{:?}", plan.changes);
        }
    }
}

/// 12 lb goes into the oven at 14:00: 3 h 45 min (USDA FSIS), 20 min of rest and 20 min of carving before 18:30, and
/// the quarter of an hour before. With ice left in it, it may be thawed at any moment, and is kept for 2 d after that.
#[test]
fn a_bird_with_ice_left_does_not_wait_in_the_refrigerator_for_its_water() {
    for (now, feasible) in [
        ("2026-12-17T13:59[Europe/Lisbon]", false),
        ("2026-12-17T14:00[Europe/Lisbon]", true),
        ("2026-12-17T14:01[Europe/Lisbon]", true),
    ] {
        let mut asked = turkey("part-frozen", now, &json!([]));
        asked["planned_at"] = Value::Null;
        asked["methods"]["thaw"] = json!("cold-water");
        let plan = planned(&asked);
        assert_eq!(plan.feasible, feasible, "{now}: {:?}", plan.chains);
        let again = plan
            .changes
            .iter()
            .any(|change| change.change.starts_with("Freeze the bird again"));
        assert_eq!(again, !feasible, "{:?}", plan.changes);
        if feasible {
            let thaw = plan.steps.iter().find(|step| step.id == "thaw").unwrap();
            assert!(thaw.to_do[0].contains("Until then leave the bird in the refrigerator"));
        } else {
            // Raw poultry that was thawed is not frozen again in the United Kingdom (Food Standards Agency).
            asked["standard"] = json!("uk");
            let plan = planned(&asked);
            assert!(
                !plan
                    .changes
                    .iter()
                    .any(|change| change.change.starts_with("Freeze")),
                "{:?}",
                plan.changes
            );
        }
    }
}

/// Hard in the middle on the 12th and left in the refrigerator, the bird is thawed a week before dinner.
#[test]
fn a_thaw_that_is_given_up_for_water_does_not_go_on_for_a_week() {
    let news = json!([
        {"at": "2026-12-10T09:00[Europe/Lisbon]", "started": "thaw", "thaw": "refrigerator"},
        {"at": "2026-12-12T09:00[Europe/Lisbon]", "reading": "8 °F"},
    ]);
    let mut asked = turkey("frozen", "2026-12-12T09:00[Europe/Lisbon]", &news);
    asked["methods"]["thaw"] = json!("cold-water");
    let plan = planned(&asked);
    assert!(!plan.feasible);
    assert!(
        plan.chains[0]
            .reason
            .starts_with("it is thawing in the refrigerator"),
        "{}",
        plan.chains[0].reason
    );
    assert!(
        plan.changes
            .iter()
            .any(|change| change.change.contains("us-consumer.thaw.refreeze")),
        "{:?}",
        plan.changes
    );
}

/// A wet brine is given 8 h at least (common practice, no source). The bird comes out of it 45 min before the oven, at
/// 13:15.
#[test]
fn a_short_brine_is_told_and_is_the_one_that_was_planned() {
    for (at, short) in [
        ("2026-12-19T05:14[Europe/Lisbon]", false),
        ("2026-12-19T05:15[Europe/Lisbon]", false),
        ("2026-12-19T05:16[Europe/Lisbon]", true),
        ("2026-12-19T09:00[Europe/Lisbon]", true),
    ] {
        let mut asked = turkey(
            "fresh",
            "2026-12-19T09:10[Europe/Lisbon]",
            &json!([{"at": at, "started": "brine"}]),
        );
        asked["planned_at"] = json!("2026-12-18T09:00[Europe/Lisbon]");
        asked["methods"] = json!({"roast": "steady"});
        let answer = plan(
            Rulebook::builtin(),
            &serde_json::from_value(asked.clone()).unwrap(),
        )
        .unwrap();
        assert!(answer.answer.feasible);
        // Less than a day was left for a dry brine, so the plan before had a wet one.
        assert_eq!(answer.answer.chains[0].brine, BrineMethod::Wet);
        assert!(
            answer
                .assumed
                .iter()
                .any(|text| text.contains("brined in salt water"))
        );
        let told = answer
            .answer
            .findings
            .iter()
            .any(|finding| finding.text.starts_with("The brine has"));
        assert_eq!(told, short, "{at}");
    }
}

/// With one reading the readings leave so wide a band that no hour has both a slow case in time and a quick one held for
/// 2 h at most. Dinner moves by as little as the slow case asks, and the sheet says what to do with a bird done early.
#[test]
fn a_bird_in_the_oven_moves_dinner_by_as_little_as_its_slow_case() {
    let asked = json!({
        "serve_at": "2026-11-26T17:00[America/New_York]", "now": "2026-11-26T15:10[America/New_York]",
        "planned_at": "2026-11-25T08:00[America/New_York]", "guests": {"adults": 10},
        "bird": {"species": "turkey", "mass": "14 lb", "state": "thawed"},
        "progress": [
            {"at": "2026-11-26T12:15[America/New_York]", "started": "roast"},
            {"at": "2026-11-26T15:10[America/New_York]", "reading": "140 °F"},
        ],
    });
    let late = planned(&asked);
    assert!(!late.feasible);
    let [later] = &late.changes[..] else {
        panic!("{:?}", late.changes)
    };
    for part in ["Keep roasting and serve", "165 °F", "us-consumer.reheat"] {
        assert!(later.change.contains(part), "{}", later.change);
    }
    assert!(late.news[0].what.contains("it can be served"));
    let carved_then = |serve_at: Moment| {
        let mut moved = asked.clone();
        moved["serve_at"] = json!(serve_at);
        planned(&moved)
            .changes
            .iter()
            .any(|change| change.later_by == Duration::ZERO)
    };
    assert!(carved_then(later.serve_at.clone()));
    assert!(!carved_then(later.serve_at.before(duration("15 min"))));
}

/// Common practice, no source: carving takes one cook up to 20 min a bird.
#[test]
fn one_cook_carves_one_bird_after_the_other() {
    let step = |plan: &Plan, id: &str| {
        let step = plan.steps.iter().find(|step| step.id == id);
        step.unwrap().clone()
    };
    let hands = |plan: &Plan, what: &str| {
        let mut texts = plan.findings.iter().map(|finding| &finding.text);
        texts.any(|text| text.starts_with("One cook cannot") && text.contains(what))
    };
    // Both rest for 20 min and are ready 20 min before serving. Bread at the bird's own temperature that comes out at
    // serving keeps one of them from the oven for longer than 40 min: it is ready sooner by the rest.
    let with_bread = |minutes: i64| {
        planned(&json!({
            "serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-18T09:00[Europe/Lisbon]",
            "guests": {"adults": 16}, "methods": {"brine": "none", "roast": "steady"},
            "birds": [
                {"name": "large", "species": "turkey", "mass": "16 lb", "state": "thawed"},
                {"name": "other", "species": "turkey", "mass": "12 lb", "state": "thawed"}],
            "kitchen": {"ovens": [{"name": "upper"}, {"name": "lower"}]},
            "dishes": [
                {"name": "bread", "time": format!("{minutes} min"), "coolest": "325 °F", "hottest": "325 °F"}],
        }))
    };
    for (minutes, in_turn) in [(59, false), (60, true), (61, true)] {
        let plan = with_bread(minutes);
        let carves = [step(&plan, "carve-1"), step(&plan, "carve-2")];
        let [one, other] = carves.each_ref().map(|step| &step.window.planned);
        let apart = one.since(other).max(other.since(one));
        assert_eq!(apart == duration("20 min"), in_turn, "{minutes}: {apart}");
        assert_eq!(hands(&plan, "Carve"), !in_turn);
        let first = one.min(other);
        let gravy = step(&plan, "gravy");
        assert!(gravy.window.latest <= *first);
        // Cut meat is chilled within 2 h (USDA FSIS), counted from the first cut.
        assert_eq!(
            step(&plan, "chill").window.latest,
            first.after(duration("2 h"))
        );
    }
}
