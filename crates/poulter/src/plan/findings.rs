//! Remarks on the chosen chain, above all where custom and the standard part ways.

use crate::answer::{Basis, Finding};
use crate::bird::{Cut, State};
use crate::brine::BrineMethod;
use crate::messages::{fill, say};
use crate::rules::{Keeping, Requirement, Rule, Topic};
use crate::units::{Duration, Mass};

use super::chain::Timing;
use super::model::ModelTime;
use super::raw::raw_topic;
use super::setup::Setup;
use super::types::Plan;

pub(super) const fn doneness_topic(cut: Cut) -> Topic {
    match cut {
        Cut::Whole | Cut::Flattened => Topic::DonenessBird,
        Cut::Ground => Topic::DonenessGround,
        _ => Topic::DonenessParts,
    }
}

/// Adds the remarks to the plan.
pub(super) fn add(basis: &mut Basis<'_>, plan: &mut Plan, timing: &Timing<'_>, setup: &Setup<'_>) {
    let doneness = doneness_topic(setup.cut);
    if timing.combination.brine == BrineMethod::Dry {
        differ(
            basis,
            plan,
            Topic::BrineDryTime,
            Topic::BrineDryLimit,
            say("custom-dry-brine"),
        );
    }
    differ(
        basis,
        plan,
        Topic::DonenessBreastPractice,
        doneness,
        say("custom-done"),
    );
    beside_the_model(plan, timing);
    short_brine(basis, plan, timing, setup);
    if timing.combination.brine != BrineMethod::None {
        disagree(basis, plan, Topic::BrineRinse);
    }
    if timing.combination.state == State::Frozen {
        disagree(basis, plan, Topic::ThawRefrigerator);
        freezer_custom(basis, plan);
    } else {
        disagree(basis, plan, raw_topic(setup.cut));
    }
    if setup.order.kitchen.altitude.is_some()
        && let Some(rule) = basis.find(Topic::RoastAltitude)
    {
        plan.findings
            .push(Finding::advice(say("advice-altitude"), Some(rule)));
    }
    for topic in [Topic::PeopleAtRisk, Topic::PeopleAllergens] {
        if let Some(rule) = basis.find(topic)
            && let Some(text) = rule.said()
        {
            plan.findings.push(Finding::caution(text, Some(rule)));
        }
    }
}

/// Warns where the model stands alone, and where it has the bird thawed sooner than the rule.
fn beside_the_model(plan: &mut Plan, timing: &Timing<'_>) {
    let alone = |model: Option<ModelTime>| model.is_some_and(|model| model.printed.is_none());
    if alone(timing.roast_model) || alone(timing.thaw_model) {
        plan.findings
            .push(Finding::caution(say("caution-model-alone"), None));
    }
    let (Some(model), Some(thaw)) = (timing.thaw_model, &timing.thaw) else {
        return;
    };
    if model.time.low < timing.thaw_time.low {
        let then = match thaw.may_wait {
            Some(wait) if wait.high > Duration::ZERO => {
                fill("then-waits", &[("time", &wait.high.shown())])
            }
            _ => say("then-cook").to_owned(),
        };
        plan.findings.push(Finding::caution(
            fill(
                "advice-look-early",
                &[("time", &model.time.low.shown()), ("then", &then)],
            ),
            None,
        ));
    }
}

/// Says so where a brine under way has less time than it is usually given.
fn short_brine(basis: &mut Basis<'_>, plan: &mut Plan, timing: &Timing<'_>, setup: &Setup<'_>) {
    let (Some((start, how)), None) = (&setup.standing.brine, &setup.standing.brined) else {
        return;
    };
    let (topic, end) = match how {
        BrineMethod::Wet => (Topic::BrineWetTime, &timing.prepare_start),
        _ => (Topic::BrineDryTime, &timing.oven_in.planned),
    };
    let Some(rule) = basis.find(topic) else {
        return;
    };
    let (time, usual) = (end.since(start), rule.requirement.time_for(Mass::ZERO));
    if let Some(usual) = usual.filter(|usual| time < usual.low) {
        let text = fill(
            "advice-short-brine",
            &[("time", &time.shown()), ("least", &usual.low.shown())],
        );
        plan.findings.push(Finding::advice(text, Some(rule)));
    }
}

/// Says that custom and standard differ, and that the plan follows the standard.
fn differ(basis: &mut Basis<'_>, plan: &mut Plan, custom: Topic, standard: Topic, what: &str) {
    let (Some(custom), Some(rule)) = (basis.find(custom), basis.find(standard)) else {
        return;
    };
    let (Some(custom), Some(limit)) = (in_short(custom), in_short(rule)) else {
        return;
    };
    let text = fill(
        "custom-and-standard",
        &[
            ("what", &what),
            ("custom", &custom),
            ("standard", &rule.standard()),
            ("limit", &limit),
        ],
    );
    plan.findings.push(Finding::advice(text, Some(rule)));
}

fn in_short(rule: &Rule) -> Option<String> {
    match &rule.requirement {
        Requirement::Temperature { limit } | Requirement::MinimumTemperature { limit, .. } => {
            Some(limit.shown())
        }
        Requirement::Time { limit, .. } => Some(limit.shown()),
        _ => {
            let text = rule.said()?;
            Some(
                text.split_once(": ")
                    .map_or(text.clone(), |(_, range)| range.to_owned()),
            )
        }
    }
}

/// Passes on the note of a rule whose sources disagree.
fn disagree(basis: &mut Basis<'_>, plan: &mut Plan, topic: Topic) {
    if let Some(rule) = basis.find(topic)
        && !rule.note.is_empty()
    {
        plan.findings.push(Finding::advice(
            format!("{}: {}", rule.title, rule.note),
            Some(rule),
        ));
    }
}

/// Where custom keeps a frozen bird longer than the standard, the plan says so.
fn freezer_custom(basis: &mut Basis<'_>, plan: &mut Plan) {
    for rule in basis.every(raw_topic(basis.case.cut)) {
        let frozen = matches!(
            rule.requirement,
            Requirement::Keep {
                keeping: Keeping::Freezer,
                ..
            }
        );
        if frozen && !rule.note.is_empty() {
            basis.note(rule);
            plan.findings.push(Finding::advice(
                format!("{}: {}", rule.title, rule.note),
                Some(rule),
            ));
        }
    }
}
