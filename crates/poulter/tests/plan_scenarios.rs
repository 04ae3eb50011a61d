//! The orders of `tests/orders` against numbers of published sources, reckoned here by hand.

use poulter::Answer;
use poulter::plan::{Moment, Order, Performer, Plan, Resource, Step, plan};
use poulter::rules::Rulebook;
use poulter::thaw::ThawMethod;
use poulter::units::Duration;

fn planned(text: &str) -> Answer<Plan> {
    let answer = plan(Rulebook::builtin(), &Order::from_toml(text).unwrap()).unwrap();
    assert!(answer.answer.feasible, "{:?}", answer.answer.chains);
    answer
}

fn step<'p>(plan: &'p Plan, id: &str) -> &'p Step {
    plan.steps.iter().find(|step| step.id == id).unwrap()
}

fn duration(text: &str) -> Duration {
    Duration::parse(text).unwrap()
}

fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

/// The quick and the slow case of a step.
fn takes(plan: &Plan, id: &str, low: &str, high: &str) {
    let time = step(plan, id).duration;
    assert_eq!(
        (time.low, time.high),
        (duration(low), duration(high)),
        "{id}"
    );
}

fn says(step: &Step, text: &str) {
    assert!(
        step.to_do.iter().any(|line| line.contains(text)),
        "{:?}",
        step.to_do
    );
}

/// What the step's limits are, in words.
fn limits(step: &Step) -> Vec<&str> {
    step.record
        .iter()
        .map(|record| record.limit.as_str())
        .collect()
}

#[test]
fn lunch_after_the_clocks_went_forward_has_an_hour_less_of_night() {
    let plan = planned(include_str!(
        "../../../tests/orders/clock-change-lunch.toml"
    ))
    .answer;
    // Directive 2000/84/EC: summer time begins at 1:00 UTC on the last Sunday of March, 28 March 2027.
    let brine = step(&plan, "brine");
    let prepare = step(&plan, "prepare");
    assert!(brine.window.planned.to_string().contains("+00:00"));
    assert!(prepare.window.planned.to_string().contains("+01:00"));
    // From 15:00 on Saturday to 7:45 on Sunday the clock face moves by 16 h 45 min, and 15 h 45 min pass.
    assert_eq!(
        brine.window.planned,
        moment("2027-03-27T15:00[Europe/Lisbon]")
    );
    assert_eq!(
        prepare.window.planned,
        moment("2027-03-28T07:45[Europe/Lisbon]")
    );
    assert_eq!(brine.duration.high, duration("15 h 45 min"));
    // USDA FSIS: 12.1 lb thaws in 3 to 4 days, roasts 3 to 3¾ h at 325 °F, and stands 20 min before it is carved.
    takes(&plan, "thaw", "3 d", "4 d");
    takes(&plan, "roast", "3 h", "3 h 45 min");
    says(step(&plan, "roast"), "325 °F");
    let out = step(&plan, "roast")
        .window
        .latest
        .after(duration("225 min"));
    assert_eq!(out, moment("2027-03-28T12:20[Europe/Lisbon]"));
    assert!(step(&plan, "carve").window.planned >= out.after(duration("20 min")));
    // The gratin has the oven for its own 35 min once the bird is out in the slow case.
    let gratin = step(&plan, "dish-1");
    assert!(gratin.window.planned >= out);
    assert!(gratin.window.planned.after(duration("35 min")) <= plan.serve_at);
}

#[test]
fn at_3000_m_the_roast_takes_a_quarter_longer_and_the_minimum_stays() {
    let plan = planned(include_str!("../../../tests/orders/high-lodge.toml")).answer;
    // FoodSafety.gov on altitude: at 325 °F add one quarter. USDA FSIS: 14 to 18 lb roasts 3¾ to 4¼ h, so that the slow
    // case is 5 h 18 min 45 s; drier air may do without the quarter, so that the quick case stays 3¾ h.
    takes(&plan, "roast", "3 h 45 min", "318.75 min");
    says(step(&plan, "roast"), "325 °F");
    // FSIS, High Altitude Cooking: 165 °F inside at every height.
    assert_eq!(
        limits(step(&plan, "measure")),
        ["at least 165 °F (74 °C)"; 3]
    );
    // 19:30 less 20 min of carving, 20 min of rest and the slow case.
    assert_eq!(
        step(&plan, "roast").window.latest,
        moment("2026-12-31T13:31:15[America/La_Paz]")
    );
}

#[test]
fn two_ducks_go_into_a_small_oven_with_a_fan_together() {
    let plan = planned(include_str!("../../../tests/orders/two-ducks.toml")).answer;
    // FoodSafety.gov, roasting charts: duck of 4 to 6 lb, 30 to 35 min a pound at 350 °F: 150 to 175 min for 5 lb. An
    // oven maker's manual: the fan takes up to a quarter off, the setting stays; here of the quick case only.
    takes(&plan, "roast", "112.5 min", "175 min");
    says(step(&plan, "roast"), "350 °F");
    let ovens: Vec<_> = plan
        .steps
        .iter()
        .flat_map(|step| &step.uses)
        .filter(|kept| kept.resource == Resource::Oven)
        .collect();
    assert_eq!(ovens.len(), 1);
    assert_eq!((plan.bird.count, plan.bird.stuffed), (2, false));
    assert_eq!(
        limits(step(&plan, "measure")),
        ["at least 165 °F (74 °C)"; 3]
    );
}

