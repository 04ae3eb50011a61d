//! Purchase, against the published rules and yields.

use poulter::purchase::{Purchase, PurchaseQuery, purchase};
use poulter::rules::Rulebook;
use poulter::units::Mass;
use poulter::{Answer, Error, ErrorKind};
use serde_json::{Value, json};

fn ask(query: Value) -> Result<Answer<Purchase>, Error> {
    let query: PurchaseQuery = serde_json::from_value(query).unwrap();
    purchase(Rulebook::builtin(), &query)
}

fn pounds(text: &str) -> Mass {
    Mass::parse(text).unwrap()
}

#[test]
fn the_rule_for_a_person_gives_the_printed_amounts() {
    for (query, expected, source) in [
        (
            json!({"adults": 10}),
            "10 lb",
            "Ohio State University Extension: 1 lb a person",
        ),
        (
            json!({"adults": 10, "leftovers": "some"}),
            "15 lb",
            "USDA staff in farm news: 1.5 lb with leftovers",
        ),
        (
            json!({"adults": 6, "leftovers": "some"}),
            "9 lb",
            "the same, six people",
        ),
        (
            json!({"adults": 10, "leftovers": "plenty"}),
            "20 lb",
            "common practice: nearly 2 lb",
        ),
        (
            json!({"adults": 8, "bought_stuffed": true}),
            "10 lb",
            "Ohio State University Extension: 1.25 lb sold stuffed",
        ),
        (
            json!({"adults": 7, "children": 3}),
            "8.5 lb",
            "common practice: half for a child",
        ),
        (
            json!({"adults": 10, "service": "buffet"}),
            "12 lb",
            "common practice: 10 to 20 % more where guests help themselves",
        ),
        (
            json!({"adults": 10, "second_main": true}),
            "7.5 lb",
            "common practice: 60 to 75 % of each of two mains",
        ),
        (
            json!({"adults": 10, "second_main": true, "service": "buffet"}),
            "9 lb",
            "both: 10 lb x 1.2 x 0.75",
        ),
        (
            json!({"adults": 4, "appetite": "light"}),
            "3 lb",
            "common practice: three quarters",
        ),
    ] {
        assert_eq!(ask(query).unwrap().answer.buy, pounds(expected), "{source}");
    }
}

#[test]
fn a_pound_of_turkey_gives_the_cooked_meat_of_the_buying_guide() {
    // USDA Food Buying Guide PA-1331: 8.48 oz for 1 lb, 2.83 servings of 3 oz.
    let plate = ask(json!({"mass": "1 lb"}))
        .unwrap()
        .answer
        .on_the_plate
        .unwrap();
    assert!((plate.with_skin.as_ounces() - 8.48).abs() < 0.02);
    assert_eq!(plate.servings, 2);
    let plate = ask(json!({"mass": "100 lb"}))
        .unwrap()
        .answer
        .on_the_plate
        .unwrap();
    assert_eq!(plate.servings, 282);
}

#[test]
fn an_added_solution_asks_for_more() {
    // USDA SR26: 0.399 of a bird with solution is meat; ten portions of 7.5 oz take 187.97 oz, so 188 oz.
    let plain = ask(json!({"adults": 10})).unwrap().answer;
    let basted = ask(json!({"adults": 10, "solution_added": "8 %"}))
        .unwrap()
        .answer;
    assert_eq!(plain.buy, pounds("10 lb"));
    assert_eq!(basted.buy, pounds("188 oz"));
    assert!(
        basted
            .on_the_plate
            .unwrap()
            .source
            .contains("solution-added")
    );
}

#[test]
fn the_roasting_table_sets_the_number_of_birds() {
    // FSIS roasting table: its last row ends at 24 lb.
    for (mass, birds) in [
        ("23.99 lb", 1),
        ("24 lb", 1),
        ("24.01 lb", 2),
        ("48.01 lb", 3),
    ] {
        let answer = ask(json!({"mass": mass})).unwrap().answer;
        assert_eq!(answer.birds, birds, "{mass}: {}", answer.why);
        assert!(answer.each <= pounds("24 lb"));
    }
    // FoodSafety.gov, roasting charts (read in a copy): a duck of 4 to 6 lb, a goose of 8 to 12 lb.
    for (species, mass, birds) in [
        ("duck", "5.99 lb", 1),
        ("duck", "6 lb", 1),
        ("duck", "6.01 lb", 2),
        ("duck", "25 lb", 5),
        ("goose", "12 lb", 1),
        ("goose", "12.01 lb", 2),
    ] {
        for standard in ["us-consumer", "canada"] {
            let query = json!({"species": species, "mass": mass, "standard": standard});
            let answer = ask(query).unwrap();
            assert_eq!(
                answer.answer.birds, birds,
                "{standard}: {mass} of {species}"
            );
            let lent = answer
                .assumed
                .iter()
                .any(|text| text.contains("us-consumer.roast"));
            assert_eq!(lent, standard == "canada", "{:?}", answer.assumed);
        }
    }
    // British times of before 2017 went on without end: 35 min for each 1 kg above 6.5 kg.
    let query = json!({"mass": "12 kg", "standard": "uk", "on": "2016-06-01"});
    assert_eq!(ask(query).unwrap().answer.birds, 1);
    // One small hen to a person; none above 2 lb (9 CFR 381.170).
    for (mass, birds) in [("5 lb", 5), ("9.99 lb", 5), ("10 lb", 5), ("10.01 lb", 6)] {
        let query = json!({"adults": 5, "species": "small-hen", "mass": mass});
        assert_eq!(ask(query).unwrap().answer.birds, birds, "{mass}");
    }
}

#[test]
fn a_bird_at_hand_is_compared_with_the_need() {
    for (mass, words) in [
        ("11.9 lb", "short"),
        ("12 lb", "enough"),
        ("12.1 lb", "enough"),
    ] {
        let answer = ask(json!({"adults": 12, "mass": mass})).unwrap().answer;
        assert!(
            answer.findings[0].text.contains(words),
            "{}",
            answer.findings[0].text
        );
    }
}

#[test]
fn when_to_buy_and_the_senses_are_told() {
    let answer = ask(json!({"adults": 4})).unwrap().answer;
    // FSIS holiday page, 2014: buy fresh 1 to 2 days before.
    assert_eq!(answer.buy_fresh_before.unwrap().shown(), "1 d to 2 d");
    assert!(
        answer
            .rules
            .contains(&"us-consumer.storage.senses".to_owned())
    );
}

#[test]
fn what_does_not_fit_is_refused_with_its_field() {
    for (query, kind, field) in [
        (json!({}), ErrorKind::MissingField, "adults"),
        (json!({"adults": 1001}), ErrorKind::OutOfRange, "adults"),
        (json!({"children": 1001}), ErrorKind::OutOfRange, "children"),
        (json!({"mass": "0 lb"}), ErrorKind::OutOfRange, "mass"),
        (
            json!({"adults": 4, "solution_added": "50 %"}),
            ErrorKind::OutOfRange,
            "solution_added",
        ),
        (
            json!({"adults": 4, "species": "quail"}),
            ErrorKind::NoPublishedRow,
            "species",
        ),
        (
            json!({"adults": 4, "standard": "mars"}),
            ErrorKind::RuleUnknown,
            "standard",
        ),
    ] {
        let error = ask(query.clone()).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (kind, field),
            "{query}: {error}"
        );
    }
    assert!(ask(json!({"adults": 1000})).is_ok());
    assert!(ask(json!({"adults": 4, "solution_added": "49.9 %"})).is_ok());
}
