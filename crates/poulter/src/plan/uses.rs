//! What a load of birds keeps for itself: oven, sink, and room in the cold.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::brine::{self, BrineMethod};
use crate::rules::Topic;
use crate::thaw::ThawMethod;
use crate::units::{Mass, Volume};

use super::amounts::brine_query;
use super::chain::Timing;
use super::joint::Load;
use super::moment::Moment;
use super::order::Order;
use super::setup::Setup;
use super::types::{Resource, Use};

/// Room kept in the cold by one step of a load.
#[derive(Clone)]
pub(super) struct Cold {
    pub(super) step: &'static str,
    pub(super) kept: Use,
}

/// Room that a bird takes, L: displacement at 1.05 kg/L (from memory) and 15 % of head room (common practice), as for
/// the vessel of a brine.
fn bird_room(mass: Mass, birds: u32) -> Volume {
    let litres = mass.as_kilograms() * f64::from(birds) / 1.05 * 1.15;
    Volume::from_litres((litres * 100.0).ceil() / 100.0).unwrap_or(Volume::ZERO)
}

fn keep(resource: Resource, number: u32, from: &Moment, to: &Moment, room: Option<Volume>) -> Use {
    Use {
        resource,
        number,
        name: None,
        from: from.clone(),
        to: to.clone(),
        room,
    }
}

/// The oven, from the planned start to the end of the slow case.
pub(super) fn oven(order: &Order, oven: usize, timing: &Timing<'_>) -> Use {
    let number = u32::try_from(oven + 1).unwrap_or(u32::MAX);
    let until = timing.oven_in.latest.after(timing.roast_time.high);
    Use {
        name: order
            .kitchen
            .ovens
            .get(oven)
            .and_then(|oven| oven.name.clone()),
        ..keep(
            Resource::Oven,
            number,
            &timing.oven_in.planned,
            &until,
            None,
        )
    }
}

/// The sink of a thaw in water.
pub(super) fn sink(setup: &Setup<'_>, timing: &Timing<'_>) -> Option<Use> {
    let in_water = matches!(
        timing.combination.thaw,
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater)
    );
    (in_water && !setup.standing.is_raw_and_begun()).then(|| {
        keep(
            Resource::Sink,
            1,
            &timing.thaw_start.planned,
            &timing.prepare_start,
            None,
        )
    })
}

/// Room in the refrigerator for thaw and brine. The bird in hand that is neither has its room already.
fn cold(setup: &Setup<'_>, timing: &Timing<'_>, birds: u32) -> Vec<Cold> {
    let own = bird_room(setup.mass, birds);
    let next = timing
        .brine_start
        .as_ref()
        .map_or(&timing.prepare_start, |brine| &brine.planned);
    let mut all = Vec::new();
    if timing.combination.thaw == Some(ThawMethod::Refrigerator)
        && !setup.standing.is_raw_and_begun()
    {
        all.push(Cold {
            step: "thaw",
            kept: keep(
                Resource::Refrigerator,
                1,
                &timing.thaw_start.planned,
                next,
                Some(own),
            ),
        });
    }
    if let Some(brine) = &timing.brine_start
        && setup.standing.brined.is_none()
    {
        let wet = timing.combination.brine == BrineMethod::Wet;
        let (end, room) = if wet {
            let each = brine::brine(setup.book, &brine_query(setup, BrineMethod::Wet))
                .ok()
                .and_then(|answer| answer.answer.wet)
                .map_or(own, |wet| wet.vessel.times_ratio(i64::from(birds), 1));
            (&timing.prepare_start, each)
        } else {
            (&timing.oven_in.planned, own)
        };
        all.push(Cold {
            step: "brine",
            kept: keep(Resource::Refrigerator, 1, &brine.planned, end, Some(room)),
        });
    }
    all
}

