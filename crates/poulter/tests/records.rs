//! Verdicts over logs. Limits are those printed in the documents named beside each test; times are worked out by
//! hand on straight lines.

use poulter::records::RecordVerdict;
use poulter::rules::Margin;
use poulter::rules::Verdict::{self, CannotTell, Fails, Meets};
use poulter::{Request, Response, evaluate};
use proptest::prelude::*;
use serde_json::{Value, json};

fn ask(request: Value) -> RecordVerdict {
    match evaluate(&Request::from_value(request).unwrap()).unwrap() {
        Response::CheckCookingLog(answer)
        | Response::CheckCoolingLog(answer)
        | Response::CheckHoldingLog(answer)
        | Response::CheckReheatingLog(answer)
        | Response::CheckThawingLog(answer) => answer.answer,
        other => panic!("{other:?}"),
    }
}

fn refused(request: Value) -> poulter::Error {
    Request::from_value(request)
        .and_then(|request| evaluate(&request))
        .unwrap_err()
}

/// A request with the gaps and flat lines of a log written by hand allowed.
#[allow(clippy::needless_pass_by_value)] // a literal reads better where it is called
fn request(kind: &str, standard: &str, csv: &str, more: Value) -> Value {
    let mut request = json!({
        "kind": kind, "standard": standard, "log": {"csv": csv},
        "checks": {"longest_gap": "12 h", "flat_line": "12 h"},
    });
    for (name, value) in more.as_object().unwrap() {
        request[name] = value.clone();
    }
    request
}

fn verdict(kind: &str, standard: &str, csv: &str, more: Value) -> Verdict {
    ask(request(kind, standard, csv, more)).verdict
}

#[test]
fn a_bird_is_cooked_when_every_place_reached_the_minimum_in_both_units() {
    // FSIS: 165 °F (73.889 °C) at breast, thigh and wing.
    for (unit, reading, other, expected) in [
        ("degF", "164.999", "170", Fails),
        ("degF", "165", "170", Meets),
        ("degF", "165.001", "170", Meets),
        ("degC", "73.888", "77", Fails),
        ("degC", "73.889", "77", Meets),
        ("degC", "73.890", "77", Meets),
    ] {
        let csv = format!(
            "elapsed_min,breast_temp_{unit},left-thigh_temp_{unit},wing_temp_{unit},oven_temp_{unit}\n\
             0,{reading},{other},{other},200\n5,{reading},{other},{other},200\n"
        );
        let found = verdict("check_cooking_log", "us-consumer", &csv, json!({}));
        assert_eq!(found, expected, "{unit} {reading}");
        let without = csv.replace("wing", "surface");
        let found = verdict("check_cooking_log", "us-consumer", &without, json!({}));
        assert_eq!(found, if expected == Fails { Fails } else { CannotTell });
    }
}

#[test]
fn a_probe_in_the_pit_or_on_the_skin_cooks_nothing() {
    let more = || json!({"cut": "boneless-breast"});
    for (place, expected) in [
        ("core", Meets),
        ("pit", CannotTell),
        ("smoker2", CannotTell),
        ("fridge", CannotTell),
        ("breast_skin", CannotTell),
    ] {
        let csv = format!("elapsed_min,{place}_temp_degF\n0,170\n5,171\n");
        let found = verdict("check_cooking_log", "us-consumer", &csv, more());
        assert_eq!(found, expected, "{place}");
    }
}

#[test]
fn a_hold_is_timed_under_at_and_over_in_both_units() {
    // FSA: 70 °C (158 °F) for 2 min; 75 °C for 30 s counts as the same.
    for (unit, low, held) in [("degC", "69", "70"), ("degF", "157", "158")] {
        for (seconds, expected) in [("119.999", Fails), ("120", Meets), ("120.001", Meets)] {
            let csv = format!(
                "elapsed_s,core_temp_{unit}\n0,{low}\n100,{held}\n{},{held}\n400,{low}\n",
                100.0 + seconds.parse::<f64>().unwrap()
            );
            let found = ask(request(
                "check_cooking_log",
                "uk",
                &csv,
                json!({"cut": "thigh"}),
            ));
            assert_eq!(found.verdict, expected, "{unit} {seconds}");
            assert!(matches!(
                found.findings[0].finding.margin,
                Some(Margin::Duration(_))
            ));
        }
    }
    let short = "elapsed_s,core_temp_degC\n0,74\n60,75\n90,75\n100,60\n";
    let found = ask(request(
        "check_cooking_log",
        "uk",
        short,
        json!({"cut": "thigh"}),
    ));
    assert_eq!(found.verdict, Meets);
    let place = found.findings[0].place.as_ref().unwrap();
    assert_eq!(
        (place.name(), found.findings[0].at.unwrap().as_seconds()),
        ("core", 90.0)
    );
}

