//! Leftovers and cooling, against the published limits.

use poulter::leftovers::{CoolingCheck, Leftovers, LeftoversQuery, check_cooling, leftovers};
use poulter::rules::{Rulebook, Verdict};
use poulter::{Error, ErrorKind};
use serde_json::{Value, json};

fn ask(query: Value) -> Result<Leftovers, Error> {
    let query: LeftoversQuery = serde_json::from_value(query).unwrap();
    leftovers(Rulebook::builtin(), &query).map(|answer| answer.answer)
}

const RETAIL: &str = "us-food-code-2022";

fn cool(standard: &str, readings: &[(&str, &str)]) -> Verdict {
    let readings: Vec<_> = readings
        .iter()
        .map(|(elapsed, temperature)| json!({"elapsed": elapsed, "temperature": temperature}))
        .collect();
    let check: CoolingCheck =
        serde_json::from_value(json!({"standard": standard, "readings": readings})).unwrap();
    check_cooling(Rulebook::builtin(), &check)
        .unwrap()
        .answer
        .verdict
}

fn retail(readings: &[(&str, &str)]) -> Verdict {
    cool(RETAIL, readings)
}

#[test]
fn two_stages_are_judged_under_at_and_over() {
    // Food Code 3-501.14(A): 135 to 70 °F within 2 h, and to 41 °F within 6 h in all.
    for (first, second, expected) in [
        ("1 h 59 min", "5 h 59 min", Verdict::Meets),
        ("2 h", "6 h", Verdict::Meets),
        ("2 h 1 min", "5 h 59 min", Verdict::Fails),
        ("1 h 59 min", "6 h 1 min", Verdict::Fails),
    ] {
        let readings = [("0 h", "135 °F"), (first, "70 °F"), (second, "41 °F")];
        assert_eq!(retail(&readings), expected, "{first} {second}");
    }
    for (reading, expected) in [
        ("69.9 °F", Verdict::Meets),
        ("70 °F", Verdict::Meets),
        ("70.1 °F", Verdict::Fails),
        ("21 °C", Verdict::Meets),
        ("21.2 °C", Verdict::Fails),
    ] {
        let readings = [("0 h", "57.3 °C"), ("2 h", reading), ("6 h", "5 °C")];
        assert_eq!(retail(&readings), expected, "{reading}");
    }
    for (reading, expected) in [
        ("40.9 °F", Verdict::Meets),
        ("41 °F", Verdict::Meets),
        ("5 °C", Verdict::Meets),
        ("41.1 °F", Verdict::CannotTell),
    ] {
        let readings = [("0 h", "135 °F"), ("2 h", "70 °F"), ("6 h", reading)];
        assert_eq!(retail(&readings), expected, "{reading}");
    }
}

#[test]
fn the_clock_starts_at_the_last_reading_at_or_above_the_start() {
    for (start, expected) in [
        ("135.1 °F", Verdict::Meets),
        ("135 °F", Verdict::Meets),
        ("134.9 °F", Verdict::CannotTell),
    ] {
        assert_eq!(
            retail(&[("0 h", start), ("2 h", "70 °F"), ("6 h", "41 °F")]),
            expected,
            "{start}"
        );
    }
    // The hour above 135 °F does not count.
    let hot_first = [
        ("0 h", "160 °F"),
        ("1 h", "136 °F"),
        ("3 h", "70 °F"),
        ("7 h", "41 °F"),
    ];
    assert_eq!(retail(&hot_first), Verdict::Meets);
    // Too slow is too slow even where the start is not known.
    assert_eq!(
        retail(&[("0 h", "130 °F"), ("2 h 1 min", "70 °F"), ("5 h", "41 °F")]),
        Verdict::Fails
    );
}

#[test]
fn incomplete_data_never_pass() {
    for readings in [
        &[][..],
        &[("0 h", "140 °F")],
        &[("0 h", "135 °F"), ("1 h", "70 °F")],
        &[("0 h", "135 °F"), ("2 h", "70 °F"), ("1 h", "41 °F")],
        &[("0 h", "135 °F"), ("0 h", "70 °F"), ("1 h", "41 °F")],
        &[
            ("0 h", "135 °F"),
            ("1 h", "70 °F"),
            ("2 h", "80 °F"),
            ("3 h", "41 °F"),
        ],
        &[
            ("0 h", "135 °F"),
            ("1 h", "70 °F"),
            ("2 h", "41 °F"),
            ("3 h", "42 °F"),
        ],
    ] {
        assert_eq!(retail(readings), Verdict::CannotTell, "{readings:?}");
    }
    // Nothing is interpolated: the first reading at or below the end counts.
    assert_eq!(
        retail(&[("0 h", "135 °F"), ("2 h 30 min", "45 °F"), ("3 h", "41 °F")]),
        Verdict::Fails
    );
    let check: CoolingCheck = serde_json::from_value(json!({"standard": RETAIL, "readings": [
        {"elapsed": "0 h", "temperature": "135 °F"}, {"elapsed": "1 h"},
        {"elapsed": "2 h", "temperature": "70 °F"}, {"elapsed": "6 h", "temperature": "41 °F"}
    ]}))
    .unwrap();
    let answer = check_cooling(Rulebook::builtin(), &check).unwrap().answer;
    assert_eq!(answer.verdict, Verdict::CannotTell);
}

