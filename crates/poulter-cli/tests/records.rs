//! Checks of invented logs: verdict, findings, table and exit code.

use std::process::{Command, Output};

fn check(what: &str, log: &str, more: &[&str]) -> Output {
    let file = format!("{}/../../tests/logs/{log}.csv", env!("CARGO_MANIFEST_DIR"));
    Command::new(env!("CARGO_BIN_EXE_poulter"))
        .args(["check", what, &file])
        .args(more)
        .output()
        .unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

const FOOD_CODE: [&str; 2] = ["--standard", "us-food-code-2022"];

#[test]
fn the_exit_code_follows_the_verdict() {
    let hot: &[&str] = &["--as", "hot", "--standard", "us-food-code-2022"];
    let cold: &[&str] = &["--as", "cold", "--standard", "us-food-code-2022"];
    let tap: &[&str] = &[
        "--method",
        "running-water",
        "--standard",
        "us-food-code-2022",
    ];
    for (what, log, more, code, words) in [
        ("cooking", "turkey-roast", &[][..], 0, "VERDICT: MEETS"),
        (
            "cooking",
            "turkey-roast",
            &["--stuffed"],
            1,
            "stuffing: not in the log",
        ),
        ("cooking", "turkey-roast-short", &[], 1, "VERDICT: FAILS"),
        (
            "cooking",
            "turkey-roast-dropout",
            &[],
            1,
            "thigh, row 71: no readable temperature",
        ),
        ("cooling", "stock-cooling", &FOOD_CODE, 0, "VERDICT: MEETS"),
        ("cooling", "stock-cooling-slow", &FOOD_CODE, 1, "too slow"),
        ("holding", "carvery-hot", hot, 0, "VERDICT: MEETS"),
        ("holding", "carvery-hot", cold, 1, "VERDICT: FAILS"),
        (
            "reheating",
            "slices-reheat",
            &FOOD_CODE,
            0,
            "VERDICT: MEETS",
        ),
        ("thawing", "thaw-running-water", tap, 0, "VERDICT: MEETS"),
    ] {
        let ran = check(what, log, more);
        assert_eq!(ran.status.code(), Some(code), "{what} {log} {}", out(&ran));
        assert!(out(&ran).contains(words), "{words}: {}", out(&ran));
    }
}

#[test]
fn options_reach_the_rules() {
    // Canada asks for 82 °C (179.6 °F) in a whole bird; the breast of this one came to 174.1 °F.
    let ran = check("cooking", "turkey-roast", &["--standard", "canada"]);
    assert_eq!(ran.status.code(), Some(1));
    assert!(out(&ran).contains("canada.doneness.bird"));
    // Its rows are 3 min apart.
    let ran = check("cooking", "turkey-roast", &["--longest-gap", "2 min"]);
    assert!(out(&ran).contains("CANNOT TELL"), "{}", out(&ran));
    let json = check(
        "cooking",
        "turkey-roast",
        &["--format", "json", "--species", "chicken"],
    );
    let value: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    let scheme = &value["answer"]["lethality"]["scheme"]["scheme"];
    assert_eq!(scheme, "poultry-7log-chicken");
}

#[test]
fn the_table_has_a_row_for_every_row_of_the_log() {
    let ran = check("cooking", "turkey-roast-dropout", &["--format", "csv"]);
    assert_eq!(ran.status.code(), Some(1));
    let text = out(&ran);
    let heading: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    assert_eq!(heading[0], "elapsed_s");
    assert!(heading.contains(&"breast_log10_reduction"));
    assert!(!heading.contains(&"thigh_log10_reduction"));
    assert_eq!(text.lines().count(), 77);
    let empty = text.lines().nth(71).unwrap().split(',').nth(4).unwrap();
    assert_eq!((heading[4], empty), ("thigh_temp_degF", ""));
}

#[test]
fn what_cannot_be_read_is_refused() {
    for (what, log, more, words) in [
        ("cooking", "no-such", &[][..], "no-such.csv"),
        (
            "cooling",
            "stock-cooling",
            &["--standard", "mars"],
            "standard",
        ),
        ("cooling", "stock-cooling", &[], "cooling stages"),
        ("holding", "carvery-hot", &["--as", "warm"], "holding"),
        (
            "thawing",
            "thaw-running-water",
            &["--method", "microwave"],
            "method",
        ),
        (
            "cooking",
            "turkey-roast",
            &["--longest-gap", "3"],
            "longest_gap",
        ),
    ] {
        let ran = check(what, log, more);
        let complaint = String::from_utf8(ran.stderr.clone()).unwrap();
        assert_eq!(ran.status.code(), Some(2), "{complaint}");
        assert!(complaint.contains(words), "{words}: {complaint}");
        assert_eq!(out(&ran), "");
    }
}