#[test]
fn the_thermometer_is_taken_to_be_wrong_on_the_unsafe_side() {
    let hot = |reading: &str| format!("elapsed_min,core_temp_degF\n0,{reading}\n5,{reading}\n");
    let more = json!({"cut": "thigh", "accuracy": "1 delta_degF"});
    for (reading, expected) in [("165.999", Fails), ("166", Meets), ("166.001", Meets)] {
        let found = verdict(
            "check_cooking_log",
            "us-consumer",
            &hot(reading),
            more.clone(),
        );
        assert_eq!(found, expected, "{reading}");
    }
    let cold = json!({"holding": "cold", "accuracy": "0.5 delta_degC"});
    for (reading, expected) in [("4.499", Meets), ("4.5", Meets), ("4.501", Fails)] {
        let csv = format!("elapsed_min,core_temp_degC\n0,{reading}\n5,{reading}\n");
        let found = verdict("check_holding_log", "us-food-code-2022", &csv, cold.clone());
        assert_eq!(found, expected, "{reading}");
    }
    for (given, fine) in [
        ("-0.001 delta_degC", false),
        ("10 delta_K", true),
        ("10.001 delta_K", false),
    ] {
        let given = given.replace("delta_K", "delta_degC");
        let more = json!({"cut": "thigh", "accuracy": given});
        let asked = request("check_cooking_log", "us-consumer", &hot("190"), more);
        let answered = Request::from_value(asked).and_then(|request| evaluate(&request));
        assert_eq!(answered.is_ok(), fine, "{given}");
    }
}

#[test]
fn kill_is_information_and_never_passes_a_consumer_standard() {
    // 150 °F for an hour is many times the 7-log10 hold of 4.9 min, and still below the consumer's 165 °F.
    let csv = "elapsed_min,core_temp_degF\n0,150\n30,150.5\n60,150\n";
    let found = ask(request(
        "check_cooking_log",
        "us-consumer",
        csv,
        json!({"cut": "thigh"}),
    ));
    assert_eq!(found.verdict, Fails);
    let kill = found.lethality.unwrap();
    assert_eq!(kill.places[0].shown, "at least 7 log10");
    assert_eq!(
        verdict(
            "check_cooking_log",
            "us-processor",
            csv,
            json!({"cut": "thigh"})
        ),
        Meets
    );
}

#[test]
fn stuffing_is_asked_for_and_judged() {
    let meat = "elapsed_min,breast_temp_degF,thigh_temp_degF,wing_temp_degF,stuffing_temp_degF\n\
                0,165,170,170,S\n5,165,170,170,S\n";
    for (stuffing, expected) in [("164.999", Fails), ("165", Meets), ("165.001", Meets)] {
        let csv = meat.replace('S', stuffing);
        let found = verdict(
            "check_cooking_log",
            "us-consumer",
            &csv,
            json!({"stuffed": true}),
        );
        assert_eq!(found, expected);
    }
    let without = meat.replace("stuffing", "air").replace('S', "200");
    assert_eq!(
        verdict(
            "check_cooking_log",
            "us-consumer",
            &without,
            json!({"stuffed": true})
        ),
        CannotTell
    );
}

#[test]
fn cooling_stages_are_timed_under_at_and_over_in_both_units() {
    // Food Code 3-501.14(A): 135 °F to 70 °F in 2 h, and to 41 °F in 6 h in all; 5 °C is 41 °F.
    // In Celsius the nearest thousandths lie a fraction of a second inside the limits.
    for (unit, start, middle, end, step) in [
        ("degF", "135", "70", "41", 0.001),
        ("degC", "57.223", "21.111", "5", 1.0),
    ] {
        for (first, last, expected) in [
            (7200.0 - step, 21600.0, Meets),
            (7200.0, 21600.0, Meets),
            (7200.0 + step, 21600.0, Fails),
            (7200.0, 21600.0 - step, Meets),
            (7200.0, 21600.0 + step, Fails),
        ] {
            let csv = format!(
                "elapsed_s,core_temp_{unit}\n0,{start}\n{first},{middle}\n{last},{end}\n30000,{end}\n"
            );
            let found = verdict("check_cooling_log", "us-food-code-2022", &csv, json!({}));
            assert_eq!(found, expected, "{unit} {first} {last}");
        }
    }
}

