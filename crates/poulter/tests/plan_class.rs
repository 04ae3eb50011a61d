//! Plans for a class: which way is preferred, and windows that end with the lesson.

use poulter::plan::{Block, Moment, Order, Performer, Plan, Step, plan};
use poulter::rules::Rulebook;
use poulter::units::Duration;
use proptest::prelude::*;
use serde_json::{Value, json};

const SERVE: &str = "2026-12-19T18:30[Europe/Lisbon]";

fn planned(value: &Value) -> Plan {
    let order: Order = serde_json::from_value(value.clone()).unwrap();
    plan(Rulebook::builtin(), &order).unwrap().answer
}

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

/// A class with lessons that begin so many hours before serving and last so many minutes.
fn class(lessons: &[(i64, i64)], state: &str) -> (Value, Vec<Block>) {
    let serve: Moment = SERVE.parse().unwrap();
    let blocks: Vec<Block> = lessons
        .iter()
        .map(|&(hours, minutes)| {
            let from = serve.before(duration(&format!("{hours} h")));
            let to = from.after(duration(&format!("{minutes} min")));
            Block { from, to }
        })
        .collect();
    // A fresh bird keeps for two days.
    let now = if state == "fresh" {
        "2026-12-17T20:00[Europe/Lisbon]"
    } else {
        "2026-12-13T09:00[Europe/Lisbon]"
    };
    let order = json!({
        "serve_at": SERVE,
        "now": now,
        "guests": {"adults": 24},
        "bird": {"species": "turkey", "mass": "12 lb", "state": state},
        "class": {"students": 24, "stations": 2, "lessons": blocks},
    });
    (order, blocks)
}

fn holds(lesson: &Block, step: &Step) -> impl Fn(&Moment) -> bool {
    let (from, to) = (lesson.from.clone(), lesson.to.clone());
    let busy = step.hands_on.unwrap_or(Duration::ZERO);
    move |at: &Moment| from <= *at && at.after(busy) <= to
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(80))]

    /// Whatever the class may do at any moment of a window, it may do in its lesson.
    #[test]
    fn the_window_of_a_step_ends_with_the_lesson_it_is_planned_in(
        lessons in prop::collection::vec((2_i64..60, 20_i64..240), 1..4), state in prop_oneof![Just("frozen"), Just("fresh")],
    ) {
        let (order, blocks) = class(&lessons, state);
        let plan = planned(&order);
        prop_assume!(plan.feasible);
        for step in &plan.steps {
            let window = &step.window;
            prop_assert!(window.earliest <= window.planned && window.planned <= window.latest, "{}", step.id);
            let in_lesson = blocks.iter().any(|lesson| {
                let holds = holds(lesson, step);
                [&window.earliest, &window.planned, &window.latest].into_iter().all(&holds)
            });
            let planned = blocks.iter().any(|lesson| holds(lesson, step)(&window.planned));
            prop_assert_eq!(step.by == Some(Performer::Class), planned, "{}", step.id);
            prop_assert_eq!(in_lesson, planned, "{}", step.id);
            prop_assert!(step.duration.low <= step.duration.likely, "{}", step.id);
        }
    }

    /// The ways that would do stand in the order of the stated criteria.
    #[test]
    fn ways_are_ranked_by_their_steps_outside_the_lessons(lessons in prop::collection::vec((2_i64..60, 20_i64..240), 1..4)) {
        let (order, _) = class(&lessons, "fresh");
        let plan = planned(&order);
        prop_assume!(plan.feasible);
        let ranks: Vec<_> = plan
            .chains
            .iter()
            .filter_map(|chain| chain.criteria.as_ref())
            .map(|own| (own.night_steps, own.compromises, own.outside_lessons.unwrap()))
            .collect();
        prop_assert!(ranks.is_sorted(), "{:?}", ranks);
    }
}

/// Steps up to the oven of the way chosen, by hand from the steps of the plan.
#[test]
fn the_criterion_counts_what_the_steps_say() {
    let (mut order, _) = class(&[(26, 120), (8, 240)], "fresh");
    for brine in ["wet", "dry", "none"] {
        order["methods"] = json!({"brine": brine, "roast": "steady"});
        let plan = planned(&order);
        assert!(plan.feasible, "{brine}");
        let counts =
            |step: &&Step| ["thaw", "brine", "prepare", "roast"].contains(&step.id.as_str());
        let outside = plan
            .steps
            .iter()
            .filter(counts)
            .filter(|step| step.by == Some(Performer::Teacher))
            .count();
        let told = plan.chains[0].criteria.as_ref().unwrap().outside_lessons;
        assert_eq!(told.map(|count| count as usize), Some(outside), "{brine}");
    }
}

/// One lesson the day before, in the evening or the morning, at an hour at which a wet brine may begin and a dry one may not, and the other way round.
#[test]
fn the_brine_that_the_lesson_allows_is_preferred_and_weights_turn_it_round() {
    let chosen = |lesson: (i64, i64), weights: Option<Value>| {
        let (mut order, _) = class(&[lesson], "fresh");
        order["methods"] = json!({"roast": "steady"});
        if let Some(weights) = weights {
            order["weights"] = weights;
        }
        let plan = planned(&order);
        assert!(plan.feasible);
        (plan.chains[0].brine.words(), plan)
    };
    // Wet: 8 to 24 h before the bird is made ready, 5 h 15 min before serving; dry: 1 to 3 d before the oven (common
    // practice, no source).
    let (wet, plan) = chosen((24, 60), None);
    assert_eq!(wet, "brined in salt water");
    let (dry, _) = chosen((34, 60), None);
    assert_eq!(dry, "salted dry");
    let told = plan
        .chains
        .iter()
        .any(|chain| chain.reason.contains("outside the lessons"));
    assert!(told, "{:?}", plan.chains);
    // Whatever else counts nothing, fewer steps outside are all that matters: no brine has none to begin.
    let (none, _) = chosen((34, 5), Some(json!({"outside_lesson": 1})));
    assert_eq!(none, "not brined");
}
