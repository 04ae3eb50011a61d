//! Plans for a kitchen with several birds, dishes, ovens and little room.

use poulter::bird::Species;
use poulter::brine::BrineMethod;
use poulter::plan::{Order, Performer, Plan, Resource, Step, Use, plan};
use poulter::rules::Rulebook;
use poulter::thaw::ThawMethod;
use poulter::units::{Duration, Volume};
use proptest::prelude::*;
use serde_json::{Value, json};

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn refused(value: &Value) -> (u16, String) {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    let error = plan(Rulebook::builtin(), &order).unwrap_err();
    (error.code(), error.field().to_owned())
}

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

fn order(dishes: &[Value], ovens: &[Value]) -> Value {
    json!({
        "serve_at": SERVE,
        "now": "2026-12-19T07:00[Europe/Lisbon]",
        "guests": {"adults": 8},
        "birds": [{"species": "turkey", "mass": "12 lb", "state": "thawed"}],
        "methods": {"brine": "none", "roast": "steady"},
        "dishes": dishes,
        "kitchen": {"ovens": ovens},
    })
}

fn dish(minutes: u32, coolest: u32, can_be_held: bool) -> Value {
    json!({"name": format!("dish of {minutes}"), "time": format!("{minutes} min"),
        "coolest": format!("{coolest} °F"), "hottest": format!("{} °F", coolest + 25), "can_be_held": can_be_held})
}

fn uses(plan: &Plan) -> Vec<&Use> {
    plan.steps.iter().flat_map(|step| &step.uses).collect()
}

fn overlap(plan: &Plan) -> Option<String> {
    let uses = uses(plan);
    for (at, one) in uses.iter().enumerate() {
        for other in &uses[at + 1..] {
            let whole = matches!(one.resource, Resource::Oven | Resource::Sink);
            let same = (one.resource, one.number) == (other.resource, other.number);
            // Dishes that come out together shared the oven.
            let batch = one.to == other.to && one.resource == Resource::Oven;
            if whole && same && !batch && one.from < other.to && other.from < one.to {
                return Some(format!("{one:?} {other:?}"));
            }
        }
    }
    None
}

fn step<'p>(plan: &'p Plan, id: &str) -> &'p Step {
    plan.steps.iter().find(|step| step.id == id).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn taking_an_oven_away_never_helps(
        minutes in prop::collection::vec(10_u32..90, 1..4), held: bool, fan: bool,
    ) {
        let dishes: Vec<_> = minutes.iter().map(|&minutes| dish(minutes, 400, held)).collect();
        let ovens = [json!({}), json!({"fan": fan})];
        let (both, one) = (planned(&order(&dishes, &ovens)), planned(&order(&dishes, &ovens[..1])));
        prop_assert!(both.feasible || !one.feasible);
        for plan in [&both, &one] {
            prop_assert!(overlap(plan).is_none(), "{:?}", overlap(plan));
        }
    }
}

#[test]
fn a_dish_goes_into_the_rest_and_moves_the_bird_only_when_it_must() {
    // 20 min of rest and 20 min of carving leave 40 min at the bird's own temperature, 30 min at another.
    for (minutes, coolest, moved) in [
        (40, 325, false),
        (45, 325, true),
        (30, 400, false),
        (35, 400, true),
    ] {
        let plan = planned(&order(&[dish(minutes, coolest, false)], &[json!({})]));
        assert!(plan.feasible, "{minutes}");
        let roast = step(&plan, "roast");
        let alone = planned(&order(&[], &[json!({})]));
        let shifted = roast.window.latest < step(&alone, "roast").window.latest;
        // A dish may come out up to 15 min before serving, but never after it.
        assert_eq!(shifted, moved, "{minutes} min at {coolest} °F");
        let out = roast.window.latest.after(roast.duration.high);
        assert!(out <= step(&plan, "dish-1").window.planned);
    }
}