#[test]
fn a_second_stage_has_its_own_clock_in_australia() {
    // Standard 3.2.2 clause 7(3): 60 to 21 °C in 2 h, 21 to 5 °C within 4 h more: a quick first stage buys nothing.
    let csv = |end: &str| format!("elapsed_min,core_temp_degC\n0,60\n30,21\n{end},5\n");
    for (end, expected) in [("269.9", Meets), ("270", Meets), ("270.1", Fails)] {
        assert_eq!(
            verdict("check_cooling_log", "australia", &csv(end), json!({})),
            expected
        );
        let food_code = csv(end).replace("0,60", "0,57.3");
        let found = verdict(
            "check_cooling_log",
            "us-food-code-2022",
            &food_code,
            json!({}),
        );
        assert_eq!(found, Meets);
    }
}

#[test]
fn the_warmest_place_decides_cooling_and_an_unfinished_log_decides_nothing() {
    let two = "elapsed_h,breast_temp_degF,thigh_temp_degF\n0,140,140\n1.9,65,80\n5,40,40\n";
    assert_eq!(
        verdict("check_cooling_log", "us-food-code-2022", two, json!({})),
        Fails
    );
    for (csv, expected) in [
        (
            "elapsed_h,core_temp_degF\n0,140\n1.5,70\n3,50\n",
            CannotTell,
        ),
        (
            "elapsed_h,core_temp_degF\n0,130\n1.5,70\n3,41\n",
            CannotTell,
        ),
        ("elapsed_h,core_temp_degF\n0,130\n2.5,75\n3,71\n", Fails),
        ("elapsed_h,core_temp_degF\n0,150\n1,140\n", CannotTell),
        (
            "elapsed_h,core_temp_degF\n0,140\n1.5,70\n3,41\n4,60\n",
            CannotTell,
        ),
        ("elapsed_h,air_temp_degF\n0,140\n1.5,70\n3,41\n", CannotTell),
    ] {
        let found = verdict("check_cooling_log", "us-food-code-2022", csv, json!({}));
        assert_eq!(found, expected, "{csv}");
    }
    let silent = request("check_cooling_log", "us-consumer", two, json!({}));
    assert_eq!(refused(silent).field(), "standard");
}

#[test]
fn holding_limits_are_tested_under_at_and_over_in_both_units() {
    // Food Code 3-501.16(A): 135 °F and 41 °F (5 °C); Scotland asks for more than 63 °C, England for 63 °C.
    for (standard, holding, unit, reading, expected) in [
        ("us-food-code-2022", "hot", "degF", "134.999", Fails),
        ("us-food-code-2022", "hot", "degF", "135", Meets),
        ("us-food-code-2022", "hot", "degF", "135.001", Meets),
        ("us-food-code-2022", "hot", "degC", "57.222", Fails),
        ("us-food-code-2022", "hot", "degC", "57.223", Meets),
        ("us-food-code-2022", "cold", "degF", "40.999", Meets),
        ("us-food-code-2022", "cold", "degF", "41", Meets),
        ("us-food-code-2022", "cold", "degF", "41.001", Fails),
        ("us-food-code-2022", "cold", "degC", "4.999", Meets),
        ("us-food-code-2022", "cold", "degC", "5", Meets),
        ("us-food-code-2022", "cold", "degC", "5.001", Fails),
        ("scotland", "hot", "degC", "62.999", Fails),
        ("scotland", "hot", "degC", "63", Fails),
        ("scotland", "hot", "degC", "63.001", Meets),
        ("uk", "hot", "degC", "62.999", Fails),
        ("uk", "hot", "degC", "63", Meets),
        ("uk", "hot", "degC", "63.001", Meets),
    ] {
        let csv = format!("elapsed_min,core_temp_{unit}\n0,{reading}\n5,{reading}\n");
        let found = verdict(
            "check_holding_log",
            standard,
            &csv,
            json!({"holding": holding}),
        );
        assert_eq!(found, expected, "{standard} {holding} {reading} {unit}");
    }
}

