//! The schema of the door: one name, one meaning.

use poulter::{Request, Response};
use schemars::schema_for;

/// schemars tells two types of one name apart by a number at the end, which no reader could make sense of.
#[test]
fn no_two_types_share_a_name() {
    for schema in [
        schema_for!(Request).to_value(),
        schema_for!(Response).to_value(),
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
