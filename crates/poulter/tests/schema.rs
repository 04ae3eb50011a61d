//! The JSON Schema of requests and responses, checked in and compared. `POULTER_BLESS=1` rewrites it.

use std::fs;
use std::path::Path;

fn compare(name: &str, schema: &schemars::Schema) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("schema")
        .join(name);
    let text = serde_json::to_string_pretty(schema).expect("a schema is JSON") + "\n";
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