#[test]
fn time_out_is_added_up_under_at_and_over() {
    // FSIS: 2 h out, 1 h above 90 °F. The food is out from the crossing of 40 °F to that of 140 °F: here all along.
    for (minutes, surroundings, expected) in [
        ("119", Some("90 °F"), Meets),
        ("120", Some("90 °F"), Meets),
        ("121", Some("90 °F"), Fails),
        ("59", Some("90.1 °F"), Meets),
        ("60", Some("90.1 °F"), Meets),
        ("61", Some("90.1 °F"), Fails),
        ("60", None, Meets),
        ("61", None, CannotTell),
        ("121", None, Fails),
    ] {
        let csv = format!("elapsed_min,core_temp_degF\n0,100\n{minutes},90\n");
        let more = json!({"holding": "out", "surroundings": surroundings});
        let found = verdict("check_holding_log", "us-consumer", &csv, more);
        assert_eq!(found, expected, "{minutes} {surroundings:?}");
    }
    // Two visits of 70 min each, at 10 °C: 140 min together.
    let twice = "elapsed_min,core_temp_degC\n0,10\n70,10\n70.001,4\n80,4\n80.001,10\n150.001,10\n";
    let more = json!({"holding": "out", "surroundings": "20 °C", "checks": {"longest_gap": "2 h", "flat_line": "3 h", "steepest_per_second": "200 delta_degC"}});
    assert_eq!(
        verdict("check_holding_log", "us-consumer", twice, more.clone()),
        Fails
    );
    // A defence for one period only, Schedule 4; cumulative and under 4 h in Australia.
    let twice_uk = twice.replace(",4\n", ",1\n");
    assert_eq!(
        verdict("check_holding_log", "uk", &twice_uk, more.clone()),
        Fails
    );
    assert_eq!(
        verdict("check_holding_log", "australia", twice, more),
        Meets
    );
}

#[test]
fn time_in_place_of_temperature_has_a_start_a_ceiling_and_an_end() {
    // Food Code 3-501.19(B) and (C).
    for (csv, holding, expected) in [
        ("0,134.999\n240,80", "time-control", Fails),
        ("0,135\n240,80", "time-control", Meets),
        ("0,135.001\n240.001,80", "time-control", Fails),
        ("0,41\n359.999,70", "time-control-cold", Meets),
        ("0,41\n360,70", "time-control-cold", Meets),
        ("0,41\n360.001,70", "time-control-cold", Fails),
        ("0,41\n300,69.999", "time-control-cold", Meets),
        ("0,41\n300,70.001", "time-control-cold", Fails),
        ("0,41.001\n300,60", "time-control-cold", Fails),
    ] {
        let csv = format!("elapsed_min,core_temp_degF\n{csv}\n");
        let more = json!({"holding": holding});
        let found = verdict("check_holding_log", "us-food-code-2022", &csv, more);
        assert_eq!(found, expected, "{csv}");
    }
}

#[test]
fn reheating_has_a_minimum_a_hold_and_a_time() {
    // Food Code 3-403.11: 165 °F for 15 s, in at most 2 h from 41 °F.
    for (reached, held, expected) in [
        ("119.75", "120", Meets),
        ("119.75", "119.999", Fails),
        ("119.75", "120.001", Meets),
        ("119.751", "121", Fails),
        ("119.749", "121", Meets),
    ] {
        let csv = format!("elapsed_min,core_temp_degF\n0,41\n{reached},165\n{held},165\n122,160\n");
        let more = json!({"cut": "parts", "checks": {"longest_gap": "2 h", "flat_line": "1 h"}});
        let found = verdict("check_reheating_log", "us-food-code-2022", &csv, more);
        assert_eq!(found, expected, "{reached} {held}");
    }
    let late = "elapsed_min,core_temp_degF\n0,60\n30,165\n31,165\n";
    let found = verdict(
        "check_reheating_log",
        "us-food-code-2022",
        late,
        json!({"cut": "parts"}),
    );
    assert_eq!(found, CannotTell);
}

