//! Slack, the critical path, and how long each step keeps hands busy.

use crate::units::Duration;

use super::chain::Timing;
use super::setup::Setup;
use super::steps::minutes;
use super::types::{Resource, Step};

/// The latest start of every step with which dinner is still on time in the slow case, less the planned one.
///
/// Latest starts are counted back from the oven: making the bird ready, then the shortest brine, then the longest thaw.
pub(super) fn of_load(steps: &mut [Step], timing: &Timing<'_>, setup: &Setup<'_>) {
    let oven = &timing.oven_in.latest;
    let prepare = oven.before(setup.prepare(timing.combination));
    let moved = prepare.since(&timing.prepare_start);
    let brine = timing
        .brine_start
        .as_ref()
        .map(|brine| brine.latest.after(moved));
    let thaw = brine
        .as_ref()
        .unwrap_or(&prepare)
        .before(timing.thaw_time.high);
    for step in steps {
        let latest = match step.id.as_str() {
            "buy" => Some(if timing.thaw.is_some() {
                &thaw
            } else {
                brine.as_ref().unwrap_or(&prepare)
            }),
            "thaw" => Some(&thaw),
            "brine" => brine.as_ref(),
            "prepare" => Some(&prepare),
            "roast" => Some(oven),
            "measure" | "rest" | "carve" | "gravy" => Some(&step.window.latest),
            _ => None,
        };
        step.slack = latest.map(|latest| latest.since(&step.window.planned));
        step.hands_on = hands_on(step, setup);
    }
}

/// Hands-on minutes of a step by its id. Common practice, no source.
pub(super) fn usual(step: &str) -> Option<Duration> {
    let usual = match step {
        "buy" => 60,
        "thaw" | "roast" | "rest" | "take-in" => 10,
        "brine" | "prepare" => 30,
        "measure" => 5,
        "gravy" | "carve" | "chill" | "stock" => 20,
        _ => return None,
    };
    Some(minutes(usual))
}

/// How long a step keeps hands busy; the cook's own times stand before the usual ones.
fn hands_on(step: &Step, setup: &Setup<'_>) -> Option<Duration> {
    if let Some(own) = setup.hands_on(&step.id) {
        return Some(own);
    }
    match step.id.as_str() {
        "thaw" if step.occupies.contains(&Resource::Sink) => Some(step.duration.high),
        "gravy" | "carve" | "chill" | "stock" => {
            usual(&step.id).map(|usual| usual.min(step.duration.likely))
        }
        id => usual(id),
    }
}

/// Marks the critical path: of the steps up to the oven that have not happened, those with the least slack.
pub(super) fn govern(steps: &mut [Step]) {
    let counts = |step: &Step| {
        let name = step.id.split('-').next().unwrap_or_default();
        ["buy", "thaw", "brine", "prepare", "roast"].contains(&name)
    };
    let Some(least) = steps
        .iter()
        .filter(|step| counts(step))
        .filter_map(|step| step.slack)
        .min()
    else {
        return;
    };
    for step in steps {
        step.governs = counts(step) && step.slack == Some(least);
    }
}
