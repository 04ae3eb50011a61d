//! A bird that is in an oven already, where there are several.

use poulter::ErrorKind::{MissingField, UnknownValue};
use poulter::plan::{Order, Plan, plan};
use poulter::rules::Rulebook;
use poulter::units::Duration;
use serde_json::{Value, json};

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

/// A bird that is in an oven stays there: in the one that the progress names, or in the one that it was planned for.
#[test]
fn a_bird_in_an_oven_stays_in_it() {
    let asked = |now: &str, news: Value| {
        json!({
            "serve_at": SERVE, "now": now, "planned_at": "2026-12-19T08:00[Europe/Lisbon]", "guests": {"adults": 14},
            "birds": [
                {"name": "turkey", "species": "turkey", "mass": "14 lb", "state": "thawed"},
                {"name": "ducks", "species": "duck", "mass": "5 lb", "state": "thawed", "count": 2},
            ],
            "methods": {"brine": "none", "roast": "steady"},
            "kitchen": {"ovens": [{"name": "large", "birds_at_once": 2}, {"name": "small", "birds_at_once": 1, "fan": true}]},
            "progress": news,
        })
    };
    let oven_of = |plan: &Plan, bird: &str| -> Vec<u32> {
        let of = |step: &&poulter::plan::Step| {
            step.id.starts_with("roast") && step.bird.as_deref() == Some(bird)
        };
        let uses = plan.steps.iter().filter(of).flat_map(|step| &step.uses);
        uses.map(|kept| kept.number).collect()
    };
    let before = planned(&asked("2026-12-19T08:00[Europe/Lisbon]", json!([])));
    assert!(before.feasible, "{:?}", before.chains);
    // Only the large oven holds two ducks, so the turkey is planned for the small one.
    assert_eq!(oven_of(&before, "turkey"), [2]);
    assert_eq!(oven_of(&before, "ducks"), [1]);
    let is_turkeys = |step: &&poulter::plan::Step| {
        step.id.starts_with("roast") && step.bird.as_deref() == Some("turkey")
    };
    let start = before
        .steps
        .iter()
        .find(is_turkeys)
        .unwrap()
        .window
        .planned
        .clone();
    let begun = |oven: Option<&str>| {
        let news = json!([{"at": start, "bird": "turkey", "started": "roast", "oven": oven}]);
        asked(&start.to_string(), news)
    };
    // Nothing is said of the oven: the one of the plan, and the answer says that it took that.
    let order: Order = serde_json::from_value(begun(None)).unwrap();
    let answer = plan(Rulebook::builtin(), &order).unwrap();
    assert!(
        answer.answer.feasible && answer.answer.news.is_empty(),
        "{:?}",
        answer.answer.news
    );
    assert_eq!(oven_of(&answer.answer, "turkey"), [2]);
    assert!(
        answer
            .assumed
            .iter()
            .any(|text| text.contains("the plan had for it, small")),
        "{:?}",
        answer.assumed
    );
    for small in ["small", "2"] {
        let plan = planned(&begun(Some(small)));
        assert_eq!(oven_of(&plan, "turkey"), [2], "{small}");
    }
    // It went into the large oven instead: the ducks have none that holds both, so they go one by one or not at all.
    let other = planned(&begun(Some("large")));
    assert!(!oven_of(&other, "ducks").contains(&1));
    if other.feasible {
        assert_eq!(oven_of(&other, "turkey"), [1]);
        assert!(
            other
                .news
                .iter()
                .any(|news| news.what.contains("in large instead of small"))
        );
    } else {
        assert!(
            other.news[0].why.contains("roast begun in large"),
            "{:?}",
            other.news
        );
    }
}