/// What the same thaw is judged without a log.
fn noted_verdict(check: Value) -> Verdict {
    match evaluate(&Request::from_value(check).unwrap()).unwrap() {
        Response::CheckThawing(answer) => answer.answer.verdict,
        other => panic!("{other:?}"),
    }
}

#[test]
fn thawing_is_judged_by_its_method() {
    // Food Code 3-501.13: running water at 70 °F or below, food above 41 °F for at most 4 h.
    for (water, minutes, expected) in [
        ("69.999", "240", Meets),
        ("70", "239.999", Meets),
        ("70.001", "200", Fails),
        ("70", "240.001", Fails),
    ] {
        let csv = format!(
            "elapsed_min,surface_temp_degF,core_temp_degF,water_temp_degF\n0,41.001,20,{water}\n{minutes},42,30,{water}\n"
        );
        let more = json!({"method": "running-water"});
        let found = verdict("check_thawing_log", "us-food-code-2022", &csv, more.clone());
        assert_eq!(found, expected, "{water} {minutes}");
        let noted = json!({"kind": "check_thawing", "method": "running-water", "standard": "us-food-code-2022",
            "temperatures": [format!("{water} °F")], "above_cold": format!("{minutes} min")});
        assert_eq!(noted_verdict(noted), expected, "{water} {minutes}");
        let two = csv.replace("water", "water_2");
        let found = verdict("check_thawing_log", "us-food-code-2022", &two, more.clone());
        assert_eq!(found, expected, "{water} {minutes}");
        let dry = csv.replace("water", "air");
        let found = verdict("check_thawing_log", "us-food-code-2022", &dry, more);
        assert_eq!(
            found,
            if minutes == "240.001" {
                Fails
            } else {
                CannotTell
            }
        );
    }
    for (air, expected) in [("39.999", Meets), ("40", Meets), ("40.001", Fails)] {
        let csv =
            format!("elapsed_h,core_temp_degF,refrigerator_temp_degF\n0,0,{air}\n9,20,{air}\n");
        let more = json!({"method": "refrigerator"});
        assert_eq!(
            verdict("check_thawing_log", "us-consumer", &csv, more),
            expected
        );
        let noted = json!({"kind": "check_thawing", "method": "refrigerator", "temperatures": [format!("{air} °F")]});
        assert_eq!(noted_verdict(noted), expected);
    }
    let csv = "elapsed_h,core_temp_degF\n0,0\n9,20\n";
    let counter = json!({"method": "room-temperature"});
    assert_eq!(
        verdict("check_thawing_log", "us-consumer", csv, counter),
        Fails
    );
    let microwave = json!({"method": "microwave"});
    let oven = request("check_thawing_log", "us-consumer", csv, microwave);
    assert_eq!(refused(oven).field(), "method");
}

#[test]
fn a_fault_is_named_by_its_rows_and_a_sound_stretch_still_fails() {
    let csv = "elapsed_min,core_temp_degF\n0,40\n5,40.2\n10,\n15,40.1\n20,40\n";
    let more = json!({"holding": "cold"});
    let found = ask(request(
        "check_holding_log",
        "us-food-code-2022",
        csv,
        more.clone(),
    ));
    assert_eq!(found.verdict, CannotTell);
    let fault = &found.findings[0];
    assert_eq!((fault.first_row, fault.last_row), (Some(3), Some(3)));
    let warm = csv.replace("15,40.1", "15,41.1");
    let found = ask(request(
        "check_holding_log",
        "us-food-code-2022",
        &warm,
        more,
    ));
    assert_eq!(found.verdict, Fails);
    let cooked = "elapsed_min,core_temp_degF\n0,165\n5,170\n10,\n15,172\n";
    let found = verdict(
        "check_cooking_log",
        "us-consumer",
        cooked,
        json!({"cut": "thigh"}),
    );
    assert_eq!(found, CannotTell);
}

#[test]
fn columns_and_text_give_the_same_answer_and_never_come_together() {
    let columns = json!({"elapsed_s": [0, 300], "places": [
        {"place": "core", "unit": "degF", "temperatures": [164, 165]}]});
    let mut asked = request(
        "check_cooking_log",
        "us-consumer",
        "elapsed_min,core_temp_degF\n0,164\n5,165\n",
        json!({"cut": "wing"}),
    );
    let by_text = ask(asked.clone());
    asked["log"] = columns.clone();
    assert_eq!(ask(asked.clone()), by_text);
    asked["log"]["csv"] = json!("elapsed_s,core_temp_degF\n");
    assert_eq!(refused(asked.clone()).field(), "log");
    asked["log"] = json!({"elapsed_s": [0]});
    assert_eq!(refused(asked).field(), "log");
}