#[test]
fn one_sink_takes_one_line_at_a_time_and_none_takes_none() {
    let mut asked = json!({
        "serve_at": SERVE,
        "now": "2026-12-19T06:00[Europe/Lisbon]",
        "guests": {"adults": 8},
        "birds": [
            {"name": "one", "species": "chicken", "mass": "4 lb", "state": "frozen"},
            {"name": "two", "species": "chicken", "mass": "4 lb", "state": "frozen"},
        ],
        "methods": {"thaw": "cold-water", "brine": "none", "roast": "steady"},
        "kitchen": {"ovens": [{}, {}], "sinks": 2},
    });
    // Two sinks, two ovens: both thaw at once. One sink: 3 h of thaw cannot both end just before the oven.
    for (sinks, feasible) in [(2, true), (1, false), (0, false)] {
        asked["kitchen"]["sinks"] = json!(sinks);
        let plan = planned(&asked);
        assert_eq!(plan.feasible, feasible, "{sinks} sinks");
        assert!(overlap(&plan).is_none());
        assert_eq!(plan.birds.len(), 2);
        assert!(
            plan.chains
                .iter()
                .all(|chain| !chain.reason.is_empty() && chain.bird.is_some())
        );
    }
}

#[test]
fn room_in_the_refrigerator_is_honoured_at_the_line() {
    // 12 lb is 5.443 kg: / 1.05 kg/L × 1.15 = 5.962 L, rounded up to 5.97 L.
    let room = |litres: &str, cooler: bool| {
        let mut asked = json!({
            "serve_at": SERVE,
            "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
            "methods": {"thaw": "refrigerator", "brine": "dry", "roast": "steady"},
            "kitchen": {"refrigerator_room": litres},
        });
        if cooler {
            asked["kitchen"]["cooler"] = json!({"room": "60 L"});
            asked["kitchen"]["refrigerator_days"] = json!([{"day": "2026-12-19", "room": "0 L"}]);
        }
        planned(&asked)
    };
    for (litres, feasible) in [("5.96 L", false), ("5.97 L", true), ("5.98 L", true)] {
        assert_eq!(room(litres, false).feasible, feasible, "{litres}");
    }
    let full = room("5.96 L", false);
    assert!(
        full.chains[0]
            .reason
            .contains("the refrigerator would have to hold"),
        "{}",
        full.chains[0].reason
    );
    let cooled = room("6 L", true);
    assert!(cooled.feasible);
    let brine = step(&cooled, "brine");
    assert_eq!(brine.uses[0].resource, Resource::Cooler);
    assert!(brine.uses[0].room.unwrap() <= Volume::parse("6 L").unwrap());
}

#[test]
fn a_full_refrigerator_turns_to_another_brine_then_to_none_then_to_water() {
    let chosen = |litres: &str| {
        let plan = planned(&json!({
            "serve_at": SERVE,
            "now": "2026-12-12T09:00[Europe/Lisbon]",
            "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
            "kitchen": {"refrigerator_room": litres},
        }));
        assert!(plan.feasible, "{litres}");
        assert!(overlap(&plan).is_none());
        let room = Volume::parse(litres).unwrap();
        assert!(
            uses(&plan)
                .iter()
                .all(|kept| kept.room.is_none_or(|kept| kept <= room))
        );
        (plan.chains[0].thaw.unwrap(), plan.chains[0].brine)
    };
    // A wet brine wants a vessel, a dry one no more than the bird's own 5.97 L (as above), water none.
    assert_eq!(chosen("30 L"), (ThawMethod::Refrigerator, BrineMethod::Wet));
    assert_eq!(chosen("6 L"), (ThawMethod::Refrigerator, BrineMethod::Dry));
    assert_eq!(chosen("5.96 L"), (ThawMethod::ColdWater, BrineMethod::None));
}

#[test]
fn an_oven_for_one_bird_cannot_do_two_in_a_row_within_two_hours_of_holding() {
    let ducks = |at_once: u32, ovens: usize| {
        let oven = json!({"fan": true, "birds_at_once": at_once});
        let mut asked = order(&[], &vec![oven; ovens]);
        asked["birds"] =
            json!([{"species": "duck", "count": 2, "mass": "5 lb", "state": "thawed"}]);
        planned(&asked)
    };
    assert!(ducks(2, 1).feasible);
    assert!(!ducks(1, 1).feasible);
    let apart = ducks(1, 2);
    assert!(apart.feasible && overlap(&apart).is_none());
    assert_eq!(
        apart
            .steps
            .iter()
            .filter(|step| step.id.starts_with("roast"))
            .count(),
        2
    );
    assert_eq!(apart.bird.species, Species::Duck);
    assert!(
        ducks(1, 1)
            .changes
            .iter()
            .any(|change| change.change.contains("one more oven"))
    );
}

