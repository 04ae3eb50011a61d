//! How long a raw bird may wait, and the brine that goes into that time.

use crate::answer::{Basis, TimeEstimate};
use crate::bird::{Cut, State};
use crate::brine::BrineMethod;
use crate::messages::fill;
use crate::rules::Topic;
use crate::thaw::ThawTime;
use crate::units::{Duration, DurationUnit};

use super::chain::{Fallen, Span, limit, range};
use super::combination::Combination;
use super::hours::Hours;
use super::moment::Moment;
use super::setup::Setup;

/// How long the bird may be raw and unfrozen.
pub(super) struct RawTime {
    /// From the quick end of thawing, or from buying, to the oven.
    pub(super) may_wait: Duration,
    /// What part of that time the uncertainty of thawing may eat.
    uncertain: Duration,
    thaw_high: Duration,
    /// Since when it is known to be raw and unfrozen.
    since: Option<Moment>,
}

impl RawTime {
    pub(super) fn of(
        basis: &mut Basis<'_>,
        setup: &Setup<'_>,
        combination: Combination,
        thaw: Option<&ThawTime>,
        thaw_time: TimeEstimate,
    ) -> Self {
        let may_wait = match (thaw, combination.state) {
            (Some(thaw), _) => thaw.may_wait.map_or(Duration::ZERO, |wait| wait.high),
            (None, State::Thawed) => {
                limit(basis, Topic::ThawKeepAfterRefrigerator).unwrap_or(Duration::ZERO)
            }
            (None, _) if setup.to_buy => fresh_window(basis).1,
            (None, _) => limit(basis, raw_topic(setup.cut)).unwrap_or(Duration::ZERO),
        };
        let standing = &setup.standing;
        let uncertain = if standing.thawed.is_some() {
            Duration::ZERO
        } else {
            thaw_time.high.minus(thaw_time.low)
        };
        Self {
            may_wait,
            uncertain,
            thaw_high: thaw_time.high,
            since: match combination.thaw {
                Some(_) => standing.thawed.clone(),
                None => setup.raw_since().cloned(),
            },
        }
    }

    /// By when a raw bird in hand must be in the oven.
    pub(super) fn oven_by(&self) -> Option<Moment> {
        let since = self.since.as_ref()?;
        (self.may_wait > Duration::ZERO).then(|| since.after(self.may_wait))
    }
}

/// The topic of how long it keeps raw.
pub(super) const fn raw_topic(cut: Cut) -> Topic {
    match cut {
        Cut::Ground => Topic::StorageGround,
        _ if cut.is_bird() => Topic::StorageRaw,
        _ => Topic::StorageRawParts,
    }
}

/// How long before it goes into the oven a fresh bird may be bought, and the topic that says so: where no rule does, as
/// long as a raw one keeps.
pub(super) fn fresh_window(basis: &mut Basis<'_>) -> (Topic, Duration) {
    let topics = [Topic::PurchaseFreshWindow, raw_topic(basis.case.cut)];
    let found = topics
        .into_iter()
        .find_map(|topic| Some((topic, limit(basis, topic)?)));
    found.unwrap_or((Topic::PurchaseFreshWindow, Duration::ZERO))
}

pub(super) fn brine_span(
    basis: &mut Basis<'_>,
    setup: &Setup<'_>,
    combination: Combination,
    raw: &RawTime,
    end: &Moment,
) -> Result<Option<Span>, Fallen> {
    let (time, cap) = match combination.brine {
        BrineMethod::None => return Ok(None),
        BrineMethod::Wet => (Topic::BrineWetTime, Topic::BrineWetLimit),
        BrineMethod::Dry => (Topic::BrineDryTime, Topic::BrineDryLimit),
    };
    let wanted = range(basis, time)?;
    let mut longest = wanted.high.min(limit(basis, cap).unwrap_or(wanted.high));
    let made_ready = if combination.brine == BrineMethod::Wet {
        setup.prepare(combination)
    } else {
        Duration::ZERO
    };
    longest = longest.min(raw.may_wait.minus(raw.uncertain).minus(made_ready));
    if longest < wanted.low {
        return Err(Fallen::because(fill(
            "out-brine-too-long",
            &[
                ("brine", &wanted.low.shown()),
                ("longest", &raw.may_wait.shown()),
            ],
        )));
    }
    if let Some((start, _)) = &setup.standing.brine {
        return under_way(start, end, longest).map(Some);
    }
    if let Some(first) = setup.first_now() {
        let room = end.since(first).minus(raw.thaw_high);
        longest = longest.min(room).max(wanted.low);
    }
    let latest = end.before(wanted.low);
    let earliest = end.before(longest);
    let middle = Duration::from_steps(
        i64::midpoint(wanted.low.steps(), longest.steps()),
        DurationUnit::Hour,
    );
    let wished = Hours::of(setup.order)
        .before(&end.before(middle))
        .quarter_before();
    let planned = if wished >= earliest {
        wished
    } else {
        end.before(middle)
    };
    let mut span = Span {
        earliest,
        planned,
        latest,
    };
    span.move_into_lesson(setup, setup.busy("brine"));
    Ok(Some(span))
}

/// A brine that is under way ends when the bird is wanted; only its upper limit can rule that out.
fn under_way(start: &Moment, end: &Moment, longest: Duration) -> Result<Span, Fallen> {
    if end.since(start) > longest {
        return Err(Fallen::because(fill(
            "out-brine-raw",
            &[
                ("time", &end.since(start).shown()),
                ("longest", &longest.shown()),
            ],
        )));
    }
    Ok(Span::fixed(start))
}
