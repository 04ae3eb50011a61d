//! Brines that begin earlier in the cooler, so that the refrigerator is free sooner.

use crate::units::Volume;

use super::chain::Timing;
use super::joint::Load;
use super::moment::Moment;
use super::order::Order;
use super::setup::Setup;
use super::types::{Resource, Use};
use super::uses::{Cold, cold, drops, fits_in_cooler, overfull};

/// Tries brines in the cooler at every start that can matter; the loads begin as late as they may.
///
/// Put a brine in the cooler off, and only the thaw before it is in the way: it takes the refrigerator longer. So of all
/// schedules that hold there is one in which each such brine begins as late as it may, or where the refrigerator comes to
/// have less room, or where another load begins to take some.
pub(super) fn begin_brines_earlier(
    order: &Order,
    setups: &[&Setup<'_>],
    loads: &mut [Load<'_>],
    vessels: &[(u32, Option<Volume>)],
) -> bool {
    if order.kitchen.cooler.is_none() {
        return false;
    }
    let brines: Vec<usize> = (0..loads.len())
        .filter(|&at| loads[at].cold.iter().any(|cold| cold.step == "brine"))
        .collect();
    let search = Search {
        order,
        setups,
        vessels,
    };
    (1..1_u32 << brines.len().min(12)).any(|set| {
        let chosen: Vec<usize> = brines
            .iter()
            .enumerate()
            .filter(|(bit, _)| set & (1 << bit) != 0)
            .map(|(_, &at)| at)
            .collect();
        let starts = search.starts(loads, &chosen);
        search.begin(loads, &chosen, &starts)
    })
}

struct Search<'o, 's> {
    order: &'o Order,
    setups: &'s [&'s Setup<'o>],
    vessels: &'s [(u32, Option<Volume>)],
}

impl Search<'_, '_> {
    /// The starts that can matter to any of the brines.
    fn starts(&self, loads: &[Load<'_>], chosen: &[usize]) -> Vec<Moment> {
        let earliest = |at: usize| loads[at].timing.brine_start.as_ref().map(|it| &it.earliest);
        let Some(first) = chosen.iter().filter_map(|&at| earliest(at)).min() else {
            return Vec::new();
        };
        let mut starts = drops(self.order, &first.before(super::steps::minutes(1)));
        for (at, load) in loads.iter().enumerate() {
            let own = load.cold.iter().filter(|_| !chosen.contains(&at));
            starts.extend(own.map(|cold| cold.kept.from.clone()));
        }
        // A thaw begins by the start of its brine, and may itself be what another brine waits for.
        let latest: Vec<Moment> = chosen
            .iter()
            .filter_map(|&at| loads[at].timing.brine_start.as_ref())
            .map(|brine| brine.latest.clone())
            .collect();
        let mut reached = [starts.clone(), latest].concat();
        for _ in 1..chosen.len() {
            reached = chosen
                .iter()
                .flat_map(|&at| {
                    let thaw = loads[at].timing.thaw_time.high;
                    reached.iter().map(move |start| start.before(thaw))
                })
                .collect();
            starts.extend(reached.iter().cloned());
        }
        starts.sort();
        starts.dedup();
        starts
    }

    /// Gives each brine left to be begun a start, the latest first, with which the loads so far have room.
    fn begin(&self, loads: &mut [Load<'_>], left: &[usize], starts: &[Moment]) -> bool {
        let Some((&at, rest)) = left.split_first() else {
            return true;
        };
        let Some(brine) = loads[at].timing.brine_start.clone() else {
            return false;
        };
        let may = |start: &&Moment| brine.earliest <= **start && **start < brine.latest;
        let tried = starts.iter().rev().filter(may);
        for start in std::iter::once(&brine.latest).chain(tried) {
            self.begin_at(&mut loads[at], at, start);
            if self.has_room(loads, rest) && self.begin(loads, rest, starts) {
                return true;
            }
        }
        self.begin_at(&mut loads[at], at, &brine.latest);
        for cold in &mut loads[at].cold {
            cold.kept.resource = Resource::Refrigerator;
        }
        false
    }

    fn begin_at(&self, load: &mut Load<'_>, at: usize, start: &Moment) {
        let setup = self.setups[at];
        begin_brine(setup, &mut load.timing, start);
        let (birds, vessel) = self.vessels[at];
        load.cold = cold(setup, &load.timing, birds, vessel);
        for cold in load.cold.iter_mut().filter(|cold| cold.step == "brine") {
            cold.kept.resource = Resource::Cooler;
        }
    }

    /// Whether all but the loads that are still left have room.
    fn has_room(&self, loads: &[Load<'_>], left: &[usize]) -> bool {
        let placed = |cold: &&Cold| {
            !left
                .iter()
                .any(|&at| loads[at].cold.iter().any(|own| std::ptr::eq(own, *cold)))
        };
        let kept = |resource: Resource| -> Vec<&Use> {
            loads
                .iter()
                .flat_map(|load| &load.cold)
                .filter(placed)
                .map(|cold| &cold.kept)
                .filter(|kept| kept.resource == resource)
                .collect()
        };
        overfull(self.order, &kept(Resource::Refrigerator)).is_none()
            && fits_in_cooler(self.order, &kept(Resource::Cooler))
    }
}

/// Begins a brine then, and the thaw before it as late as it may be.
pub(super) fn begin_brine(setup: &Setup<'_>, timing: &mut Timing<'_>, start: &Moment) {
    if setup.standing.brine.is_none()
        && let Some(brine) = &mut timing.brine_start
    {
        brine.planned = start.clone();
    }
    thaw_at_the_latest(setup, timing);
}

/// Begins a thaw as late as what follows it allows.
pub(super) fn thaw_at_the_latest(setup: &Setup<'_>, timing: &mut Timing<'_>) {
    if setup.standing.thaw.is_none() {
        if let Some(brine) = &timing.brine_start {
            let span = &mut timing.thaw_start;
            span.latest = brine.planned.before(timing.thaw_time.high);
            span.earliest = span.earliest.clone().min(span.latest.clone());
        }
        timing.thaw_start.planned = timing.thaw_start.latest.clone();
    }
}
