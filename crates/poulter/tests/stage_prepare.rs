//! Preparing, against the published amounts and instructions.

use poulter::prepare::{Prepare, PrepareQuery, StepTime, prepare};
use poulter::rules::Rulebook;
use poulter::{Error, ErrorKind};
use serde_json::{Value, json};

fn ask(query: Value) -> Result<Prepare, Error> {
    let query: PrepareQuery = serde_json::from_value(query).unwrap();
    prepare(Rulebook::builtin(), &query).map(|answer| answer.answer)
}

fn near(value: f64, expected: f64) {
    assert!((value - expected).abs() < 0.01, "{value} is not {expected}");
}

#[test]
fn stuffing_is_the_published_amount_for_the_mass() {
    // FSIS, Stuffing: about 3/4 cup a pound; University of Illinois Extension: from 1/2 cup. SR26: 200 g a cup.
    let amount = ask(json!({"mass": "12 lb", "stuffed": true}))
        .unwrap()
        .stuffing
        .unwrap();
    near(amount.volume_high.as_cups(), 9.0);
    near(amount.volume_low.as_cups(), 6.0);
    near(amount.mass_high.as_grams(), 1800.0);
    near(amount.mass_low.as_grams(), 1200.0);
    assert!(ask(json!({"mass": "12 lb"})).unwrap().stuffing.is_none());
}

#[test]
fn fat_and_salt_go_by_mass() {
    // Common practice: 1 tbsp for 3 lb, butter 14.2 g a tablespoon (SR26); FSIS: 1 tbsp of kosher salt for 5 lb;
    // 3 × 145/16 g = 27.2 g.
    let plain = ask(json!({"mass": "15 lb"})).unwrap();
    near(plain.fat.unwrap().as_grams(), 5.0 * 14.2);
    near(plain.salt.unwrap().mass.as_grams(), 27.2);
    let salted = ask(json!({"mass": "15 lb", "already_salted": true})).unwrap();
    assert!(salted.salt.is_none());
    assert!(salted.findings[0].text.contains("already holds salt"));
}

#[test]
fn the_steps_come_in_order_with_their_rules() {
    let steps = ask(json!({"mass": "12 lb", "stuffed": true}))
        .unwrap()
        .steps;
    let place = |rule: &str| {
        steps
            .iter()
            .position(|step| step.rule.as_deref() == Some(rule))
            .unwrap_or_else(|| panic!("{rule}"))
    };
    let order = [
        "us-consumer.prepare.hands",
        "us-consumer.prepare.wash",
        "us-consumer.prepare.giblets",
        "kitchen-practice.prepare.dry-skin",
        "us-consumer.prepare.stuffing",
        "us-consumer.prepare.stuffing.ahead",
        "us-consumer.prepare.part-cook",
        "us-consumer.prepare.sanitiser",
    ];
    assert!(order.windows(2).all(|pair| place(pair[0]) < place(pair[1])));
    assert!(
        steps[place("us-consumer.prepare.hands")]
            .text
            .contains("at least 20 s")
    );
    assert!(
        steps[place("us-consumer.prepare.sanitiser")]
            .text
            .contains("1 tbsp to 1 gal")
    );
    assert_eq!(
        steps[place("us-consumer.prepare.stuffing")].when,
        StepTime::AtTheOven
    );
    let breast = ask(json!({"mass": "6 lb", "cut": "breast"})).unwrap().steps;
    assert!(!breast.iter().any(|step| step.text.contains("iblets")));
}

#[test]
fn allergens_come_with_the_ingredients() {
    let query = json!({"mass": "12 lb", "ingredients": ["bread", "butter"], "avoid": ["milk"]});
    let found = ask(query).unwrap().allergens.unwrap();
    assert_eq!(found.contains.len(), 2);
    assert_eq!(found.findings.len(), 2);
    assert!(ask(json!({"mass": "12 lb"})).unwrap().allergens.is_none());
}

#[test]
fn a_bird_of_no_mass_is_refused() {
    let error = ask(json!({"mass": "0 lb"})).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::OutOfRange, "mass")
    );
}