const HEADING: &str = "elapsed_min,core_temp_degC";

fn log_text(readings: &[Option<f64>]) -> String {
    let mut lines = vec![HEADING.to_owned()];
    for (row, reading) in readings.iter().enumerate() {
        let cell = reading.map(|x| x.to_string()).unwrap_or_default();
        lines.push(format!("{row},{cell}"));
    }
    lines.join("\n")
}

fn text_of_rows(readings: &[f64], kept: &[bool]) -> String {
    let rows = readings.iter().zip(kept).enumerate();
    let rows = rows.filter(|(_, (_, kept))| **kept);
    let mut lines = vec![HEADING.to_owned()];
    lines.extend(rows.map(|(row, (reading, _))| format!("{row},{reading}")));
    lines.join("\n")
}

/// A check of each sort whose log must cover all its rows, one a minute.
fn every_check(rows: usize) -> Vec<(&'static str, Value)> {
    let checks = json!({"longest_gap": "1 min", "flat_line": "12 h"});
    let whole = format!("{} min", rows.saturating_sub(1));
    let holding = |kind: &str| json!({"holding": kind, "checks": checks, "period": whole});
    let thigh = json!({"cut": "thigh", "checks": checks});
    vec![
        ("check_cooking_log", thigh.clone()),
        ("check_cooling_log", json!({"checks": checks})),
        ("check_reheating_log", thigh),
        ("check_holding_log", holding("hot")),
        ("check_holding_log", holding("cold")),
        ("check_holding_log", holding("out")),
    ]
}

proptest! {
    #[test]
    fn blanked_readings_never_turn_into_meets(
        start in 0.0..90.0_f64,
        moves in prop::collection::vec(-4.0..4.0_f64, 2..30),
        blanks in prop::collection::vec(any::<bool>(), 31),
    ) {
        let readings = walk(start, &moves);
        let blanked: Vec<Option<f64>> = readings.iter().zip(&blanks).map(|(x, gone)| (!gone).then_some(*x)).collect();
        prop_assume!(blanked.iter().any(Option::is_none));
        for (kind, more) in every_check(readings.len()) {
            let found = verdict(kind, "us-food-code-2022", &log_text(&blanked), more);
            prop_assert_ne!(found, Meets, "{}", kind);
        }
    }

    #[test]
    fn removed_rows_never_turn_into_meets(
        start in 0.0..90.0_f64,
        moves in prop::collection::vec(-4.0..4.0_f64, 2..30),
        kept in prop::collection::vec(prop::bool::weighted(0.8), 31),
    ) {
        let readings = walk(start, &moves);
        let all: Vec<Option<f64>> = readings.iter().copied().map(Some).collect();
        for (kind, more) in every_check(readings.len()) {
            let whole = verdict(kind, "us-food-code-2022", &log_text(&all), more.clone());
            let part = verdict(kind, "us-food-code-2022", &text_of_rows(&readings, &kept), more);
            prop_assert!(part != Meets || whole == Meets, "{} {:?}", kind, whole);
        }
    }

    #[test]
    fn a_longer_log_of_a_roast_never_loses_its_verdict(
        start in 60.0..75.0_f64,
        moves in prop::collection::vec(-1.0..2.0_f64, 2..30),
    ) {
        let readings = walk(start, &moves);
        let mut reached = false;
        for rows in 2..=readings.len() {
            let so_far: Vec<Option<f64>> = readings[..rows].iter().copied().map(Some).collect();
            let found = verdict("check_cooking_log", "us-consumer", &log_text(&so_far), json!({"cut": "thigh"}));
            prop_assert!(!reached || found == Meets);
            reached = found == Meets;
        }
    }
}

fn walk(start: f64, moves: &[f64]) -> Vec<f64> {
    let mut here = start;
    let mut readings = vec![(here * 1e3).round() / 1e3];
    for step in moves {
        here = (here + step).clamp(-5.0, 95.0);
        readings.push((here * 1e3).round() / 1e3);
    }
    readings
}