#[test]
fn steps_keep_to_the_cooks_free_hours_where_their_window_lets_them() {
    let mut asked = json!({
        "serve_at": SERVE,
        "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
        "methods": {"thaw": "refrigerator", "brine": "none", "roast": "steady"},
        "cook": {"free": [
            {"from": "2026-12-14T18:00[Europe/Lisbon]", "to": "2026-12-14T20:00[Europe/Lisbon]"},
            {"from": "2026-12-19T09:00[Europe/Lisbon]", "to": "2026-12-19T19:00[Europe/Lisbon]"},
        ]},
    });
    let plan = planned(&asked);
    let thaw = &step(&plan, "thaw").window;
    assert_eq!(
        thaw.planned.to_string(),
        "2026-12-14T20:00:00+00:00[Europe/Lisbon]"
    );
    assert!(
        !plan
            .findings
            .iter()
            .any(|finding| finding.text.contains("Outside the cook's hours"))
    );
    asked["cook"] = json!({"free": [{"from": "2026-12-19T17:00[Europe/Lisbon]", "to": "2026-12-19T19:00[Europe/Lisbon]"}]});
    let text: Vec<_> = planned(&asked)
        .findings
        .into_iter()
        .map(|finding| finding.text)
        .collect();
    assert!(
        text.iter()
            .any(|text| text.contains("Outside the cook's hours") && text.contains("oven")),
        "{text:?}"
    );
}

#[test]
fn weights_turn_the_ranking_round() {
    let mut asked = json!({
        "serve_at": SERVE,
        "now": "2026-12-12T09:00[Europe/Lisbon]",
        "guests": {"adults": 8},
        "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
    });
    let usual = planned(&asked);
    assert_eq!(
        usual.chains[0].thaw,
        Some(poulter::thaw::ThawMethod::Refrigerator)
    );
    // An early start alone counts: the way that begins last wins.
    asked["weights"] = json!({"ahead_hour": 1});
    let late = planned(&asked);
    assert_eq!(
        late.chains[0].thaw,
        Some(poulter::thaw::ThawMethod::ColdWater)
    );
    let scores: Vec<_> = late
        .chains
        .iter()
        .filter(|chain| chain.kept)
        .map(|chain| chain.score.unwrap())
        .collect();
    assert!(scores.is_sorted(), "{scores:?}");
}

#[test]
fn a_meal_kit_is_not_begun_before_it_comes_nor_cooked_after_its_day() {
    let kit = |delivered: &str, use_by: &str| {
        planned(&json!({
            "serve_at": SERVE,
            "now": "2026-12-10T09:00[Europe/Lisbon]",
            "guests": {"adults": 4},
            "bird": {"species": "chicken", "mass": "4 lb", "state": "fresh"},
            "kit": {"delivered": delivered, "use_by": use_by},
        }))
    };
    let plan = kit("2026-12-18T12:00[Europe/Lisbon]", "2026-12-19");
    assert!(plan.feasible);
    let first = &plan.steps[0];
    assert_eq!(first.id, "take-in");
    assert_eq!(
        first.window.planned,
        "2026-12-18T12:00[Europe/Lisbon]".parse().unwrap()
    );
    assert!(
        first
            .to_do
            .iter()
            .any(|line| line.contains("Sat 19 Dec 2026"))
    );
    // USDA FSIS: 40 °F or below.
    assert_eq!(first.record[0].limit, "at most 40 °F (4.4 °C)");
    assert!(
        plan.steps
            .iter()
            .all(|step| step.window.planned >= first.window.planned)
    );
    let over = kit("2026-12-18T12:00[Europe/Lisbon]", "2026-12-18");
    assert!(!over.feasible);
    assert!(over.chains.iter().any(|chain| {
        chain
            .reason
            .contains("the kit's use-by date, Fri 18 Dec 2026")
    }));
    assert!(kit("2026-12-18T12:00[Europe/Lisbon]", "2026-12-20").feasible);
    // Two days raw (USDA FSIS) count from the delivery, whatever the date on it.
    assert!(!kit("2026-12-16T09:00[Europe/Lisbon]", "2026-12-24").feasible);
}

