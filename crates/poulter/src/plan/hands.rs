//! The hands of one cook: what is carved one after the other, and what wants more hands than one cook has.

use crate::answer::Finding;
use crate::messages::fill;
use crate::units::Duration;

use super::joint::Load;
use super::moment::Moment;
use super::order::Order;
use super::types::{Plan, Step};

/// Steps that a cook does once for each load and cannot do for two at once.
const ONE_AT_A_TIME: [&str; 3] = ["brine", "prepare", "carve"];

/// Carves the loads one after the other, the one that is ready last at its own time and each other one before the next.
/// A load that is not ready so early in its slow case keeps its time.
pub(super) fn carve_in_turn(loads: &mut [Load<'_>]) {
    let mut last_first: Vec<usize> = (0..loads.len()).collect();
    last_first.sort_by_key(|&at| std::cmp::Reverse(ready(&loads[at])));
    let mut next: Option<Moment> = None;
    for at in last_first {
        let timing = &loads[at].timing;
        let own = &timing.carve_start;
        let start = match &next {
            Some(next) => next.before(timing.carve.high).min(own.clone()),
            None => own.clone(),
        };
        if start >= ready(&loads[at]) {
            next = Some(start.clone());
            loads[at].timing.carve_start = start;
        }
    }
}

/// When a load has rested in its slow case.
fn ready(load: &Load<'_>) -> Moment {
    let timing = &load.timing;
    timing
        .oven_in
        .latest
        .after(timing.roast_time.high)
        .after(timing.rest.low)
}

/// The load that is carved first.
pub(super) fn carved_first(loads: &[Load<'_>]) -> usize {
    (0..loads.len())
        .min_by_key(|&at| &loads[at].timing.carve_start)
        .unwrap_or(0)
}

/// Says where one cook would have to do two things at once. A class has a cook at every station.
pub(super) fn too_few(plan: &mut Plan, order: &Order) {
    if order.class.is_some() {
        return;
    }
    for kind in ONE_AT_A_TIME {
        let alike: Vec<&Step> = plan
            .steps
            .iter()
            .filter(|step| step.id.split('-').next() == Some(kind))
            .filter(|step| !is_past(step, order))
            .collect();
        let clashes = |step: &&&Step| {
            alike
                .iter()
                .any(|other| other.id != step.id && overlap(step, other))
        };
        let at_once: Vec<String> = alike
            .iter()
            .filter(clashes)
            .map(|step| {
                fill(
                    "hands-step",
                    &[
                        ("step", &step.title),
                        ("bird", &step.bird.as_deref().unwrap_or_default()),
                        ("time", &step.window.planned.shown(plan.clock)),
                    ],
                )
            })
            .collect();
        if !at_once.is_empty() {
            let text = fill("advice-hands", &[("steps", &at_once.join("; "))]);
            plan.findings.push(Finding::advice(text, None));
        }
    }
}

fn is_past(step: &Step, order: &Order) -> bool {
    order
        .now
        .as_ref()
        .is_some_and(|now| step.window.planned < *now)
}

fn overlap(one: &Step, other: &Step) -> bool {
    let busy = |step: &Step| step.hands_on.unwrap_or(Duration::ZERO);
    let end = |step: &Step| step.window.planned.after(busy(step));
    one.window.planned < end(other) && other.window.planned < end(one)
}