#[test]
fn twenty_hours_thaw_a_bird_of_22_lb_in_water_only() {
    let plan = planned(include_str!("../../../tests/orders/frozen-20-hours.toml")).answer;
    // USDA FSIS: 30 min a pound is 11 h, the row of 20 to 24 lb ends at 12 h; water is changed every 30 min.
    takes(&plan, "thaw", "11 h", "12 h");
    let water = step(&plan, "thaw").repeat.as_ref().unwrap();
    assert_eq!(water.every, duration("30 min"));
    // The same table: 5 to 6 days in the refrigerator, which no 20 h hold.
    for chain in &plan.chains {
        let cold = chain.thaw == Some(ThawMethod::Refrigerator);
        // A bird thawed in water is cooked at once, so it is never brined.
        let brined = chain.brine != poulter::brine::BrineMethod::None;
        let water = chain.thaw == Some(ThawMethod::ColdWater);
        assert!(!chain.kept || !(cold || water && brined), "{chain:?}");
    }
    takes(&plan, "roast", "4 h 30 min", "5 h");
    // Rest of a large bird: common practice, no source.
    takes(&plan, "rest", "30 min", "40 min");
    // 17:00 less 20 min, 30 min, 5 h is 11:10, on the sheet 11:00; less 45 min and 12 h is 22:15.
    assert_eq!(
        step(&plan, "roast").window.latest,
        moment("2026-11-26T11:10[America/New_York]")
    );
    assert_eq!(
        step(&plan, "thaw").window.latest,
        moment("2026-11-25T22:15[America/New_York]")
    );
}

#[test]
fn a_goose_in_leeds_borrows_a_time_and_keeps_the_british_minimum() {
    let answer = planned(include_str!("../../../tests/orders/goose-uk.toml"));
    let plan = &answer.answer;
    // FoodSafety.gov, roasting charts: young goose of 8 to 12 lb (here 11 lb), 2½ to 3 h at 325 °F. The Food Standards
    // Agency prints no time, which the answer says.
    takes(plan, "roast", "2 h 30 min", "3 h");
    says(step(plan, "roast"), "163 °C");
    assert!(
        answer
            .assumed
            .iter()
            .any(|text| text.contains("uk prints no roasting time for goose"))
    );
    // Advisory Committee on the Microbiological Safety of Food: 70 °C for 2 min, no pink meat, clear juices.
    let measure = step(plan, "measure");
    assert_eq!(limits(measure), ["at least 70 °C for at least 2 min"]);
    says(measure, "juices run clear");
    // Food Safety and Hygiene (England) Regulations 2013, schedule 4: 63 °C hot, 8 °C cold.
    assert_eq!(limits(step(plan, "rest")), ["at least 63 °C"]);
    assert_eq!(limits(step(plan, "chill")), ["at most 8 °C"]);
    // NHS: leftovers within two days.
    let use_up = &step(plan, "use-up").window.latest;
    assert_eq!(*use_up, moment("2026-12-27T14:00[Europe/London]"));
}

#[test]
fn six_chickens_of_a_class_roast_by_the_row_of_a_broiler() {
    let plan = planned(include_str!("../../../tests/orders/class-of-24.toml")).answer;
    assert_eq!(plan.bird.count, 6);
    // USDA FSIS, Chicken from Farm to Table: a broiler of 3 to 4 lb, 1¼ to 1½ h at 350 °F.
    takes(&plan, "roast", "1 h 15 min", "1 h 30 min");
    says(step(&plan, "roast"), "350 °F");
    assert_eq!(
        limits(step(&plan, "measure")),
        ["at least 165 °F (74 °C)"; 3]
    );
    // USDA FSIS: two hours at most from the carving to the cold.
    // The brine waits for the first lesson's end, no longer than the 24 h of common practice (no source); its steps from
    // then on are the class's but for the days after.
    assert_eq!(
        step(&plan, "brine").window.planned,
        moment("2026-11-17T11:30[America/Chicago]")
    );
    for step in &plan.steps {
        let by = if step.id == "use-up" {
            Performer::Teacher
        } else {
            Performer::Class
        };
        assert_eq!(step.by, Some(by), "{}", step.id);
    }
    let chilled = step(&plan, "chill").window.latest.clone();
    assert!(chilled.since(&step(&plan, "carve").window.planned) <= duration("2 h"));
}

#[test]
fn a_fresh_bird_in_hand_six_days_early_is_frozen_or_bought_anew() {
    // FSIS, Turkey Basics: Safe Thawing and the cold food storage chart: a raw whole bird keeps 1 to 2 days in the
    // refrigerator; a frozen one of 12 to 16 lb thaws there in 3 to 4 days.
    let order = |now: &str| {
        format!(
            "serve_at = \"2026-12-24T19:00[Europe/Vienna]\"\nnow = \"{now}[Europe/Vienna]\"\n\
             [guests]\nadults = 10\n[bird]\nspecies = \"turkey\"\nmass = \"6 kg\"\nstate = \"fresh\"\n"
        )
    };
    let asked = |now: &str| {
        let order = Order::from_toml(&order(now)).unwrap();
        plan(Rulebook::builtin(), &order).unwrap().answer
    };
    let early = asked("2026-12-18T09:00");
    assert!(!early.feasible);
    let changes: Vec<&str> = early.changes.iter().map(|it| it.change.as_str()).collect();
    assert!(
        changes[0].starts_with("Freeze the bird at once"),
        "{changes:?}"
    );
    assert!(
        changes.iter().any(|it| it.contains("nearer the day")),
        "{changes:?}"
    );
    // Two days before, the bird is simply cooked, and three days before there is no time to freeze it
    // through, a day or more (common practice, no source), and to thaw it.
    assert!(asked("2026-12-23T09:00").feasible);
    let late = asked("2026-12-21T12:00");
    assert!(!late.feasible);
    assert!(!late.changes.iter().any(|it| it.change.contains("Freeze")));
}
