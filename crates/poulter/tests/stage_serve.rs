//! Rest, holding and the buffet clock, against the published limits.

use poulter::rules::{Rulebook, Verdict};
use poulter::serve::{RestAndCarve, ServeQuery, rest_and_carve};
use serde_json::{Value, json};

fn ask(mut query: Value) -> RestAndCarve {
    query["mass"] = json!("14 lb");
    let query: ServeQuery = serde_json::from_value(query).unwrap();
    rest_and_carve(Rulebook::builtin(), &query).unwrap().answer
}

fn verdict(query: Value) -> Verdict {
    ask(query)
        .findings
        .iter()
        .find_map(|finding| finding.verdict)
        .unwrap()
}

#[test]
fn the_buffet_clock_is_one_hour_above_ninety_degrees() {
    // FSIS, Danger Zone: 2 h; 1 h above 90 °F.
    for (air, hours) in [
        ("89.9 °F", 2.0),
        ("90 °F", 2.0),
        ("90.1 °F", 1.0),
        ("32.2 °C", 2.0),
        ("32.3 °C", 1.0),
    ] {
        let limit = ask(json!({"surroundings": air})).stand_out_for.unwrap();
        assert_eq!(limit.duration.as_hours(), hours, "{air}");
    }
}

#[test]
fn time_out_is_judged_under_at_and_over() {
    for (air, time, expected) in [
        ("70 °F", "1 h 59 min", Verdict::Meets),
        ("70 °F", "2 h", Verdict::Meets),
        ("70 °F", "2 h 1 s", Verdict::Fails),
        ("95 °F", "59 min", Verdict::Meets),
        ("95 °F", "1 h", Verdict::Meets),
        ("95 °F", "1 h 1 s", Verdict::Fails),
    ] {
        assert_eq!(
            verdict(json!({"surroundings": air, "out_for": time})),
            expected,
            "{air} {time}"
        );
    }
    // With no surroundings known, time between the two limits cannot be judged.
    for (time, expected) in [
        ("1 h", Verdict::Meets),
        ("1 h 1 s", Verdict::CannotTell),
        ("2 h", Verdict::CannotTell),
        ("2 h 1 s", Verdict::Fails),
    ] {
        assert_eq!(verdict(json!({"out_for": time})), expected, "{time}");
    }
}

#[test]
fn hot_holding_follows_the_standard() {
    // FSIS: 140 °F (60 °C); Food Code 3-501.16(A)(1): 135 °F.
    for (standard, reading, expected) in [
        ("us-consumer", "139.9 °F", Verdict::Fails),
        ("us-consumer", "140 °F", Verdict::Meets),
        ("us-consumer", "140.1 °F", Verdict::Meets),
        ("us-consumer", "59.9 °C", Verdict::Fails),
        ("us-consumer", "60 °C", Verdict::Meets),
        ("us-food-code-2022", "134.9 °F", Verdict::Fails),
        ("us-food-code-2022", "135 °F", Verdict::Meets),
        ("us-food-code-2022", "135.1 °F", Verdict::Meets),
    ] {
        let query = json!({"standard": standard, "held_at": reading});
        assert_eq!(verdict(query), expected, "{standard} {reading}");
    }
    // Kansas State: at most 2 h.
    for (time, expected) in [
        ("119 min", Verdict::Meets),
        ("2 h", Verdict::Meets),
        ("121 min", Verdict::Fails),
    ] {
        assert_eq!(verdict(json!({"held_for": time})), expected, "{time}");
    }
}

#[test]
fn slices_are_a_share_of_the_meat() {
    // 14 lb × 0.472 (USDA SR26) × 0.7 and 0.8 (common practice).
    let answer = ask(json!({}));
    assert!((answer.slices_low.unwrap().as_pounds() - 14.0 * 0.472 * 0.7).abs() < 1e-6);
    assert!((answer.slices_high.unwrap().as_pounds() - 14.0 * 0.472 * 0.8).abs() < 1e-6);
    assert_eq!(answer.rest.unwrap().shown(), "20 min to 30 min");
    assert_eq!(answer.carve.unwrap().shown(), "15 min to 20 min");
}

#[test]
fn stuffing_comes_out_of_a_stuffed_bird_only() {
    let says = |answer: RestAndCarve| {
        answer
            .to_do
            .iter()
            .any(|text| text.contains("take all stuffing out"))
    };
    assert!(says(ask(json!({"stuffed": true}))));
    assert!(!says(ask(json!({"stuffed": false}))));
}

#[test]
fn a_bird_above_eighteen_pounds_rests_longer() {
    // Cooks' custom: 20 to 30 min for 12 to 16 lb, 30 to 40 min above 18 lb.
    for (mass, low, high) in [
        ("17.999 lb", 20.0, 30.0),
        ("18 lb", 20.0, 30.0),
        ("18.001 lb", 30.0, 40.0),
        ("8.164 kg", 20.0, 30.0),
        ("8.165 kg", 30.0, 40.0),
    ] {
        let query = serde_json::from_value(json!({"mass": mass})).unwrap();
        let answer = rest_and_carve(Rulebook::builtin(), &query).unwrap().answer;
        let rest = answer.rest.unwrap();
        assert_eq!(
            (rest.low.as_minutes(), rest.high.as_minutes()),
            (low, high),
            "{mass}"
        );
    }
}
