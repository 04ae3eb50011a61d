//! The message catalogue: phrases by key, from one file that can be translated.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use poulter::brine::BrineMethod;
use poulter::plan::Resource;
use poulter::rules::{RuleKind, Stage};
use poulter::{Finding, FindingKind};

const ENGLISH: &str = include_str!("../messages/en.ftl");

static CATALOGUE: LazyLock<BTreeMap<&'static str, &'static str>> =
    LazyLock::new(|| messages(ENGLISH).collect());

/// The messages of a catalogue in the order they stand: `key = text`, one a line.
fn messages(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once('='))
        .map(|(key, text)| (key.trim(), text.trim()))
}

/// The phrase of a key. A test holds that every key used is in the catalogue.
pub(crate) fn say(key: &'static str) -> &'static str {
    CATALOGUE.get(key).copied().unwrap_or(key)
}

/// The phrase of a key with its values filled in.
pub(crate) fn fill(key: &'static str, values: &[(&str, &str)]) -> String {
    let mut out = String::new();
    let mut rest = say(key);
    while let Some((before, after)) = rest.split_once("{ $") {
        out.push_str(before);
        let Some((name, after)) = after.split_once(" }") else {
            break;
        };
        let value = values.iter().find(|value| value.0 == name);
        out.push_str(value.map_or(name, |value| value.1));
        rest = after;
    }
    out + rest
}

/// What a reader sees before a finding. The word carries the meaning; no colour is needed.
pub(crate) fn label(finding: &Finding) -> String {
    match (finding.kind, finding.verdict) {
        (_, Some(verdict)) => capital(verdict.word()),
        (FindingKind::Caution, None) => say("caution").to_owned(),
        (FindingKind::Advice | FindingKind::Verdict, None) => say("advice").to_owned(),
    }
}

/// The text with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

pub(crate) fn resource(resource: Resource) -> &'static str {
    say(match resource {
        Resource::Oven => "resource-oven",
        Resource::Sink => "resource-sink",
        Resource::Refrigerator => "resource-refrigerator",
        Resource::Cook => "resource-cook",
        Resource::Cooler => "resource-cooler",
    })
}

pub(crate) fn kind(kind: RuleKind) -> &'static str {
    say(match kind {
        RuleKind::Requirement => "rule-requirement",
        RuleKind::Guidance => "rule-guidance",
        RuleKind::CommonPractice => "rule-practice",
        RuleKind::Model => "rule-model",
    })
}

pub(crate) fn stage(stage: Stage) -> &'static str {
    say(match stage {
        Stage::Purchase => "stage-purchase",
        Stage::Storage => "stage-storage",
        Stage::Thaw => "stage-thaw",
        Stage::Brine => "stage-brine",
        Stage::Prepare => "stage-prepare",
        Stage::Roast => "stage-roast",
        Stage::Doneness => "stage-doneness",
        Stage::Serve => "stage-serve",
        Stage::Gravy => "stage-gravy",
        Stage::Leftovers => "stage-leftovers",
        Stage::People => "stage-people",
    })
}

pub(crate) fn brine(method: BrineMethod) -> &'static str {
    say(match method {
        BrineMethod::Wet => "brine-wet",
        BrineMethod::Dry => "brine-dry",
        BrineMethod::None => "brine-none",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_takes_its_values_by_name() {
        assert_eq!(
            fill("between", &[("latest", "9:00"), ("earliest", "8:00")]),
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
