//! The commands as a person or a script runs them: output, messages and exit codes.

use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

const SUPPER: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/orders/lakeside-supper.toml"
);
const TOO_LATE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/orders/late-thaw.toml"
);

struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_poulter"));
    command
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

fn run(arguments: &[&str]) -> Ran {
    command(arguments).output().unwrap().into()
}

fn run_with(arguments: &[&str], input: &[u8]) -> Ran {
    let mut child = command(arguments).stdin(Stdio::piped()).spawn().unwrap();
    // A program that has read enough closes the pipe; the rest need not arrive.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap().into()
}

/// A folder of its own for a test, empty at the start.
fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    path
}

fn refused(ran: &Ran, words: &[&str]) {
    assert_eq!(ran.code, Some(2), "{}{}", ran.out, ran.err);
    assert_eq!(ran.out, "");
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    for word in words {
        assert!(ran.err.contains(word), "{word}: {}", ran.err);
    }
}

#[test]
fn a_plan_goes_to_the_screen_as_text() {
    let ran = run(&["plan", SUPPER]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    assert!(
        ran.out.contains("Sat 19 Dec 2026, 18:30 (Europe/Lisbon)"),
        "{}",
        ran.out
    );
}

#[test]
fn every_format_can_be_had_and_standard_input_does_as_well() {
    let order = fs::read(SUPPER).unwrap();
    for (format, begins) in [
        ("text", "KITCHEN SHEET\n"),
        ("markdown", "# "),
        ("html", "<!DOCTYPE html>"),
        ("ics", "BEGIN:VCALENDAR\r\n"),
        ("json", "{"),
    ] {
        let from_file = run(&["plan", SUPPER, "--format", format]);
        let from_input = run_with(&["plan", "-", "--format", format], &order);
        assert!(from_file.out.starts_with(begins), "{format}");
        assert_eq!(
            (from_file.code, from_file.out),
            (from_input.code, from_input.out)
        );
    }
}

#[test]
fn json_orders_are_read_too() {
    let order = br#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "now": "2026-12-13T09:00[Europe/Lisbon]",
        "guests": {"adults": 11}, "bird": {"species": "turkey", "mass": "15 lb", "state": "frozen"}}"#;
    assert_eq!(run_with(&["plan", "-"], order).code, Some(0));
}

