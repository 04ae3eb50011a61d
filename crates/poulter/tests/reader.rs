//! The door's own reader of JSON beside `serde_json`'s: what one takes the other takes too, and as the same question.

use std::fs;
use std::path::Path;

use poulter::Request;
use serde_json::{Value, json};

fn vectors() -> Vec<Value> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/vectors");
    let files = fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().path());
    let mut requests = Vec::new();
    for path in files.filter(|path| path.extension().is_some_and(|end| end == "json")) {
        let vectors: Vec<Value> = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
        requests.extend(vectors.into_iter().map(|vector| vector["request"].clone()));
    }
    requests.retain(|request| request["kind"].is_string() && request.get("house_rules").is_none());
    requests
}

/// Every place of a value, as JSON pointers.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_owned());
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                places(
                    value,
                    &format!("{at}/{}", name.replace('~', "~0").replace('/', "~1")),
                    found,
                );
            }
        }
        // The first few of a list: its other items are of one type with them.
        Value::Array(items) => {
            for (place, value) in items.iter().take(2).enumerate() {
                places(value, &format!("{at}/{place}"), found);
            }
        }
        _ => {}
    }
}

/// Whether both readers take it, and then as the same question.
fn compare(request: &Value) -> (bool, bool) {
    let here = Request::from_value(request.clone());
    let there = serde_json::from_value::<Request>(request.clone());
    if let (Ok(here), Ok(there)) = (&here, &there) {
        let written = |request: &Request| serde_json::to_value(request).unwrap();
        assert_eq!(written(here), written(there), "{request}");
    }
    (here.is_ok(), there.is_ok())
}

#[test]
fn every_vector_is_read_alike() {
    let requests = vectors();
    assert!(requests.len() > 1500, "{}", requests.len());
    for request in requests {
        let (here, there) = compare(&request);
        assert_eq!(here, there, "{request}");
    }
}

#[test]
fn a_value_put_in_the_place_of_another_is_taken_or_refused_alike() {
    let strange = [
        json!(null),
        json!(true),
        json!(-1),
        json!(2.5),
        json!(1e300),
        json!("x"),
        json!([]),
        json!([1]),
        json!({}),
        json!({"value": 1, "unit": "lb"}),
    ];
    let mut seen = std::collections::BTreeSet::new();
    let (mut taken, mut refused) = (0, 0);
    for request in vectors() {
        let kind = request["kind"].as_str().unwrap().to_owned();
        let mut at = Vec::new();
        places(&request, "", &mut at);
        // Each place of each kind of question once.
        for place in at
            .into_iter()
            .filter(|place| !place.is_empty() && place != "/kind")
        {
            if !seen.insert(format!("{kind}{place}")) {
                continue;
            }
            for value in &strange {
                let mut changed = request.clone();
                *changed.pointer_mut(&place).unwrap() = value.clone();
                let (here, there) = compare(&changed);
                // A list in the order of an object's fields is refused here.
                let positional = value.is_array() && there;
                assert!(
                    here == there || positional,
                    "{here} {there} {place} {changed}"
                );
                taken += u32::from(here);
                refused += u32::from(!here);
            }
        }
    }
    assert!(taken > 300 && refused > 3000, "{taken} {refused}");
}