/// Two ovens that differ only in their names: the other bird goes wherever the one in the oven is not.
#[test]
fn the_other_bird_takes_the_oven_that_is_left() {
    let at = |oven: &str| {
        planned(&json!({
            "serve_at": SERVE, "now": "2026-12-19T13:00[Europe/Lisbon]", "planned_at": "2026-12-19T08:00[Europe/Lisbon]",
            "guests": {"adults": 14},
            "birds": [
                {"name": "one", "species": "turkey", "mass": "14 lb", "state": "thawed"},
                {"name": "two", "species": "turkey", "mass": "12 lb", "state": "thawed"},
            ],
            "methods": {"brine": "none", "roast": "steady"},
            "kitchen": {"ovens": [{"name": "left"}, {"name": "right"}]},
            "progress": [{"at": "2026-12-19T13:00[Europe/Lisbon]", "bird": "one", "started": "roast", "oven": oven}],
        }))
    };
    for (oven, own, left) in [
        ("left", "left", "right"),
        ("right", "right", "left"),
        ("1", "left", "right"),
        ("2", "right", "left"),
    ] {
        let plan = at(oven);
        assert!(plan.feasible, "{oven}: {:?}", plan.chains);
        let used = |bird: &str| {
            let step = plan
                .steps
                .iter()
                .find(|step| step.id.starts_with("roast") && step.bird.as_deref() == Some(bird));
            step.unwrap().uses[0].name.clone().unwrap()
        };
        assert_eq!(
            (used("one").as_str(), used("two").as_str()),
            (own, left),
            "{oven}"
        );
    }
    let wrong = |piece: Value| {
        let order: Order = serde_json::from_value(json!({
            "serve_at": SERVE, "now": "2026-12-19T13:00[Europe/Lisbon]", "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"},
            "kitchen": {"ovens": [{"name": "left"}, {"name": "right"}]},
            "progress": [piece],
        }))
        .unwrap();
        let error = plan(Rulebook::builtin(), &order).unwrap_err();
        (error.kind(), error.field().to_owned())
    };
    let when = "2026-12-19T13:00[Europe/Lisbon]";
    for oven in ["middle", "0", "3"] {
        let (kind, field) = wrong(json!({"at": when, "started": "roast", "oven": oven}));
        assert_eq!(
            (kind, field.as_str()),
            (UnknownValue, "progress[0].oven"),
            "{oven}"
        );
    }
    let (kind, field) = wrong(json!({"at": when, "started": "brine", "oven": "left"}));
    assert_eq!(
        (kind, field.as_str()),
        (MissingField, "progress[0].started")
    );
}

/// Each bird stands as its own oven wants it (common practice, no source: in the middle where a fan moves the air).
#[test]
fn each_bird_stands_as_its_own_oven_wants_it() {
    let plan = planned(&json!({
        "serve_at": SERVE, "guests": {"adults": 14},
        "birds": [
            {"name": "one", "species": "turkey", "mass": "14 lb", "state": "thawed"},
            {"name": "two", "species": "turkey", "mass": "12 lb", "state": "thawed"},
        ],
        "methods": {"brine": "none", "roast": "steady"},
        "kitchen": {"ovens": [{"name": "still"}, {"name": "fan", "fan": true}]},
    }));
    assert!(plan.feasible);
    let roasts: Vec<_> = plan
        .steps
        .iter()
        .filter(|step| step.id.starts_with("roast"))
        .collect();
    assert_eq!(roasts.len(), 2);
    for step in roasts {
        let fan = step.uses[0].name.as_deref() == Some("fan");
        let says = |words: &str| step.to_do.iter().any(|line| line.contains(words));
        assert_eq!(says("in the middle of the oven"), fan, "{:?}", step.uses);
        assert_eq!(says("in the lowest third"), !fan, "{:?}", step.uses);
    }
}

/// A bird in the oven goes on as it was planned: the other way to run the oven is no way out any more.
#[test]
fn a_bird_in_an_oven_goes_on_as_it_was_planned() {
    let mut asked = json!({
        "serve_at": SERVE, "now": "2026-12-19T08:00[Europe/Lisbon]", "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"},
        "methods": {"brine": "none"},
    });
    let before = planned(&asked);
    let chosen = before.chains[0].roast;
    asked["planned_at"] = json!("2026-12-19T08:00[Europe/Lisbon]");
    asked["now"] = json!("2026-12-19T15:30[Europe/Lisbon]");
    asked["progress"] = json!([{"at": "2026-12-19T15:30[Europe/Lisbon]", "started": "roast"}]);
    let late = planned(&asked);
    assert!(!late.feasible);
    let other = late
        .chains
        .iter()
        .find(|chain| chain.roast != chosen)
        .unwrap();
    assert!(
        other.reason.contains("in the oven already, in another way"),
        "{}",
        other.reason
    );
    let later = late
        .changes
        .iter()
        .find(|change| change.later_by > Duration::ZERO)
        .unwrap();
    assert!(later.change.contains(chosen.words()), "{}", later.change);
}
