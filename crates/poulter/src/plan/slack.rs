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

/// Hands-on minutes. Common practice, no source; the cook's own times stand before them.
fn hands_on(step: &Step, setup: &Setup<'_>) -> Option<Duration> {
    if let Some(own) = setup.hands_on(&step.id) {
        return Some(own);
    }
    let usual = match step.id.as_str() {
        "buy" => 60,
        "thaw" if step.occupies.contains(&Resource::Sink) => return Some(step.duration.high),
        "thaw" | "roast" | "rest" => 10,
        "brine" | "prepare" => 30,
        "measure" => 5,
        "gravy" | "carve" | "chill" | "stock" => {
            return Some(step.duration.likely.min(minutes(20)));
        }
        _ => return None,
    };
    Some(minutes(usual))
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
