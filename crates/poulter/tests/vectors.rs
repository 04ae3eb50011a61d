//! The shared vectors, run through the door. The answers are written under `target/vectors`, so that the C and Python
//! tests can be held to the same bytes.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use poulter::rules::{RuleKind, Rulebook};
use serde_json::Value;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn vectors() -> Vec<Value> {
    let mut files: Vec<_> = fs::read_dir(root().join("tests/vectors"))
        .expect("the vectors are there")
        .map(|entry| entry.expect("a directory entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    let read = |path: &PathBuf| -> Vec<Value> {
        let text = fs::read_to_string(path).expect("a readable file");
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    };
    files.iter().flat_map(read).collect()
}

/// Numbers agree within the vector's tolerance, which is zero unless it names one; all else agrees exactly. An object
/// may hold more than is wanted.
fn agrees(found: &Value, wanted: &Value, tolerance: f64) -> bool {
    match (found, wanted) {
        (Value::Number(found), Value::Number(wanted)) => {
            let (found, wanted) = (
                found.as_f64().unwrap_or(f64::NAN),
                wanted.as_f64().unwrap_or(f64::NAN),
            );
            (found - wanted).abs() <= tolerance
        }
        (Value::Object(found), Value::Object(wanted)) => wanted.iter().all(|(key, value)| {
            found
                .get(key)
                .is_some_and(|inside| agrees(inside, value, tolerance))
        }),
        _ => found == wanted,
    }
}

fn judge(vector: &Value, answer: &Result<String, poulter::Error>) -> Vec<String> {
    let id = vector["id"].as_str().unwrap_or("a vector without id");
    let mut wrong = Vec::new();
    for key in ["id", "why", "source", "request"] {
        if vector.get(key).is_none() {
            wrong.push(format!("{id}: lacks {key}"));
        }
    }
    match (answer, vector.get("expect"), vector.get("error")) {
        (Ok(text), Some(Value::Object(expect)), None) => {
            let tolerance = vector
                .get("tolerance")
                .and_then(Value::as_f64)
                .unwrap_or(0.0);
            let answer: Value = serde_json::from_str(text).expect("an answer is JSON");
            for (pointer, wanted) in expect {
                let found = answer.pointer(pointer).unwrap_or(&Value::Null);
                if !agrees(found, wanted, tolerance) {
                    wrong.push(format!("{id}: {pointer} is {found}, {wanted} wanted"));
                }
            }
            for (pointer, pieces) in vector["contains"].as_object().into_iter().flatten() {
                let found = answer.pointer(pointer).and_then(Value::as_str);
                for piece in pieces.as_array().into_iter().flatten() {
                    let piece = piece.as_str().unwrap_or("a piece of text");
                    if !found.is_some_and(|found| found.contains(piece)) {
                        wrong.push(format!("{id}: {pointer} is {found:?} without {piece:?}"));
                    }
                }
            }
            if expect.is_empty() {
                wrong.push(format!("{id}: expects nothing"));
            }
        }
        (Err(error), None, Some(wanted)) => {
            if wanted["code"] != error.code() || wanted["field"] != error.field() {
                wrong.push(format!(
                    "{id}: {} at {:?}, {wanted} wanted",
                    error.code(),
                    error.field()
                ));
            }
        }
        (Ok(_), ..) => wrong.push(format!(
            "{id}: answered, but {} was wanted",
            vector["error"]
        )),
        (Err(error), ..) => wrong.push(format!("{id}: refused: {error}")),
    }
    wrong
}

#[test]
fn every_vector_is_answered_as_its_source_says() {
    let vectors = vectors();
    assert!(
        vectors.len() > 100,
        "only {} vectors were read",
        vectors.len()
    );
    let (mut wrong, mut requests, mut answers) = (Vec::new(), String::new(), String::new());
    let mut ids = BTreeSet::new();
    for vector in &vectors {
        if !ids.insert(vector["id"].to_string()) {
            wrong.push(format!("{}: the id stands twice", vector["id"]));
        }
        let request = vector["request"].to_string();
        let answer = poulter::evaluate_json(&request);
        wrong.extend(judge(vector, &answer));
        requests += &(request + "\n");
        answers += &(answer.unwrap_or_else(|error| error.to_json()) + "\n");
    }
    let out = root().join("target/vectors");
    fs::create_dir_all(&out).expect("target is writable");
    fs::write(out.join("requests.jsonl"), requests).expect("target is writable");
    fs::write(out.join("answers.jsonl"), answers).expect("target is writable");
    assert!(
        wrong.is_empty(),
        "{} of {} vectors:\n{}",
        wrong.len(),
        vectors.len(),
        wrong.join("\n")
    );
}

/// The rules that stand behind an expected answer: those it cites, and one asked for by its id. A plan names dozens in
/// passing and checks the numbers of few, so it stands for none.
fn rules_behind(vector: &Value) -> Vec<String> {
    if vector["request"]["kind"] == "plan" {
        return Vec::new();
    }
    let (Some(_), Ok(text)) = (
        vector.get("expect"),
        poulter::evaluate_json(&vector["request"].to_string()),
    ) else {
        return Vec::new();
    };
    let answer: Value = serde_json::from_str(&text).expect("an answer is JSON");
    let cited = answer["citations"].as_array().into_iter().flatten();
    let mut ids: Vec<_> = cited
        .filter_map(|citation| citation["rule"].as_str().map(str::to_owned))
        .collect();
    if vector["request"]["kind"] == "rules" && vector["contains"].is_object() {
        ids.extend(vector["request"]["id"].as_str().map(str::to_owned));
    }
    ids
}

/// What a book's rules lack: a vector, a citation, or a status that fits it.
fn lacking(book: &Rulebook, behind: &BTreeSet<String>) -> Vec<String> {
    let mut lacking = Vec::new();
    for rule in book.rules() {
        let custom = rule.kind == RuleKind::CommonPractice;
        if !behind.contains(&rule.id) {
            lacking.push(format!("{} has no vector", rule.id));
        }
        if rule.cites.is_empty() && !custom {
            lacking.push(format!("{} has no citation", rule.id));
        }
        if custom != (rule.status == poulter::rules::Status::CommonPractice) {
            lacking.push(format!("{} has a status that does not fit it", rule.id));
        }
    }
    lacking
}

#[test]
fn no_rule_lacks_a_vector_a_citation_or_a_status() {
    let behind: BTreeSet<_> = vectors().iter().flat_map(rules_behind).collect();
    let found = lacking(Rulebook::builtin(), &behind);
    assert!(found.is_empty(), "{}", found.join("\n"));
    // A rule that nobody wrote a vector or a citation for is told.
    let bare = r#"
        [[rule]]
        id = "uk.hold.hot.bare"
        topic = "hold.hot"
        title = "A rule without a vector"
        kind = "requirement"
        status = "read"
        last_checked = "2026-11-25"
        requirement = { type = "temperature", limit = { is = ">=", temperature = "64 °C" } }
    "#;
    let book = Rulebook::builtin().with_rules(bare).expect("a rule");
    let told = ["has no vector", "has no citation"].map(|what| format!("uk.hold.hot.bare {what}"));
    assert_eq!(lacking(&book, &behind), told);
}

/// Questions of models and of the book itself, whose numbers come from no rule.
const WITHOUT_RULES: [&str; 9] = [
    "growth",
    "lethality",
    "forecast",
    "oven_energy",
    "rules",
    "simulate_cooling",
    "simulate_roast",
    "simulate_thaw",
    "space",
];

/// Every id that an answer names as a rule: in its findings, rows, steps and lists of rules.
fn rules_named(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| rules_named(item, into)),
        Value::Object(fields) => {
            for (key, value) in fields {
                match (key.as_str(), value) {
                    ("rule", Value::String(id)) => {
                        into.insert(id.clone());
                    }
                    ("rules", Value::Array(ids)) => {
                        into.extend(ids.iter().filter_map(|id| id.as_str().map(str::to_owned)));
                    }
                    _ => rules_named(value, into),
                }
            }
        }
        _ => {}
    }
}