#[test]
fn a_separate_second_stage_buys_no_time() {
    // FSANZ Standard 3.2.2 clause 7(3): 60 to 21 °C within 2 h, then to 5 °C within a further 4 h.
    for (end, expected) in [
        ("4 h 59 min", Verdict::Meets),
        ("5 h", Verdict::Meets),
        ("5 h 1 min", Verdict::Fails),
    ] {
        let readings = [("0 h", "60 °C"), ("1 h", "21 °C"), (end, "5 °C")];
        assert_eq!(cool("australia", &readings), expected, "{end}");
    }
}

#[test]
fn a_standard_without_stages_says_so() {
    let check: CoolingCheck = serde_json::from_value(json!({"readings": []})).unwrap();
    let error = check_cooling(Rulebook::builtin(), &check).unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::NoPublishedRow, "standard")
    );
}

#[test]
fn leftovers_have_a_moment_and_dates() {
    // FSIS, Leftovers: within 2 h, 1 h above 90 °F; Cold Food Storage Chart: 3 to 4 days.
    let answer =
        ask(json!({"cooked_at": "2026-12-19T23:30[Europe/Lisbon]", "mass": "2 lb"})).unwrap();
    assert_eq!(
        answer.chill_by.map(|at| at.to_string()).as_deref(),
        Some("2026-12-20T01:30:00+00:00[Europe/Lisbon]")
    );
    let meat = &answer.keeps[0];
    assert_eq!(
        (
            meat.use_by.unwrap().to_string(),
            meat.last_day.unwrap().to_string()
        ),
        ("2026-12-22".to_owned(), "2026-12-23".to_owned())
    );
    assert_eq!(answer.servings, Some(10));
    assert_eq!(answer.reheat.unwrap().temperature.as_fahrenheit(), 165.0);
    assert_eq!(answer.depth.unwrap().as_inches(), 2.0);
    let hot =
        ask(json!({"cooked_at": "2026-07-04T18:00[America/Chicago]", "surroundings": "95 °F"}))
            .unwrap();
    assert_eq!(
        hot.chill_by.map(|at| at.to_string()).as_deref(),
        Some("2026-07-04T19:00:00-05:00[America/Chicago]")
    );
}

#[test]
fn a_change_of_clock_does_not_lengthen_the_time() {
    // Clocks in Chicago go from 2 am back to 1 am on 1 November 2026: two hours after 00:30 it is 1:30 again.
    let answer = ask(json!({"cooked_at": "2026-11-01T00:30[America/Chicago]"})).unwrap();
    assert_eq!(
        answer.chill_by.map(|at| at.to_string()).as_deref(),
        Some("2026-11-01T01:30:00-06:00[America/Chicago]")
    );
}

#[test]
fn a_moment_needs_its_zone() {
    for text in ["2026-12-19T18:30", "18:30", "2026-12-19[Europe/Lisbon]"] {
        let request = json!({"kind": "leftovers", "cooked_at": text}).to_string();
        let error = poulter::evaluate_json(&request).unwrap_err();
        assert_eq!(
            (error.kind(), error.field()),
            (ErrorKind::BadMoment, "cooked_at"),
            "{text}"
        );
    }
}

#[test]
fn time_to_the_refrigerator_is_judged() {
    for (time, expected) in [
        ("119 min", Verdict::Meets),
        ("2 h", Verdict::Meets),
        ("121 min", Verdict::Fails),
    ] {
        let answer = ask(json!({"chilled_after": time, "surroundings": "70 °F"})).unwrap();
        assert_eq!(answer.findings[0].verdict, Some(expected), "{time}");
    }
}

#[test]
fn a_plant_cools_by_the_option_it_names() {
    // Appendix B of 1999: option 2 from 120 to 80 °F within 1 h and to 55 °F within 6 h; option 3, cured, 5 h and 10 h.
    let judge = |process: Option<&str>, readings: [(&str, &str); 3]| {
        let readings = readings.map(|(elapsed, at)| json!({"elapsed": elapsed, "temperature": at}));
        let check = json!({"standard": "us-processor", "process": process, "readings": readings});
        let check: CoolingCheck = serde_json::from_value(check).unwrap();
        check_cooling(Rulebook::builtin(), &check)
            .unwrap()
            .answer
            .verdict
    };
    for (first, second, expected) in [
        ("59 min", "5 h 59 min", Verdict::Meets),
        ("1 h", "6 h", Verdict::Meets),
        ("1 h 1 s", "6 h", Verdict::Fails),
        ("1 h", "6 h 1 s", Verdict::Fails),
    ] {
        let readings = [("0 h", "120 °F"), (first, "80 °F"), (second, "55 °F")];
        assert_eq!(
            judge(Some("option-2"), readings),
            expected,
            "{first} {second}"
        );
    }
    for (first, second, expected) in [
        ("4 h 59 min", "14 h 59 min", Verdict::Meets),
        ("5 h", "15 h", Verdict::Meets),
        ("5 h 1 s", "15 h", Verdict::Fails),
        ("5 h", "15 h 1 s", Verdict::Fails),
    ] {
        let readings = [("0 h", "130 °F"), (first, "80 °F"), (second, "40 °F")];
        assert_eq!(judge(Some("cured"), readings), expected, "{first} {second}");
        // Without the word, the rule for uncured poultry stands.
        assert_eq!(judge(None, readings), Verdict::Fails);
    }
}
