//! The shared vectors, run through the door. The answers are written under `target/vectors`, so that the C and Python
//! tests can be held to the same bytes.

use std::fs;
use std::path::{Path, PathBuf};

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
    let mut ids = std::collections::BTreeSet::new();
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
