//! The JSON Schema of requests and responses, checked in and compared. `POULTER_BLESS=1` rewrites it.

use std::fs;
use std::path::Path;

use serde_json::Value;

/// Takes what only a reader of Rust can use out of every description: examples, links and line ends.
fn for_any_reader(value: &mut Value) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(for_any_reader),
        Value::Object(fields) => {
            fields.values_mut().for_each(for_any_reader);
            if let Some(Value::String(text)) = fields.get_mut("description") {
                *text = plain(text);
            }
        }
        _ => {}
    }
}

fn plain(text: &str) -> String {
    let said = text.split("\n\n```").next().unwrap_or_default();
    let paragraphs: Vec<_> = said
        .split("\n\n")
        .map(|paragraph| without_links(&paragraph.replace('\n', " ")))
        .collect();
    paragraphs.join("\n\n")
}

/// ``[`Name`]`` and `[words](target)` without brackets and target.
fn without_links(text: &str) -> String {
    let mut plain = String::new();
    let mut rest = text;
    while let Some((before, link)) = rest.split_once('[') {
        plain += before;
        rest = match link.split_once(']') {
            Some((label, after)) if after.starts_with('(') => {
                plain += label;
                after.split_once(')').map_or(after, |(_, after)| after)
            }
            Some((label, after)) if label.starts_with('`') => {
                plain += label;
                after
            }
            _ => {
                plain.push('[');
                link
            }
        };
    }
    plain + rest
}

fn compare(name: &str, schema: &schemars::Schema) {
    let mut schema = schema.clone().to_value();
    for_any_reader(&mut schema);
    let schema = schemars::Schema::try_from(schema).expect("a schema");
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("schema")
        .join(name);
    let text = serde_json::to_string_pretty(&schema).expect("a schema is JSON") + "\n";
    if std::env::var_os("POULTER_BLESS").is_some() {
        fs::create_dir_all(path.parent().expect("a folder")).expect("a writable folder");
        fs::write(&path, &text).expect("a writable file");
    }
    let checked_in = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        checked_in == text,
        "{name} is stale: POULTER_BLESS=1 cargo test -p poulter --test schema"
    );
}

#[test]
fn the_request_schema_is_checked_in() {
    compare("request.json", &schemars::schema_for!(poulter::Request));
}

#[test]
fn the_response_schema_is_checked_in() {
    compare("response.json", &schemars::schema_for!(poulter::Response));
}

/// schemars tells two types of one name apart by a number at the end, which no reader could make sense of.
#[test]
fn no_two_types_share_a_name() {
    for schema in [
        schemars::schema_for!(poulter::Request).to_value(),
        schemars::schema_for!(poulter::Response).to_value(),
    ] {
        let named = schema["$defs"].as_object().expect("definitions");
        for name in named.keys() {
            let stem = name.trim_end_matches(|letter: char| letter.is_ascii_digit());
            assert!(
                stem.len() == name.len() || !named.contains_key(stem),
                "{name} and {stem} are two types of one name"
            );
        }
    }
}