/// Finds room in the cold for every load: as planned; with a brine in the cooler; or with every start as late as it may
/// be, when the room is wanted for the shortest time.
pub(super) fn share_cold(
    order: &Order,
    setups: &[&Setup<'_>],
    loads: &mut [Load<'_>],
) -> Result<(), String> {
    let known =
        order.kitchen.refrigerator_room.is_some() || !order.kitchen.refrigerator_days.is_empty();
    let stations = order.class.as_ref().map_or(1, |class| class.stations);
    let mut reason = String::new();
    for late in [false, true] {
        if late {
            for load in loads.iter_mut() {
                at_the_latest(setups[load.line], &mut load.timing);
            }
        }
        for load in loads.iter_mut() {
            load.cold = cold(
                setups[load.line],
                &load.timing,
                load.birds.saturating_mul(stations),
            );
        }
        if !known {
            return Ok(());
        }
        match overfull(order, loads) {
            None => return Ok(()),
            Some(why) => reason = why + &no_thaw_on_ice(order, setups, loads),
        }
        if move_to_cooler(order, loads) {
            return Ok(());
        }
    }
    Err(reason)
}

/// Why the cooler gives a thaw no room: no standard here has a time for a bird on ice, or names it among its ways.
fn no_thaw_on_ice(order: &Order, setups: &[&Setup<'_>], loads: &[Load<'_>]) -> String {
    let thaws = loads
        .iter()
        .find(|load| load.cold.iter().any(|cold| cold.step == "thaw"));
    let (Some(load), Some(_)) = (thaws, order.kitchen.cooler) else {
        return String::new();
    };
    let setup = setups[load.line];
    let rule = setup
        .book
        .find(Topic::ThawForbidden, &setup.case(None))
        .map_or_else(String::new, |rule| format!(" ({})", rule.id));
    format!(
        "; the cooler is for brine only: on ice is not among the standard's ways to thaw, and no source says how long it \
         takes{rule}"
    )
}

/// Tries every choice of brines to lie in the cooler.
fn move_to_cooler(order: &Order, loads: &mut [Load<'_>]) -> bool {
    let Some(cooler) = order.kitchen.cooler else {
        return false;
    };
    let brines: Vec<(usize, usize)> = loads
        .iter()
        .enumerate()
        .flat_map(|(at, load)| {
            load.cold
                .iter()
                .enumerate()
                .filter(|(_, cold)| cold.step == "brine")
                .map(move |(place, _)| (at, place))
        })
        .collect();
    for set in 1..1_u32 << brines.len().min(12) {
        for (bit, &(at, place)) in brines.iter().enumerate() {
            loads[at].cold[place].kept.resource = if set & (1 << bit) != 0 {
                Resource::Cooler
            } else {
                Resource::Refrigerator
            };
        }
        let fits =
            most(loads, Resource::Cooler, |_| true).is_none_or(|(room, _)| room <= cooler.room);
        if fits && overfull(order, loads).is_none() {
            return true;
        }
    }
    for (at, place) in brines {
        loads[at].cold[place].kept.resource = Resource::Refrigerator;
    }
    false
}

fn at_the_latest(setup: &Setup<'_>, timing: &mut Timing<'_>) {
    if setup.standing.brine.is_none()
        && let Some(brine) = &mut timing.brine_start
    {
        brine.planned = brine.latest.clone();
    }
    if setup.standing.thaw.is_none() {
        if let Some(brine) = &timing.brine_start {
            timing.thaw_start.latest = brine.planned.before(timing.thaw_time.high);
        }
        timing.thaw_start.planned = timing.thaw_start.latest.clone();
    }
}

/// The first day on which the refrigerator would have to hold more than it can.
fn overfull(order: &Order, loads: &[Load<'_>]) -> Option<String> {
    let mut day = loads
        .iter()
        .flat_map(|load| &load.cold)
        .map(|cold| cold.kept.from.zoned().date())
        .min()?;
    while day <= order.serve_at.zoned().date() {
        if let Some(room) = room_on(order, day)
            && let Some((needed, _)) =
                most(loads, Resource::Refrigerator, |at| at.zoned().date() == day)
            && needed > room
        {
            let units = super::planner::units(order);
            return Some(format!(
                "on {} the refrigerator would have to hold {}; it has room for {}",
                day.strftime("%a %-d %b"),
                units.volume(needed),
                units.volume(room)
            ));
        }
        day = day.checked_add(1.day()).ok()?;
    }
    None
}

fn room_on(order: &Order, day: Date) -> Option<Volume> {
    order
        .kitchen
        .refrigerator_days
        .iter()
        .find(|own| own.day == day)
        .map(|own| own.room)
        .or(order.kitchen.refrigerator_room)
}

/// The most room wanted at one time on the days that count. It can only rise when a use begins or a day does.
fn most(
    loads: &[Load<'_>],
    resource: Resource,
    counts: impl Fn(&Moment) -> bool,
) -> Option<(Volume, Moment)> {
    let kept: Vec<&Use> = loads
        .iter()
        .flat_map(|load| &load.cold)
        .map(|cold| &cold.kept)
        .filter(|kept| kept.resource == resource)
        .collect();
    let mut times: Vec<Moment> = kept.iter().map(|kept| kept.from.clone()).collect();
    for kept in &kept {
        let mut midnight = kept.from.next_midnight();
        while midnight < kept.to {
            times.push(midnight.clone());
            midnight = midnight.next_midnight();
        }
    }
    times
        .into_iter()
        .filter(|at| counts(at))
        .map(|at| {
            let room = kept
                .iter()
                .filter(|kept| kept.from <= at && at < kept.to)
                .filter_map(|kept| kept.room)
                .fold(Volume::ZERO, Volume::plus);
            (room, at)
        })
        .max_by(|one, other| one.0.cmp(&other.0))
}
