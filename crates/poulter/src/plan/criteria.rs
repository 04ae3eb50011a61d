//! What a combination is ranked by.

use crate::answer::TimeEstimate;
use crate::brine::BrineMethod;
use crate::thaw::ThawMethod;
use crate::units::Duration;

use super::chain::{Span, is_salted};
use super::combination::Combination;
use super::hours::Hours;
use super::moment::Moment;
use super::setup::Setup;
use super::types::Criteria;

/// When thaw, brine, making ready and roast begin.
type Starts<'t> = (&'t Span, Option<&'t Span>, &'t Moment, &'t Span);

pub(super) fn criteria(
    setup: &Setup<'_>,
    combination: Combination,
    thaw_time: TimeEstimate,
    starts: Starts<'_>,
    (longest_hold, must_start_by): (Duration, Moment),
) -> Criteria {
    let (thaw, brine, prepare, _) = starts;
    let hours = Hours::of(setup.order);
    let night = |start: &Moment| u32::from(!hours.holds(start));
    Criteria {
        night_steps: night(&thaw.planned)
            + u32::from(
                attended(combination, thaw_time) > Duration::ZERO
                    && !setup.standing.is_raw_and_begun()
                    && hours.breaks(&thaw.planned, thaw_time.high),
            )
            + brine.map_or(0, |brine| night(&brine.planned))
            + night(prepare),
        compromises: u32::from(combination.brine == BrineMethod::None && !is_salted(setup))
            + u32::from(combination.thaw == Some(ThawMethod::FromFrozen)),
        outside_lessons: outside_lessons(setup, combination, thaw_time, starts),
        attended: attended(combination, thaw_time),
        longest_hold,
        must_start_by,
    }
}

/// How many of the steps that are left up to the oven fall outside the lessons of a class.
fn outside_lessons(
    setup: &Setup<'_>,
    combination: Combination,
    thaw_time: TimeEstimate,
    (thaw, brine, prepare, oven): Starts<'_>,
) -> Option<u32> {
    setup.order.class.as_ref()?;
    let standing = &setup.standing;
    let mut starts = Vec::new();
    let thaws = combination
        .thaw
        .is_some_and(|how| how != ThawMethod::FromFrozen);
    if thaws && !standing.is_raw_and_begun() {
        starts.push((&thaw.planned, thaw_busy(setup, combination, thaw_time)));
    }
    if let Some(brine) = brine.filter(|_| standing.brine.is_none()) {
        starts.push((&brine.planned, setup.busy("brine")));
    }
    if standing.prepared.is_none() && standing.roast.is_none() {
        starts.push((prepare, setup.busy("prepare")));
    }
    if standing.roast.is_none() {
        starts.push((&oven.planned, setup.busy("roast")));
    }
    Hours::of(setup.order).outside_lessons(&starts)
}

/// How long a thaw keeps hands busy.
pub(super) fn thaw_busy(
    setup: &Setup<'_>,
    combination: Combination,
    thaw_time: TimeEstimate,
) -> Duration {
    let attended = attended(combination, thaw_time);
    if attended > Duration::ZERO {
        attended
    } else {
        setup.busy("thaw")
    }
}

/// Water is changed or watched all along.
const fn attended(combination: Combination, thaw_time: TimeEstimate) -> Duration {
    match combination.thaw {
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater) => thaw_time.high,
        _ => Duration::ZERO,
    }
}
