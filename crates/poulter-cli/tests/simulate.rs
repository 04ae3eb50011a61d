//! `poulter simulate` as a person or a script runs it.

use std::process::Command;

use serde_json::Value;

struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

/// Runs a command line whose words hold no spaces.
fn run(line: &str) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_poulter"))
        .arg("simulate")
        .args(line.split(' '))
        .output()
        .unwrap();
    Ran {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

fn answered(line: &str) -> String {
    let ran = run(line);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{line}");
    ran.out
}

const ROAST: &str = "roast --mass 13lb --start 40degF --oven 325degF --target 165degF";

#[test]
fn a_roast_is_drawn_with_its_band_and_its_rule() {
    let text = answered(ROAST);
    for words in [
        "MODEL, no verdict",
        "b breast, t thigh",
        "165degF in every place: 3 h",
        "10 % to 90 %",
        "us-consumer.roast.time-unstuffed gives 3 h to 3 h 45 min",
        "the standard decides",
        "Evaporated by then: ",
        "a median of 23 %",
        "Left out",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    // Twelve rows or more of the chart show the breast, which starts cold and ends at the target.
    assert!(
        text.lines()
            .filter(|line| line.contains('|') && line.contains('b'))
            .count()
            >= 10,
        "{text}"
    );
}

#[test]
fn the_curves_come_as_rows_with_units_in_the_header() {
    let csv = answered(&format!("{ROAST} --format csv"));
    let mut lines = csv.lines();
    assert_eq!(lines.next(), Some("zone,elapsed_s,temp_degC,kill_log10"));
    assert_eq!(lines.next(), Some("breast,0,4.444,0.0"));
    let last: Vec<&str> = csv.lines().last().unwrap().split(',').collect();
    assert_eq!((last[0], last.len()), ("thigh", 4));
    // FSIS Appendix A: 7 log10 for poultry, and no more is counted.
    assert_eq!(last[3], "7.0");
    // USDA table: 3 to 3 3/4 hours for 12 to 14 lb.
    let seconds: f64 = last[1].parse().unwrap();
    assert!((3.0..3.75).contains(&(seconds / 3600.0)), "{seconds}");
}

#[test]
fn kill_and_growth_stand_under_the_chart_and_in_columns() {
    let words = answered(ROAST);
    for zone in ["breast", "thigh"] {
        let line = format!("Kill in the {zone}: 7.0 log10 of 7.0 after ");
        assert!(words.contains(&line), "{words}");
    }
    assert!(words.contains("it explains and is no verdict"), "{words}");
    // At 140 °F the table of Appendix A asks for more than half an hour, which no centre that only touches it has had.
    let short = answered("roast --mass 13lb --start 40degF --oven 325degF --target 140degF");
    assert!(short.contains(" log10 of 7.0 at the end"), "{short}");
    let rest = "rest --mass 13lb --start 40degF --oven 325degF --target 150degF --room 72degF --rest 20min";
    assert!(answered(rest).contains("after the rest, which never counts"));
    let rested = answered(&format!("{rest} --format csv"));
    assert!(rested.starts_with("zone,elapsed_s,temp_degC,kill_log10\n"));

    let meat = "cooling --carved 2in --cooled-from one-face --start 140degF --stage refrigerator=38degF:24h --threshold 70degF";
    let words = answered(meat);
    assert!(words.contains("Growth bound, experimental: "), "{words}");
    let csv = answered(&format!("{meat} --format csv"));
    assert!(csv.starts_with("zone,elapsed_s,temp_degC,growth_log10\n"));
    let column: Vec<f64> = csv
        .lines()
        .filter(|line| line.starts_with("centre"))
        .map(|line| line.rsplit(',').next().unwrap().parse().unwrap())
        .collect();
    assert!(column[0] == 0.0 && *column.last().unwrap() > 0.0);
    assert!(column.windows(2).all(|pair| pair[0] <= pair[1]));

    let stock = "cooling --liquid 2in --cooled-from both-faces --start 180degF --stage ice-bath:2h --threshold 70degF";
    let words = answered(stock);
    assert!(words.contains("not of stock or gravy"), "{words}");
    let csv = answered(&format!("{stock} --format csv"));
    assert!(csv.starts_with("zone,elapsed_s,temp_degC\n"));
}

#[test]
fn json_is_the_answer_of_the_door() {
    let json: Value = serde_json::from_str(&answered(&format!("{ROAST} --format json"))).unwrap();
    assert_eq!(json["kind"], "simulate_roast");
    assert_eq!(json["answer"]["slowest"], "breast");
}

#[test]
fn settings_of_the_oven_follow_each_other() {
    let json: Value = serde_json::from_str(&answered(
        "roast --mass 13lb --start 40degF --oven 475degF:30min --oven 325degF --target 165degF --format json",
    ))
    .unwrap();
    let minutes = |json: &Value| {
        json["answer"]["time_to_target"]["likely"]["value"]
            .as_f64()
            .unwrap()
    };
    let steady: Value = serde_json::from_str(&answered(&format!("{ROAST} --format json"))).unwrap();
    assert!(minutes(&json) < minutes(&steady));
}

/// A cold start, an open door and foil each take heat from the bird, and so time; a door without its length is refused.
#[test]
fn what_takes_heat_takes_time() {
    let minutes = |more: &str| {
        let json: Value =
            serde_json::from_str(&answered(&format!("{ROAST}{more} --format json"))).unwrap();
        json["answer"]["time_to_target"]["likely"]["value"]
            .as_f64()
            .unwrap()
    };
    let steady = minutes("");
    for more in [
        " --oven-lag 10min --oven-start 70degF",
        " --door 60min:5min --door 90min:5min",
        " --tent 0min",
        " --tent 30min:2h",
    ] {
        assert!(minutes(more) > steady, "{more}");
    }
    let refused = run(&format!("{ROAST} --door 60min"));
    assert_ne!(refused.code, Some(0));
    assert!(refused.err.contains("--door"), "{}", refused.err);
}

#[test]
fn thaw_rest_and_cooling_answer_in_words() {
    let thaw = answered("thaw --mass 12lb --start 0degF --refrigerator 38degF --wrapped");
    assert!(thaw.contains("No place below 0 °C: 2 d"), "{thaw}");
    assert!(thaw.contains("us-consumer.thaw.refrigerator"), "{thaw}");
    let water = answered("thaw --mass 12lb --start 0degF --water 50degF --running");
    assert!(water.contains("us-consumer.thaw.cold-water"), "{water}");
    let rest = answered(
        "rest --mass 12lb --start 40degF --oven 325degF --target 165degF --room 72degF --rest 30min",
    );
    assert!(rest.contains("Carry-over never counts"), "{rest}");
    assert!(
        rest.contains("kitchen-practice.serve.rest: common practice, no source"),
        "{rest}"
    );
    let cooling = answered(
        "cooling --carved 1in --cooled-from both-faces --start 140degF --stage room=70degF:30min \
         --stage wrapped-refrigerator=38degF:12h --threshold 70degF",
    );
    assert!(cooling.contains("Centre at 70 °F: "), "{cooling}");
}

#[test]
fn what_never_happens_exits_with_one() {
    let hour = "roast --mass 13lb --start 40degF --oven 325degF:1h --target 165degF";
    let ran = run(hour);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out.contains("never"), "{}", ran.out);
    let ran = run("cooling --whole 12lb --start 165degF --stage room=70degF:1h --threshold 41degF");
    assert_eq!(ran.code, Some(1));
}

#[test]
fn refusals_name_what_is_wrong() {
    for (line, words) in [
        (
            "roast --mass 13lb --start 40degF --oven 325degF: --target 165degF",
            "--oven",
        ),
        (
            "roast --mass 13 --start 40degF --oven 325degF --target 165degF",
            "mass",
        ),
        (
            "roast --mass 13lb --start 40degF --oven 325degF --target 165degF --species duck",
            "turkey and chicken",
        ),
        (
            "thaw --mass 12lb --start 0degF --refrigerator 38degF --water 50degF",
            "--water",
        ),
        ("thaw --mass 12lb --start 0degF", "--refrigerator"),
        (
            "cooling --carved 1in --start 140degF --stage room --threshold 70degF",
            "--stage",
        ),
        (
            "cooling --carved 1in --start 140degF --stage room=70degF:1h --threshold 70degF",
            "cooled_from",
        ),
        (
            "cooling --carved 1in --whole 4lb --start 140degF --stage room=70degF:1h --threshold 70degF",
            "--whole",
        ),
    ] {
        let ran = run(line);
        assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{line}");
        assert!(ran.err.contains(words), "{line}: {}", ran.err);
        assert!(!ran.err.contains("panicked"), "{}", ran.err);
    }
}
