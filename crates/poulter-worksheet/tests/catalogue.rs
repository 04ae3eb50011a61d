//! Everything that plans and sheets say stands in the catalogue of messages, and everything there is said.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn here(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

fn keys() -> BTreeSet<String> {
    let catalogue = here("../poulter/messages/en.ftl");
    let lines = catalogue.lines().filter(|line| !line.starts_with('#'));
    lines
        .filter_map(|line| line.split_once('='))
        .map(|(key, _)| key.trim().to_owned())
        .collect()
}

/// The files of a folder beside this one, without their tests and comments.
fn program(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let files = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    files
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let text = text.split("#[cfg(test)]\nmod").next().unwrap_or_default();
            let code: Vec<&str> = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, code.join("\n"))
        })
        .collect()
}

const SHEETS: &str = "src";
const PLANS: &str = "../poulter/src/plan";

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
    let everywhere = [SHEETS, PLANS, "../poulter/src/roast"];
    for (_, code) in everywhere.into_iter().flat_map(program) {
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

/// Files that word refusals: an error speaks to the developer who wrote the order, not to the cook.
const OF_ERRORS: [&str; 4] = ["lib.rs", "asked.rs", "read.rs", "moment.rs"];

#[test]
fn no_other_file_holds_prose() {
    for (name, code) in [SHEETS, PLANS].into_iter().flat_map(program) {
        if OF_ERRORS.contains(&name.as_str()) {
            continue;
        }
        for literal in literals(&code) {
            let text = without_values(&literal);
            let words = text
                .split(|c: char| !c.is_alphabetic() && c != '\'')
                .filter(|word| word.len() > 1);
            let prose = text.contains(' ') && words.count() > 1;
            assert!(!prose || excused(&text), "{name}: {text:?}");
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

/// Markup, formats of dates and formulas, reasons given to the compiler, refusals and names for allergens.
fn excused(text: &str) -> bool {
    let of_errors = ["is needed", "are needed"];
    let of_allergens = ["butter or oil", "maize starch", "onion, carrot and celery"];
    text.contains(['<', '>', '=', '\u{1}'])
        || text.contains("ddd yyyy")
        || text.contains("hundred degrees")
        || text.starts_with("reason ")
        || text.starts_with("the shape that")
        || text == "each is a fact of its own about the bird"
        || of_errors.iter().any(|end| text.ends_with(end))
        || of_allergens.contains(&text)
}
