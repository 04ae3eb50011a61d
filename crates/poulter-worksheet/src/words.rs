//! Words of the sheets for what a plan names, from the catalogue of messages.

use poulter::brine::BrineMethod;
pub(crate) use poulter::messages::{fill, say};
use poulter::plan::Resource;
use poulter::rules::{RuleKind, Stage};
use poulter::{Finding, FindingKind};

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