#[test]
fn sheets_go_into_a_folder_and_are_named() {
    let folder = folder("sheets");
    let path = folder.to_str().unwrap();
    let ran = run(&["plan", SUPPER, "--out", path, "--format", "markdown,json"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    for name in ["plan.html", "plan.ics", "plan.md", "plan.json"] {
        let file = folder.join(name);
        assert!(
            ran.out
                .lines()
                .any(|line| line == format!("Written: {}", file.display())),
            "{}",
            ran.out
        );
        assert!(!fs::read_to_string(file).unwrap().is_empty());
    }
    assert!(!folder.join("plan.txt").exists());
}

#[test]
fn a_dinner_that_cannot_be_is_answered_with_one() {
    let ran = run(&["plan", TOO_LATE]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert!(ran.out.contains("NOT POSSIBLE AS ASKED"));
    let folder = folder("too-late");
    let ran = run(&["plan", TOO_LATE, "--out", folder.to_str().unwrap()]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out.contains("NOT POSSIBLE AS ASKED"));
}

#[test]
fn now_can_be_set_from_outside() {
    let in_time = run(&[
        "plan",
        TOO_LATE,
        "--now",
        "2026-11-19T09:00[America/Chicago]",
    ]);
    assert_eq!(in_time.code, Some(0), "{}", in_time.err);
    let past = run(&[
        "plan",
        TOO_LATE,
        "--now",
        "2026-11-26T18:00[America/Chicago]",
    ]);
    refused(&past, &["serve_at", "error 107"]);
    refused(
        &run(&["plan", TOO_LATE, "--now", "tomorrow"]),
        &["--now", "a zone are needed"],
    );
}

#[test]
fn a_bad_order_is_refused_with_its_field() {
    let good = fs::read_to_string(SUPPER).unwrap();
    for (from, to, words) in [
        ("state =", "sate =", &["bird.sate", "error 102"][..]),
        ("6.8 kg", "-3 lb", &["bird.mass", "-3", "error 106"]),
        ("6.8 kg", "400", &["bird.mass", "400", "error 201"]),
        ("6.8 kg", "400 lb", &["bird.mass", "error 301"]),
        ("6.8 kg", "NaN kg", &["bird.mass", "error 106"]),
        ("\"6.8 kg\"", "nan", &["bird.mass", "error 106"]),
        (
            "adults = 11",
            "adults = 0\nx = 1",
            &["guests.x", "error 102"],
        ),
        (
            "[Europe/Lisbon]\"\nnow",
            "\"\nnow",
            &["serve_at", "error 107"],
        ),
        ("2026-12-19T", "2026-12-01T", &["serve_at", "error 107"]),
        ("[guests]", "[guests", &["line 6", "error 101"]),
    ] {
        let order = good.replacen(from, to, 1);
        assert_ne!(order, good, "{from}");
        refused(&run_with(&["plan", "-"], order.as_bytes()), words);
    }
}

#[test]
fn junk_and_missing_files_are_refused() {
    refused(
        &run(&["plan", "no-such-order.toml"]),
        &["no-such-order.toml"],
    );
    refused(
        &run(&["plan", env!("CARGO_MANIFEST_DIR")]),
        &[env!("CARGO_MANIFEST_DIR")],
    );
    let junk = vec![b'['; 10 << 20];
    refused(&run_with(&["plan", "-"], &junk), &["1048576 bytes"]);
    refused(&run_with(&["evaluate"], &junk), &["1048576 bytes"]);
    refused(&run_with(&["plan", "-"], b"\xff\xfe"), &["UTF-8"]);
    refused(&run_with(&["plan", "-"], b""), &["serve_at", "error 103"]);
    refused(&run(&["plan", SUPPER, "--format", "text,html"]), &["--out"]);
    refused(&run(&["plan", SUPPER, "--out", SUPPER]), &[SUPPER]);
}

#[test]
fn evaluate_answers_one_request() {
    let thaw = br#"{"kind": "thaw_time", "mass": "12 lb", "method": "cold-water"}"#;
    let ran = run_with(&["evaluate"], thaw);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    assert!(
        ran.out.starts_with('{') && ran.out.ends_with("}\n"),
        "{}",
        ran.out
    );
    for (request, code) in [
        (
            r#"{"kind": "thaw_time", "mass": "12 lb", "method": "hot-water"}"#,
            1,
        ),
        (
            r#"{"kind": "check_cooking", "readings": {"breast": "170 °F"}}"#,
            1,
        ),
        (
            r#"{"kind": "check_cooking", "readings": {"breast": "164.9 °F", "thigh": "170 °F", "wing": "170 °F"}}"#,
            1,
        ),
        (
            r#"{"kind": "check_cooking", "readings": {"breast": "165 °F", "thigh": "170 °F", "wing": "170 °F"}}"#,
            0,
        ),
        (r#"{"kind": "dance"}"#, 2),
        ("", 2),
    ] {
        assert_eq!(
            run_with(&["evaluate"], request.as_bytes()).code,
            Some(code),
            "{request}"
        );
    }
}

#[test]
fn readings_are_judged_under_at_and_over_the_minimum() {
    // FSIS Safe Minimum Internal Temperature Chart: 165 °F at breast, thigh and wing.
    for (reading, code, word) in [
        ("164.999degF", 1, "FAILS"),
        ("165degF", 0, "MEETS"),
        ("165.001 °F", 0, "MEETS"),
        ("73.888degC", 1, "FAILS"),
        ("73.889degC", 0, "MEETS"),
    ] {
        let breast = format!("breast={reading}");
        let arguments = [
            "check",
            "cooking",
            "--reading",
            &breast,
            "--reading",
            "thigh=170degF",
            "--reading",
            "wing=170degF",
        ];
        let ran = run(&arguments);
        assert_eq!(ran.code, Some(code), "{reading}: {}{}", ran.out, ran.err);
        assert!(
            ran.out.starts_with(&format!("VERDICT: {word}\n")),
            "{}",
            ran.out
        );
        let stuffed = run(&[&arguments[..], &["--stuffed"]].concat());
        assert_eq!(
            stuffed.code,
            Some(1),
            "stuffed, not measured: {}",
            stuffed.out
        );
    }
    let missing = run(&["check", "cooking", "--reading", "breast=170degF"]);
    assert_eq!(missing.code, Some(1));
    assert!(
        missing.out.starts_with("VERDICT: CANNOT TELL\n"),
        "{}",
        missing.out
    );
}

#[test]
fn bad_readings_are_refused() {
    for (arguments, words) in [
        (
            &["--reading", "breast=165"][..],
            &["readings.breast", "error 201"][..],
        ),
        (
            &["--reading", "breast=NaN degF"],
            &["readings.breast", "error 106"],
        ),
        (&["--reading", "beak=165degF"], &["readings", "error 105"]),
        (&["--reading", "breast"], &["equals sign"]),
        (
            &["--reading", "breast=165degF", "--reading", "breast=170degF"],
            &["given twice"],
        ),
        (
            &["--reading", "breast=165degF", "--standard", "mars"],
            &["standard", "error 302"],
        ),
        (
            &["--reading", "breast=165degF", "--held", "soon"],
            &["held"],
        ),
        (&[], &["--reading"]),
    ] {
        refused(&run(&[&["check", "cooking"], arguments].concat()), words);
    }
}

#[test]
fn rules_show_limit_status_and_source() {
    let ran = run(&[
        "rules",
        "--standard",
        "us-consumer",
        "--topic",
        "doneness.bird",
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    for words in [
        "us-consumer.doneness.bird",
        "at least",
        "165 °F",
        "status: guidance",
        "source: USDA",
    ] {
        assert!(ran.out.contains(words), "{words}: {}", ran.out);
    }
    assert!(!ran.out.contains("thaw"));
    // 180 °F and 170 °F were replaced by 165 °F for every place; who lists rules must see which ones are past.
    let past = ran
        .out
        .split("\n\n")
        .filter(|rule| rule.contains("-2003"))
        .count();
    assert_eq!(ran.out.matches("NO LONGER IN FORCE after: ").count(), past);
    assert!(past > 0, "{}", ran.out);
    assert!(
        run(&["rules", "--topic", "thaw"])
            .out
            .contains("us-consumer.thaw.cold-water")
    );
    let json = run(&["rules", "--format", "json"]).out;
    assert!(
        serde_json::from_str::<serde_json::Value>(&json).unwrap()[0]["citation"]["sources"]
            .is_array()
    );
    refused(
        &run(&["rules", "--standard", "mars"]),
        &["standard", "us-consumer"],
    );
    refused(&run(&["rules", "--topic", "tha"]), &["--topic"]);
}

#[test]
fn a_closed_pipe_is_no_fault() {
    let mut child = command(&["rules", "--format", "json"]).spawn().unwrap();
    drop(child.stdout.take());
    let ran: Ran = child.wait_with_output().unwrap().into();
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
}

#[test]
fn help_shows_an_example_for_every_command() {
    for arguments in [
        &["plan"][..],
        &["evaluate"],
        &["check", "cooking"],
        &["rules"],
        &["simulate", "roast"],
        &["simulate", "thaw"],
        &["simulate", "rest"],
        &["simulate", "cooling"],
    ] {
        let ran = run(&[arguments, &["--help"]].concat());
        assert_eq!(ran.code, Some(0));
        assert!(ran.out.contains("Example"), "{}", ran.out);
    }
    assert!(run(&["--help"]).out.contains("Exit codes"));
}

const HOUSE: &str = r#"
[[rule]]
id = "us-consumer.hold.hot.house"
topic = "hold.hot"
title = "Hot cabinet of this kitchen"
kind = "requirement"
status = "common-practice"
last_checked = "2026-11-25"
requirement = { type = "temperature", limit = { is = ">=", temperature = "LIMIT" } }
"#;

#[test]
fn house_rules_count_in_every_command_and_a_looser_one_is_named() {
    let folder = folder("house-rules");
    fs::create_dir_all(&folder).unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.join(name);
        fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    };
    // USDA: 140 °F; food at 145 °F meets that and fails a house rule of 150 °F.
    let strict = write("strict.toml", &HOUSE.replace("LIMIT", "150 °F"));
    let loose = write("loose.toml", &HOUSE.replace("LIMIT", "130 °F"));
    let log = write("log.csv", "elapsed_min,core_temp_degF\n0,145\n10,145\n");
    let request = br#"{"kind": "check_holding", "side": "hot", "temperatures": ["145 F"]}"#;
    let request = String::from_utf8_lossy(request).replace(" F\"", " \u{b0}F\"");
    for (rules, code) in [(&strict, Some(1)), (&loose, Some(0))] {
        let held = [
            "check",
            "holding",
            &log,
            "--as",
            "hot",
            "--house-rules",
            rules,
        ];
        let asked = run_with(&["evaluate", "--house-rules", rules], request.as_bytes());
        for ran in [run(&held), asked] {
            assert_eq!(ran.code, code, "{}{}", ran.out, ran.err);
            assert!(
                ran.out.contains("us-consumer.hold.hot.house"),
                "{}",
                ran.out
            );
            let named = ran.out.contains("is looser than us-consumer.hold.hot");
            assert_eq!(named, code == Some(0), "{}", ran.out);
        }
        let listed = run(&["rules", "--topic", "hold.hot", "--house-rules", rules]);
        assert!(listed.out.contains("us-consumer.hold.hot.house"));
        let planned = run(&["plan", SUPPER, "--format", "json", "--house-rules", rules]);
        assert!(
            planned.out.contains("us-consumer.hold.hot.house"),
            "{}",
            planned.err
        );
    }
    let broken = write("broken.toml", "[[rule]");
    refused(
        &run(&["plan", SUPPER, "--house-rules", &broken]),
        &["house_rules"],
    );
}

#[test]
fn rules_are_filtered_explained_and_compared() {
    let out = |arguments: &[&str]| run(&[&["rules"], arguments].concat()).out;
    let explained = out(&["us-consumer.fry.mass"]);
    for words in [
        "How heavy",
        "only for species: turkey",
        "beside it: us-consumer.fry.mass.blog-2013",
    ] {
        assert!(explained.contains(words), "{words}: {explained}");
    }
    // FSIS gave 180 °F in the thigh until 5 April 2006, and 165 °F since.
    let on = |day| {
        out(&[
            "--standard",
            "us-consumer",
            "--topic",
            "doneness.bird",
            "--on",
            day,
        ])
    };
    assert!(
        on("2006-04-05").contains("at least 180 °F")
            && !on("2006-04-06").contains("at least 180 °F")
    );
    let memory = out(&["--status", "memory", "--stage", "serve"]);
    assert!(memory.contains("from memory") && !memory.contains("read in a copy"));
    assert!(!out(&["--kind", "requirement", "--topic", "hold"]).contains("status: guidance"));
    assert!(!out(&["--species", "duck", "--cut", "whole", "--topic", "roast"]).contains("goose"));
    // 74 °C is above 165 °F, and below the 82 °C that Canada asks of a whole bird.
    let compared = out(&[
        "--compare",
        "--topic",
        "doneness.bird",
        "--reading",
        "74degC",
        "--standard",
        "us-consumer",
        "--standard",
        "canada",
    ]);
    assert!(
        compared.contains("us-consumer: MEETS") && compared.contains("canada: FAILS"),
        "{compared}"
    );
    refused(&run(&["rules", "us-consumer.mars"]), &["id"]);
    refused(
        &run(&["rules", "--standard", "uk", "--standard", "canada"]),
        &["--compare"],
    );
    refused(&run(&["rules", "--kind", "law"]), &["law"]);
}
