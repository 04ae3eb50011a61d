//! Every English phrase that the sheets add to a plan's own words, in one place to translate.

use poulter::brine::BrineMethod;
use poulter::plan::Resource;
use poulter::rules::{RuleKind, Stage};
use poulter::{Finding, FindingKind};

pub(crate) const LANGUAGE: &str = "en";
pub(crate) const SHEET: &str = "Kitchen sheet";
pub(crate) const SKIP: &str = "Skip to the sheet";
pub(crate) const CONTENTS: &str = "On this sheet";

pub(crate) const SERVE: &str = "Serve";
pub(crate) const BIRD: &str = "Bird";
pub(crate) const STANDARD: &str = "Standard";
pub(crate) const START_BY: &str = "Start by";

pub(crate) const NOT_POSSIBLE: &str = "Not possible as asked";
pub(crate) const NOT_POSSIBLE_WHY: &str = "No way of preparing this bird serves it safely at the hour asked. Do not shorten a step to make it fit.";
pub(crate) const CHANGES: &str = "What would make it possible";
pub(crate) const NO_CHANGE: &str = "No change that was tried makes it possible.";

pub(crate) const TIMELINE: &str = "Timeline";
pub(crate) const OVERVIEW: &str = "Overview";
pub(crate) const OVERVIEW_KEY: &str = "Each strip is one day from midnight to midnight. A bar carries the number of \
    its step: solid for the likely time, striped for the longest.";
pub(crate) const SHOPPING: &str = "Shopping list";
pub(crate) const FINDINGS: &str = "Checks and advice";
pub(crate) const OTHER_WAYS: &str = "Other ways that were weighed";
pub(crate) const WHY_NOT: &str = "Why each way fell out";
pub(crate) const RUNNERS_UP: &str = "Also possible";
pub(crate) const FELL_OUT: &str = "Fell out";
pub(crate) const ASSUMED: &str = "What was assumed";
pub(crate) const CAUTIONS: &str = "Cautions";
pub(crate) const SOURCES: &str = "Rules and sources";

pub(crate) const RECORD: &str = "Write down";
pub(crate) const START: &str = "Start";
pub(crate) const TAKES: &str = "Takes";
pub(crate) const NEEDS: &str = "Needs";
pub(crate) const RULES: &str = "Rules";
pub(crate) const LIMIT: &str = "Limit";
pub(crate) const OTHERWISE: &str = "If not";
pub(crate) const TICK: &str = "Tick each time";
pub(crate) const TIME: &str = "Time";
pub(crate) const TEMPERATURE: &str = "Temp.";
pub(crate) const INITIALS: &str = "Initials";
pub(crate) const ITEM: &str = "Item";
pub(crate) const AMOUNT: &str = "Amount";
pub(crate) const NOTE: &str = "Note";
pub(crate) const WAY: &str = "Way";
pub(crate) const REASON: &str = "Reason";
pub(crate) const RULE: &str = "Rule";
pub(crate) const SOURCE: &str = "Source, and how it was read";
pub(crate) const SIGNED: &str = "Signed";
pub(crate) const DATE: &str = "Date";
pub(crate) const BEGINS: &str = "Begins now";
pub(crate) const OWN_RULE: &str = "added by the user";
pub(crate) const NO_SOURCE: &str = "no source";

pub(crate) fn serve_in_zone(when: &str, zone: &str) -> String {
    format!("{when} ({zone})")
}

pub(crate) fn birds(
    count: u32,
    mass: &str,
    species: &str,
    state: &str,
    stuffed: bool,
    to_buy: bool,
) -> String {
    let mut text = if count == 1 {
        format!("one {state} {species} of {mass}")
    } else {
        format!("{count} × {state} {species} of {mass} each")
    };
    text += if stuffed { ", stuffed" } else { "" };
    text += if to_buy { ", to buy" } else { "" };
    text
}

pub(crate) fn at_exactly(time: &str) -> String {
    format!("{time}, neither earlier nor later")
}

pub(crate) fn between(earliest: &str, latest: &str) -> String {
    format!("any time from {earliest} to {latest}")
}

pub(crate) fn takes(range: &str, likely: Option<&str>) -> String {
    likely.map_or_else(
        || range.to_owned(),
        |likely| format!("{range}, likely {likely}"),
    )
}

pub(crate) fn every(duration: &str, what: &str) -> String {
    format!("Every {duration}: {what}")
}

/// Days of which each looks like the others.
pub(crate) fn days(first: &str, last: &str) -> String {
    format!("{first} to {last}")
}

pub(crate) fn served(serve_at: &str) -> String {
    format!("served {serve_at}")
}

pub(crate) fn and_more(count: usize) -> String {
    format!("and {count} more")
}

pub(crate) fn margin(amount: &str) -> String {
    format!("margin {amount}")
}

pub(crate) fn short_by(amount: &str) -> String {
    format!("short by {amount}")
}

/// A difference too small to show.
pub(crate) fn less_than(amount: &str) -> String {
    format!("less than {amount}")
}

pub(crate) fn checked(day: &str) -> String {
    format!("checked {day}")
}

pub(crate) fn no_safe_plan(title: &str) -> String {
    format!("No safe plan: {title}")
}

/// What a reader sees before a finding. The word carries the meaning; no colour is needed.
pub(crate) fn label(finding: &Finding) -> String {
    match (finding.kind, finding.verdict) {
        (_, Some(verdict)) => {
            let word = verdict.word();
            let (first, rest) = word.split_at(1);
            first.to_uppercase() + rest
        }
        (FindingKind::Caution, None) => "Caution".to_owned(),
        (FindingKind::Advice | FindingKind::Verdict, None) => "Advice".to_owned(),
    }
}

pub(crate) const fn resource(resource: Resource) -> &'static str {
    match resource {
        Resource::Oven => "oven",
        Resource::Sink => "sink or tub",
        Resource::Refrigerator => "refrigerator",
        Resource::Cooler => "cooler with ice",
        Resource::Cook => "a cook",
    }
}

pub(crate) const fn kind(kind: RuleKind) -> &'static str {
    match kind {
        RuleKind::Requirement => "requirement",
        RuleKind::Guidance => "guidance",
        RuleKind::CommonPractice => "common practice",
        RuleKind::Model => "model",
    }
}

pub(crate) const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Purchase => "Buy",
        Stage::Storage => "Store",
        Stage::Thaw => "Thaw",
        Stage::Brine => "Brine",
        Stage::Prepare => "Prepare",
        Stage::Roast => "Roast",
        Stage::Doneness => "Check doneness",
        Stage::Serve => "Serve",
        Stage::Gravy => "Gravy",
        Stage::Leftovers => "Leftovers",
        Stage::People => "People",
    }
}

pub(crate) const fn brine(method: BrineMethod) -> &'static str {
    match method {
        BrineMethod::Wet => "wet brine",
        BrineMethod::Dry => "dry brine",
        BrineMethod::None => "no brine",
    }
}
