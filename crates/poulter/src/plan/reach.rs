//! What room in the cold loads take whatever the hours, and whether other hours in the oven could help.

use crate::brine::BrineMethod;
use crate::thaw::ThawMethod;
use crate::units::Volume;

use super::in_oven::{BirdLoad, Times, before};
use super::moment::Moment;
use super::order::Order;
use super::ovens::{QUARTER, Room, sort_of};
use super::types::{Resource, Use};
use super::uses::{bird_room, drops, keep, overfull, vessel};

/// How far the hours of a load reach. Moments are milliseconds before serving, so an earlier one is the larger number.
struct Reach {
    /// What it keeps in the refrigerator whatever the hours.
    always: Vec<Use>,
    /// The latest and the earliest moment at which it may leave the refrigerator.
    leaves: (i64, i64),
    /// The last moment at which it begins to take more room.
    begins: i64,
}

impl Reach {
    /// Nothing where the load never lies in the cold.
    fn of(
        order: &Order,
        load: &BirdLoad<'_, '_>,
        room: &Room<'_>,
        times: &mut Times,
    ) -> Option<Self> {
        let (setup, timing) = (load.setup, load.kept);
        let ahead = |moment: &Moment| order.serve_at.since(moment).steps();
        let planned = ahead(&timing.oven_in.planned);
        // When it may be planned to go into the oven, over all ovens.
        let (mut last, mut first) = (planned, planned);
        for own in room.ovens {
            if let Some(oven) = times.of(load, sort_of(own), None) {
                last = last.min(oven.planned);
                if setup.standing.roast.is_none() {
                    first = first.max(oven.earliest + QUARTER);
                }
            }
        }
        let off = |moment: &Moment| ahead(moment) - planned;
        let thaws = timing.combination.thaw == Some(ThawMethod::Refrigerator)
            && !setup.standing.is_raw_and_begun();
        let brine = timing
            .brine_start
            .as_ref()
            .filter(|_| setup.standing.brined.is_none());
        let begun = match (&setup.standing.thaw, brine) {
            _ if !thaws => last + off(&brine?.latest),
            (Some((start, _)), _) => ahead(start),
            (None, _) => last + off(&timing.criteria.must_start_by),
        };
        let out_of_it = match timing.combination.brine {
            BrineMethod::Dry => 0,
            _ => off(&timing.prepare_start),
        };
        let stations = order.class.as_ref().map_or(1, |class| class.stations);
        let birds = load.birds.saturating_mul(stations);
        let own = bird_room(setup.mass, birds);
        let kept = |from: i64, to: i64, litres: Volume| {
            let (from, to) = (before(&order.serve_at, from), before(&order.serve_at, to));
            (from < to).then(|| keep(Resource::Refrigerator, 1, &from, &to, Some(litres)))
        };
        let begins = brine.map_or(begun, |brine| last + off(&brine.latest));
        if let Some(brine) = brine.filter(|_| order.kitchen.cooler.is_some()) {
            // The brine may lie in the cooler, from its earliest start on.
            let next = first + off(&brine.earliest);
            let thaw = if thaws { kept(begun, next, own) } else { None };
            return Some(Self {
                always: thaw.into_iter().collect(),
                leaves: (last, next),
                begins,
            });
        }
        let leaves = (last + out_of_it, first + out_of_it);
        let mut always: Vec<Use> = kept(begun, leaves.1, own).into_iter().collect();
        if timing.combination.brine == BrineMethod::Wet && brine.is_some() {
            let more = vessel(setup, birds).unwrap_or(own).minus(own);
            always.extend(kept(begins, leaves.1, more));
        }
        Some(Self {
            always,
            leaves,
            begins,
        })
    }
}

/// What other hours could do for loads that have no room in the cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OtherHours {
    /// There is no room at any hours.
    Never,
    /// Other ovens or another order could help; going in earlier could not.
    AsLate,
    /// Going in earlier could help.
    Earlier,
}

/// Whether loads that have no room in the cold could have it at other hours.
///
/// A bird that goes into the oven earlier leaves the refrigerator earlier. That helps only where there is less room from
/// a midnight on that it could be out by, or where it could be out before another load takes room.
pub(super) fn other_hours(
    order: &Order,
    room: &Room<'_>,
    birds: &[BirdLoad<'_, '_>],
    times: &mut Times,
) -> OtherHours {
    let reaches: Vec<Reach> = birds
        .iter()
        .filter_map(|load| Reach::of(order, load, room, times))
        .collect();
    let always: Vec<&Use> = reaches.iter().flat_map(|reach| &reach.always).collect();
    if overfull(order, &always).is_some() {
        return OtherHours::Never;
    }
    let drops: Vec<i64> = reaches
        .iter()
        .map(|reach| before(&order.serve_at, reach.leaves.1))
        .min()
        .map(|from| drops(order, &from))
        .unwrap_or_default()
        .iter()
        .map(|at| order.serve_at.since(at).steps())
        .collect();
    let helps = reaches.iter().enumerate().any(|(at, reach)| {
        let (last, first) = reach.leaves;
        let others = reaches.iter().enumerate().filter(|(other, _)| *other != at);
        drops.iter().any(|drop| (last..=first).contains(drop))
            || others
                .map(|(_, other)| other.begins)
                .any(|begins| begins <= first)
    });
    if helps {
        OtherHours::Earlier
    } else {
        OtherHours::AsLate
    }
}
