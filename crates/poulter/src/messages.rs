//! The message catalogue: the phrases of plans and of their sheets by key, in one file that can be translated.
//!
//! ```
//! use poulter::messages::{fill, say};
//!
//! assert_eq!(say("the-core"), "the core");
//! assert_eq!(fill("news-later", &[("time", &"2 h")]), "dinner as planned is out of reach; it can be served 2 h later");
//! ```

use std::collections::HashMap;
use std::fmt::{Display, Write as _};
use std::sync::LazyLock;

const ENGLISH: &str = include_str!("../messages/en.ftl");

static CATALOGUE: LazyLock<HashMap<&'static str, &'static str>> =
    LazyLock::new(|| messages(ENGLISH).collect());

/// The messages of a catalogue in the order they stand: `key = text`, one a line.
fn messages(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once('='))
        .map(|(key, text)| (key.trim(), text.trim()))
}

/// The phrase of a key, or the key where there is none.
#[must_use]
pub fn say(key: &'static str) -> &'static str {
    CATALOGUE.get(key).copied().unwrap_or(key)
}

/// The phrase of a key with its values filled in by name.
#[must_use]
pub fn fill(key: &'static str, values: &[(&str, &dyn Display)]) -> String {
    let mut out = String::new();
    let mut rest = say(key);
    while let Some((before, after)) = rest.split_once("{ $") {
        out.push_str(before);
        let Some((name, after)) = after.split_once(" }") else {
            break;
        };
        match values.iter().find(|value| value.0 == name) {
            // Writing to a string does not fail.
            Some((_, value)) => drop(write!(out, "{value}")),
            None => out.push_str(name),
        }
        rest = after;
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_takes_its_values_by_name() {
        assert_eq!(
            fill("between", &[("latest", &"9:00"), ("earliest", &"8:00")]),
            "any time from 8:00 to 9:00"
        );
    }

    #[test]
    fn a_key_stands_once_and_its_braces_are_whole() {
        let mut seen = Vec::new();
        for (key, text) in messages(ENGLISH) {
            assert!(!seen.contains(&key), "{key} twice");
            assert!(!text.is_empty(), "{key}");
            let holes = text.matches("{ $").count();
            assert_eq!(holes, text.matches(" }").count(), "{key}");
            assert_eq!(holes, text.matches('{').count(), "{key}");
            seen.push(key);
        }
    }
}
