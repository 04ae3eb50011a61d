//! A load of birds in an oven as the search sees it: whole numbers, each worked out once however often it is asked for.

use std::collections::HashMap;

use crate::roast::Oven;
use crate::thaw::ThawMethod;
use crate::units::{Duration, DurationUnit};

use super::chain::{Timing, time};
use super::moment::Moment;
use super::setup::Setup;

/// One load of birds with the combination that is tried.
pub(super) struct BirdLoad<'s, 'b> {
    /// The line of the order that it is of.
    pub(super) line: usize,
    /// The place of the combination among those of the line that are kept.
    pub(super) place: usize,
    pub(super) setup: &'s Setup<'b>,
    /// The combination as it would be alone.
    pub(super) kept: &'s Timing<'b>,
    pub(super) birds: u32,
}

impl<'b> BirdLoad<'_, 'b> {
    /// Whether it has to be thawed in a sink.
    pub(super) fn wants_sink(&self) -> bool {
        matches!(
            self.kept.combination.thaw,
            Some(ThawMethod::ColdWater | ThawMethod::RunningWater)
        ) && !self.setup.standing.is_raw_and_begun()
    }

    /// Its times in an oven, into which it goes so many milliseconds before serving at the latest.
    pub(super) fn timed(
        &self,
        oven: Oven,
        by: Option<i64>,
        serve_at: &Moment,
    ) -> Option<Timing<'b>> {
        let setup = Setup {
            oven,
            oven_by: by.map(|by| before(serve_at, by)),
            ..self.setup.clone()
        };
        time(&setup, self.kept.combination).ok()
    }
}

/// The moment so many milliseconds before serving; after it where negative.
pub(super) fn before(serve_at: &Moment, milliseconds: i64) -> Moment {
    let off = Duration::from_steps(milliseconds.abs(), DurationUnit::Minute);
    if milliseconds >= 0 {
        serve_at.before(off)
    } else {
        serve_at.after(off)
    }
}

/// When a load goes into an oven. Moments are milliseconds before serving, so an earlier one is the larger number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct InOven {
    /// The last moment.
    pub(super) latest: i64,
    /// The quarter of an hour that is planned.
    pub(super) planned: i64,
    /// The earliest that `latest` may become: sooner, and a bird done early would have to be held too long.
    pub(super) earliest: i64,
    /// When it is made ready.
    pub(super) prepare: i64,
    /// When its thaw begins.
    pub(super) thaw: i64,
    /// How long it is in the oven in the slow case, in milliseconds.
    pub(super) high: i64,
    /// The air at the end of its time, in exact steps.
    pub(super) air: i64,
}

impl InOven {
    pub(super) fn of(timing: &Timing<'_>, setup: &Setup<'_>) -> Option<Self> {
        let serve_at = &setup.order.serve_at;
        let ahead = |moment: &Moment| serve_at.since(moment).steps();
        let latest = ahead(&timing.oven_in.latest);
        let earliest = if setup.standing.roast.is_some() {
            latest
        } else {
            let held = timing.rest.high.plus(timing.hold_limit);
            ahead(&timing.carve_start) + held.plus(timing.roast_time.low).steps()
        };
        let last = timing.roast.oven.last()?;
        Some(Self {
            latest,
            planned: ahead(&timing.oven_in.planned),
            earliest: earliest.max(latest),
            prepare: ahead(&timing.prepare_start),
            thaw: ahead(&timing.thaw_start.planned),
            high: timing.roast_time.high.steps(),
            air: last.air.exact().ninths_of_millikelvin(),
        })
    }
}

/// A line, the place of its combination, the sort of oven, and by when it must be in.
type Asked = (usize, usize, usize, Option<i64>);

/// Most states of ovens that are tried for an order; a counted bound, so that the answer is the same everywhere.
const MOST_TRIES: u32 = 100_000;

/// What has been worked out so far. It holds for the same lines of birds, whatever dishes and ovens are tried with them.
#[derive(Default)]
pub(super) struct Times {
    sorts: Vec<Oven>,
    known: HashMap<Asked, Option<InOven>>,
    tries: u32,
}

impl Times {
    /// Counts a state that is tried; false when it is one too many.
    pub(super) fn may_try(&mut self) -> bool {
        self.tries = self.tries.saturating_add(1);
        !self.are_spent()
    }

    /// Whether the order has more ways than are tried, so that to find none says nothing.
    pub(super) const fn are_spent(&self) -> bool {
        self.tries > MOST_TRIES
    }

    /// Gives up on the order: some ways are not tried at all.
    pub(super) const fn spend(&mut self) {
        self.tries = u32::MAX;
    }

    /// A load in an oven; nothing where it cannot be done there.
    pub(super) fn of(
        &mut self,
        load: &BirdLoad<'_, '_>,
        oven: Oven,
        by: Option<i64>,
    ) -> Option<InOven> {
        let sort = self.sorts.iter().position(|known| *known == oven);
        let sort = sort.unwrap_or_else(|| {
            self.sorts.push(oven);
            self.sorts.len() - 1
        });
        let work_out = || {
            if by.is_none() && load.kept.oven == oven {
                return InOven::of(load.kept, load.setup);
            }
            let timing = load.timed(oven, by, &load.setup.order.serve_at)?;
            InOven::of(&timing, load.setup)
        };
        *self
            .known
            .entry((load.line, load.place, sort, by))
            .or_insert_with(work_out)
    }
}