#[test]
fn every_answer_links_to_rules_that_the_book_explains() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for vector in vectors() {
        let Ok(text) = poulter::evaluate_json(&vector["request"].to_string()) else {
            continue;
        };
        let answer: Value = serde_json::from_str(&text).expect("an answer is JSON");
        let cited: BTreeSet<_> = (answer["citations"].as_array().into_iter().flatten())
            .filter_map(|citation| citation["rule"].as_str().map(str::to_owned))
            .collect();
        let mut named = BTreeSet::new();
        rules_named(&answer["answer"], &mut named);
        let kind = vector["request"]["kind"].as_str().unwrap_or_default();
        let id = &vector["id"];
        // Standards set side by side may all be silent.
        let silent = kind == "compare" && named.is_empty();
        if cited.is_empty() && !silent && !WITHOUT_RULES.contains(&kind) {
            wrong.push(format!("{id}: {kind} cites nothing"));
        }
        for rule in named.difference(&cited) {
            wrong.push(format!("{id}: {rule} is named and not cited"));
        }
        for rule in &cited {
            let added = vector["request"]["house_rules"].is_string();
            if Rulebook::builtin().rule(rule).is_err() && !added {
                wrong.push(format!("{id}: {rule} is not in the book"));
            }
        }
        seen += usize::from(!cited.is_empty());
    }
    assert!(seen > 1000, "only {seen} answers cite a rule");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