#[test]
fn in_a_class_every_step_is_in_a_lesson_or_the_teachers() {
    let text = include_str!("../../../tests/orders/class-of-24.toml");
    let order = Order::from_toml(text).unwrap();
    let plan = plan(Rulebook::builtin(), &order).unwrap().answer;
    assert_eq!(plan.bird.count, 6);
    let class = order.class.unwrap();
    for step in &plan.steps {
        let start = &step.window.planned;
        let end = start.after(step.hands_on.unwrap_or(Duration::ZERO));
        let in_lesson = class
            .lessons
            .iter()
            .any(|lesson| lesson.from <= *start && end <= lesson.to);
        assert_eq!(step.by == Some(Performer::Class), in_lesson, "{}", step.id);
    }
    // Where a group avoids wheat, all have one gravy without it.
    let bought: Vec<&str> = plan
        .shopping
        .iter()
        .map(|line| line.item.as_str())
        .collect();
    assert!(bought.contains(&"maize starch for the gravy"), "{bought:?}");
    assert!(
        !bought.iter().any(|item| item.contains("flour")),
        "{bought:?}"
    );
    assert!(
        plan.findings
            .iter()
            .any(|finding| finding.text.contains("stock may hold wheat"))
    );
}

#[test]
fn slack_is_what_the_slow_case_leaves() {
    let plan = planned(&order(&[], &[json!({})]));
    let roast = step(&plan, "roast");
    assert_eq!(
        roast.slack.unwrap(),
        roast.window.latest.since(&roast.window.planned)
    );
    let least = plan
        .steps
        .iter()
        .filter(|step| step.governs)
        .map(|step| step.slack.unwrap())
        .min()
        .unwrap();
    assert!(least <= duration("15 min"));
    assert!(
        plan.steps
            .iter()
            .filter(|step| step.governs)
            .all(|step| step.slack == Some(least))
    );
    let on_time = plan.on_time.unwrap();
    assert!(on_time.probability.as_percent() >= 80.0 && on_time.probability.as_percent() <= 100.0);
}

#[test]
fn what_does_not_fit_together_is_refused_by_name() {
    let base = order(&[], &[json!({})]);
    let with = |path: &str, value: Value| {
        let mut asked = base.clone();
        *asked.pointer_mut(path).unwrap() = value;
        asked
    };
    let mut both = base.clone();
    both["bird"] = json!({"species": "duck"});
    assert_eq!(refused(&both), (102, "birds".to_owned()));
    assert_eq!(refused(&with("/birds", json!([]))).1, "bird");
    let two = json!([{"species": "duck", "mass": "5 lb"}, {"species": "duck", "name": "second"}]);
    assert_eq!(refused(&with("/birds", two)).1, "birds[1].mass");
    // USDA FSIS has no row for a turkey of 60 lb, whichever line it stands on.
    let large = json!([{"species": "turkey", "mass": "12 lb", "state": "fresh"},
        {"species": "turkey", "mass": "60 lb", "state": "fresh", "name": "second"}]);
    assert_eq!(refused(&with("/birds", large)).1, "birds[1].mass");
    let salted = json!([{"species": "turkey", "mass": "12 lb", "solution_added": "100 %"}]);
    assert_eq!(
        refused(&with("/birds", salted)).1,
        "birds[0].solution_added"
    );
    let ovens = json!([{}, {}, {}, {}, {}]);
    assert_eq!(refused(&with("/kitchen/ovens", ovens)).1, "kitchen.ovens");
    let mut news = base.clone();
    news["progress"] = json!([{"at": "2026-12-19T09:00[Europe/Lisbon]", "started": "roast"}]);
    // Nothing can have happened after now.
    assert_eq!(refused(&news).1, "progress[0].at");
    news["progress"][0]["at"] = json!("2026-12-19T06:59[Europe/Lisbon]");
    news["progress"][0]["bird"] = json!("swan");
    assert_eq!(refused(&news).1, "progress[0].bird");
}

