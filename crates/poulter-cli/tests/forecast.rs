//! `poulter forecast` as it is typed.

use std::process::{Command, Output};

const ROAST: [&str; 8] = [
    "--mass", "12lb", "--start", "40degF", "--oven", "325degF", "--target", "165degF",
];

fn forecast(csv: &str, more: &[&str]) -> Output {
    use std::io::Write;
    use std::process::Stdio;
    let mut child = Command::new(env!("CARGO_BIN_EXE_poulter"))
        .args(["forecast", "-", "--members", "200"])
        .args(ROAST)
        .args(more)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(csv.as_bytes())
        .unwrap();
    child.wait_with_output().unwrap()
}

const CSV: &str =
    "elapsed_min,breast_temp_degF,oven_temp_degF\n60,66,325\n70,76,320\n80,,325\n90,98,330\n";

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn words_say_verdict_band_and_coverage() {
    let output = forecast(CSV, &[]);
    let text = out(&output);
    assert_eq!(output.status.code(), Some(1), "{text}");
    for said in [
        "By what was measured: ",
        "Seen: 1 h 30 min",
        "(10 % to 90 %: ",
        "synthetic roasts",
        "thigh: not in the log",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

#[test]
fn csv_has_a_row_for_each_time_ahead() {
    let text = out(&forecast(CSV, &["--format", "csv"]));
    let mut lines = text.lines();
    assert_eq!(
        lines.next(),
        Some("place,elapsed_s,low_degC,likely_degC,high_degC")
    );
    let row: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!((row[0], row[1]), ("breast", "6300"));
    let [low, likely, high] = [2, 3, 4].map(|at| row[at].parse::<f64>().unwrap());
    assert!(low <= likely && likely <= high);
}

#[test]
fn json_is_the_answer_of_the_library() {
    let text = out(&forecast(CSV, &["--format", "json"]));
    let found: serde_json::Value = serde_json::from_str(&text).unwrap();
    let reading = |minutes: f64, f: f64| serde_json::json!({"elapsed": {"value": minutes, "unit": "min"}, "temperature": {"value": f, "unit": "degF"}});
    let request = serde_json::json!({"kind": "forecast", "members": 200,
        "roast": {"mass": "12lb", "start": "40degF", "oven": [{"temperature": "325degF"}], "target": "165degF"},
        "probes": [
            {"place": "breast", "readings": [reading(60.0, 66.0), reading(70.0, 76.0), reading(90.0, 98.0)]},
            {"place": "oven", "readings":
                [reading(60.0, 325.0), reading(70.0, 320.0), reading(80.0, 325.0), reading(90.0, 330.0)]}]});
    let answer = poulter::evaluate_json(&request.to_string()).unwrap();
    let answer: serde_json::Value = serde_json::from_str(&answer).unwrap();
    assert_eq!(
        found["answer"]["time_to_target"],
        answer["answer"]["time_to_target"]
    );
    assert_eq!(found["answer"]["places"], answer["answer"]["places"]);
}

#[test]
fn a_place_that_the_roast_lacks_is_refused() {
    let output = forecast("elapsed_min,stuffing_temp_degF\n60,66\n", &[]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("probes[0].place"), "{said}");
}
