//! Storage, against the Cold Food Storage Chart and date marking.

use poulter::rules::Rulebook;
use poulter::storage::{Storage, StorageQuery, storage};
use poulter::{Answer, Error, ErrorKind};
use serde_json::{Value, json};

fn ask(query: Value) -> Result<Answer<Storage>, Error> {
    let query: StorageQuery = serde_json::from_value(query).unwrap();
    storage(Rulebook::builtin(), &query)
}

#[test]
fn the_chart_comes_out() {
    // FoodSafety.gov, Cold Food Storage Chart; months as 30 d.
    for (food, place, days) in [
        ("raw-whole", "refrigerator", (1.0, 2.0)),
        ("raw-whole", "freezer", (365.0, 365.0)),
        ("raw-parts", "refrigerator", (1.0, 2.0)),
        ("raw-parts", "freezer", (270.0, 270.0)),
        ("ground", "freezer", (90.0, 120.0)),
        ("giblets", "refrigerator", (1.0, 2.0)),
        ("cooked", "refrigerator", (3.0, 4.0)),
        ("cooked", "freezer", (60.0, 180.0)),
        ("stuffing", "refrigerator", (3.0, 4.0)),
        ("stuffing", "freezer", (30.0, 30.0)),
        ("gravy", "refrigerator", (3.0, 4.0)),
        ("stock", "freezer", (60.0, 90.0)),
        ("soup", "refrigerator", (3.0, 4.0)),
    ] {
        let answer = ask(json!({"food": food, "place": place})).unwrap().answer;
        assert_eq!(
            (answer.keeps.low.as_days(), answer.keeps.high.as_days()),
            days,
            "{food} {place}"
        );
        assert_eq!(answer.quality_only, place == "freezer");
    }
}

#[test]
fn dates_count_whole_days() {
    let query = json!({"food": "raw-whole", "place": "refrigerator", "since": "2026-12-30"});
    let answer = ask(query).unwrap().answer;
    assert_eq!(answer.use_by.unwrap().to_string(), "2026-12-31");
    assert_eq!(answer.last_day.unwrap().to_string(), "2027-01-01");
    assert!(
        ask(json!({"food": "soup", "place": "refrigerator"}))
            .unwrap()
            .answer
            .last_day
            .is_none()
    );
    let beyond = json!({"food": "soup", "place": "refrigerator", "since": "9999-12-30"});
    assert_eq!(ask(beyond).unwrap_err().kind(), ErrorKind::BadMoment);
}

#[test]
fn sources_that_disagree_are_shown() {
    // University of Illinois Extension: gravy and stuffing 1 to 2 days; the chart: 3 to 4.
    for food in ["gravy", "stuffing"] {
        let answer = ask(json!({"food": food, "place": "refrigerator"}))
            .unwrap()
            .answer;
        assert_eq!(answer.findings.len(), 1);
        assert!(
            answer.findings[0].text.contains("1 d to 2 d"),
            "{}",
            answer.findings[0].text
        );
    }
    // FSIS, Handling Cooked Dinners: stuffing 4 to 6 months frozen; the chart: 1.
    let frozen = ask(json!({"food": "stuffing", "place": "freezer"}))
        .unwrap()
        .answer;
    assert!(frozen.findings[0].text.contains("120 d to 180 d"));
}

#[test]
fn date_marking_counts_the_day_of_preparation() {
    // Food Code 3-501.17: 7 days, the day of preparation being day 1: made on the 1st, discarded after the 7th.
    let query = json!({
        "food": "cooked", "place": "refrigerator", "since": "2026-12-01", "standard": "us-food-code-2022"
    });
    let answer = ask(query).unwrap().answer;
    let mark = answer.findings.last().unwrap();
    assert_eq!(
        mark.rule.as_deref(),
        Some("us-food-code-2022.keep.date-mark")
    );
    assert!(
        mark.text.ends_with("Discard after 2026-12-07."),
        "{}",
        mark.text
    );
    assert_eq!(
        answer.temperature.unwrap().temperature.as_fahrenheit(),
        41.0
    );
}

#[test]
fn the_senses_come_before_every_date() {
    for food in ["raw-whole", "cooked", "gravy"] {
        let answer = ask(json!({"food": food, "place": "refrigerator"}))
            .unwrap()
            .answer;
        assert!(
            answer.to_do[0].contains("smells off"),
            "{}",
            answer.to_do[0]
        );
    }
}

#[test]
fn no_row_is_made_up() {
    let error =
        ask(json!({"food": "raw-whole", "place": "refrigerator", "species": "quail"})).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::NoPublishedRow, "food")
    );
}
