//! The order of preference among combinations that hold, and what each one is told.

use crate::messages::{fill, say};
use crate::units::Duration;

use super::chain::{Fallen, Timing};
use super::combination::Combination;
use super::moment::Moment;
use super::order::Order;
use super::types::{Chain, Criteria};

type Rank<'c> = (
    i64,
    u32,
    u32,
    Option<u32>,
    i64,
    i64,
    std::cmp::Reverse<&'c Moment>,
);

/// What a combination is ranked by; smaller is better. Points come first where the order weighs; then each criterion
/// decides between equals of those before it. A later last start is better, so the moment counts backwards.
pub(super) fn rank<'c>(order: &Order, criteria: &'c Criteria) -> Rank<'c> {
    (
        score(order, criteria).unwrap_or(0),
        criteria.night_steps,
        criteria.compromises,
        criteria.outside_lessons,
        criteria.attended.steps(),
        criteria.longest_hold.steps(),
        std::cmp::Reverse(&criteria.must_start_by),
    )
}

/// Thousandths of a point by the order's weights.
pub(super) fn score(order: &Order, criteria: &Criteria) -> Option<i64> {
    let weights = order.weights?;
    let each = |count: u32, weight: u32| 1000 * i64::from(count) * i64::from(weight);
    let hours = |time: Duration, weight: u32| time.steps() * i64::from(weight) / 3600;
    let ahead = order.serve_at.since(&criteria.must_start_by);
    Some(
        each(criteria.night_steps, weights.night_step)
            + each(criteria.compromises, weights.compromise)
            + each(
                criteria.outside_lessons.unwrap_or(0),
                weights.outside_lesson,
            )
            + hours(criteria.attended, weights.attended_hour)
            + hours(criteria.longest_hold, weights.hold_hour)
            + hours(ahead, weights.ahead_hour),
    )
}

/// The line for a combination that is kept, beside the one chosen.
pub(super) fn kept_chain(
    order: &Order,
    name: Option<&str>,
    timing: &Timing<'_>,
    best: &Timing<'_>,
) -> Chain {
    let chosen = timing.combination == best.combination;
    let reason = if chosen {
        say("chosen").to_owned()
    } else {
        runner_up(order, &timing.criteria, &best.criteria)
    };
    Chain {
        chosen,
        criteria: Some(timing.criteria.clone()),
        score: score(order, &timing.criteria),
        ..chain(name, timing.combination, true, reason)
    }
}

fn runner_up(order: &Order, own: &Criteria, best: &Criteria) -> String {
    let why = if score(order, own) != score(order, best) {
        say("after-by-points")
    } else if own.night_steps != best.night_steps {
        say("after-by-night")
    } else if own.compromises != best.compromises {
        say("after-by-trade-offs")
    } else if own.outside_lessons != best.outside_lessons {
        say("after-by-lessons")
    } else if own.attended != best.attended {
        say("after-by-attendance")
    } else if own.longest_hold != best.longest_hold {
        say("after-by-hold")
    } else if own.must_start_by != best.must_start_by {
        say("after-by-start")
    } else {
        say("after-by-preference")
    };
    fill("also-possible", &[("why", &why)])
}

/// The line for a combination that falls out.
pub(super) fn fallen_chain(
    name: Option<&str>,
    (combination, fallen): &(Combination, Fallen),
) -> Chain {
    chain(name, *combination, false, fallen.reason.clone())
}

/// The line for a combination without criteria.
pub(super) fn chain(
    name: Option<&str>,
    combination: Combination,
    kept: bool,
    reason: String,
) -> Chain {
    let Combination {
        state,
        thaw,
        brine,
        roast,
    } = combination;
    Chain {
        bird: name.map(str::to_owned),
        state,
        thaw,
        brine,
        roast,
        kept,
        chosen: false,
        reason,
        criteria: None,
        score: None,
    }
}
