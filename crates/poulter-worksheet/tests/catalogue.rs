//! Everything that the sheets say stands in the catalogue of messages, and everything there is said.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn here(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

fn keys() -> BTreeSet<String> {
    let catalogue = here("messages/en.ftl");
    let lines = catalogue.lines().filter(|line| !line.starts_with('#'));
    lines
        .filter_map(|line| line.split_once('='))
        .map(|(key, _)| key.trim().to_owned())
        .collect()
}

/// The program, file by file, without its tests and comments.
fn program() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let files = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    files
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let text = text.split("#[cfg(test)]").next().unwrap_or_default();
            let code: Vec<&str> = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, code.join("\n"))
        })
        .collect()
}

/// The texts in quotes of a file.
fn literals(code: &str) -> Vec<String> {
    let code = code.replace("\\\"", "\u{1}").replace("'\"'", "' '");
    code.split('"')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_key_is_said_and_every_message_is_used() {
    let keys = keys();
    let mut used = BTreeSet::new();
    for (_, code) in program() {
        used.extend(
            literals(&code)
                .into_iter()
                .filter(|text| keys.contains(text)),
        );
        for call in ["say(\"", "fill(\""] {
            for rest in code.split(call).skip(1) {
                let key = rest.split('"').next().unwrap_or_default();
                assert!(keys.contains(key), "{key} is in no catalogue");
            }
        }
    }
    let idle: Vec<_> = keys.difference(&used).collect();
    assert!(idle.is_empty(), "{idle:?}");
}

#[test]
fn no_other_file_holds_prose() {
    // Words of errors and of markup are no words of a sheet.
    let is_markup = |text: &str| text.contains(['<', '>', '=', '\u{1}']);
    for (name, code) in program() {
        for literal in literals(&code) {
            let text = without_values(&literal);
            let words: Vec<&str> = text
                .split(|c: char| !c.is_alphabetic() && c != '\'')
                .filter(|word| word.len() > 1)
                .collect();
            let of_errors = name == "lib.rs";
            let spaced = text.contains(' ') && words.len() > 1;
            let list = text.starts_with("reason ");
            assert!(
                !spaced || is_markup(&text) || of_errors || list || excused(&text),
                "{name}: {text:?}"
            );
        }
    }
}

/// A text without what is filled in between braces.
fn without_values(text: &str) -> String {
    let parts = text
        .split('{')
        .enumerate()
        .map(|(index, part)| match part.split_once('}') {
            Some((_, rest)) if index > 0 => rest,
            _ => part,
        });
    parts.collect()
}

/// Formats of dates and formulas, and reasons given to the compiler.
fn excused(text: &str) -> bool {
    text.contains("ddd yyyy") || text.contains("hundred degrees")
}