/// USDA FSIS, *The Big Thaw*: refrigerator, cold water and microwave oven are the ways to thaw; ice in a box is not one.
#[test]
fn no_bird_thaws_in_the_cooler() {
    let asked = |room: &str| {
        planned(&json!({
            "serve_at": SERVE,
            "now": "2026-12-10T09:00[Europe/Lisbon]",
            "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "12 lb", "state": "frozen"},
            "methods": {"thaw": "refrigerator", "brine": "none"},
            "kitchen": {"refrigerator_room": room, "cooler": {"room": "40 L"}},
        }))
    };
    // 12 lb at 1.05 kg/L with 15 % of head room is 5.97 L (hand).
    for (room, fits) in [("5.95 L", false), ("5.97 L", true), ("5.99 L", true)] {
        let plan = asked(room);
        assert_eq!(plan.feasible, fits, "{room}");
        let refused = plan.chains.iter().any(|chain| {
            chain
                .reason
                .contains("on ice is not among the standard's ways to thaw")
        });
        assert_eq!(refused, !fits, "{room}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// What may be done in a lesson is done in one: no quarter of an hour of any lesson would do for the teacher's steps.
    #[test]
    fn the_teacher_does_only_what_no_lesson_holds(
        hours_before in 14_i64..60, minutes in 20_i64..180, state in prop_oneof![Just("frozen"), Just("fresh")],
    ) {
        let serve: poulter::plan::Moment = SERVE.parse().unwrap();
        let from = serve.before(duration(&format!("{hours_before} h")));
        let to = from.after(duration(&format!("{minutes} min")));
        let asked = json!({
            "serve_at": SERVE,
            "now": "2026-12-14T09:00[Europe/Lisbon]",
            "guests": {"adults": 24},
            "bird": {"species": "turkey", "mass": "12 lb", "state": state},
            "methods": {"thaw": "refrigerator", "brine": "dry"},
            "class": {"students": 24, "stations": 2, "lessons": [{"from": from, "to": to}]},
        });
        let plan = planned(&asked);
        prop_assume!(plan.feasible);
        let teachers = |step: &&Step| step.by == Some(Performer::Teacher);
        for step in plan.steps.iter().filter(teachers).filter(|step| ["thaw", "brine"].contains(&step.id.as_str())) {
            let busy = step.hands_on.unwrap();
            let mut at = from.clone();
            while at.after(busy) <= to {
                prop_assert!(at < step.window.earliest || at > step.window.latest, "{} at {at}", step.id);
                at = at.after(duration("15 min"));
            }
        }
    }
}

/// Common practice, no source: a bird above 18 lb rests 30 to 40 min, any other 20 to 30 min.
#[test]
fn a_large_bird_rests_longer() {
    for (mass, low, high) in [
        ("17.99 lb", "20 min", "30 min"),
        ("18 lb", "20 min", "30 min"),
        ("18.01 lb", "30 min", "40 min"),
    ] {
        let mut asked = order(&[], &[]);
        asked["birds"][0]["mass"] = json!(mass);
        let plan = planned(&asked);
        let rest = plan.steps.iter().find(|step| step.id == "rest").unwrap();
        assert_eq!(rest.duration.low, duration(low), "{mass}");
        assert_eq!(rest.duration.high, duration(high), "{mass}");
        let said = format!("{low} to {high}");
        assert!(rest.to_do.iter().any(|text| text.contains(&said)), "{mass}");
    }
}

#[test]
fn what_several_lines_feed_is_told_together() {
    // A pound of raw turkey for a person (extension services, read in a copy): 20 people need 20 lb.
    for (mass, verdict) in [
        ("9.98 lb", "too few"),
        ("10 lb", "enough"),
        ("10.02 lb", "enough"),
    ] {
        let plan = planned(&json!({
            "serve_at": SERVE,
            "guests": {"adults": 20},
            "birds": [
                {"name": "one", "species": "turkey", "mass": "10 lb", "state": "thawed"},
                {"name": "other", "species": "turkey", "mass": mass, "state": "thawed"},
            ],
            "kitchen": {"ovens": [{"birds_at_once": 2}]},
        }));
        let told: Vec<&str> = plan
            .findings
            .iter()
            .map(|finding| finding.text.as_str())
            .filter(|text| text.contains("needed") || text.contains("need:"))
            .collect();
        let expected = format!("The birds together are {verdict}.");
        assert!(
            told.len() == 1 && told[0].starts_with(&expected),
            "{told:?}"
        );
        assert!(told[0].contains("one 50 %, other"), "{told:?}");
    }
}
