//! What a load of birds keeps for itself: oven, sink, and room in the cold.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::brine::{self, BrineMethod};
use crate::messages::fill;
use crate::rules::Topic;
use crate::thaw::ThawMethod;
use crate::units::{Mass, Volume};

use super::amounts::brine_query;
use super::chain::Timing;
use super::cooler;
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
pub(super) fn bird_room(mass: Mass, birds: u32) -> Volume {
    let litres = mass.as_kilograms() * f64::from(birds) / 1.05 * 1.15;
    Volume::from_litres((litres * 100.0).ceil() / 100.0).unwrap_or(Volume::ZERO)
}

pub(super) fn keep(
    resource: Resource,
    number: u32,
    from: &Moment,
    to: &Moment,
    room: Option<Volume>,
) -> Use {
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

/// What the vessels of a wet brine take.
pub(super) fn vessel(setup: &Setup<'_>, birds: u32) -> Option<Volume> {
    let brine = brine::brine(setup.book, &brine_query(setup, BrineMethod::Wet)).ok()?;
    let each = brine.answer.wet?.vessel;
    Some(each.times_ratio(i64::from(birds), 1))
}

/// Room in the refrigerator for thaw and brine. The bird in hand that is neither has its room already.
pub(super) fn cold(
    setup: &Setup<'_>,
    timing: &Timing<'_>,
    birds: u32,
    vessel: Option<Volume>,
) -> Vec<Cold> {
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
            (&timing.prepare_start, vessel.unwrap_or(own))
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

/// Whether the order says how much room the refrigerator has.
fn is_limited(order: &Order) -> bool {
    order.kitchen.refrigerator_room.is_some() || !order.kitchen.refrigerator_days.is_empty()
}

/// Finds room in the cold for every load: as planned; with a brine in the cooler; with every start as late as it may be,
/// when the room is wanted for the shortest time; or with a brine begun earlier in the cooler, so that the refrigerator
/// is free sooner. Where all fail there is no way: a start as late as may be takes room at no time at which another start
/// would not, but for a brine in the cooler.
///
/// `setups` are those of the loads.
pub(super) fn share_cold(
    order: &Order,
    setups: &[&Setup<'_>],
    loads: &mut [Load<'_>],
) -> Result<(), String> {
    let stations = order.class.as_ref().map_or(1, |class| class.stations);
    let mut vessels = Vec::new();
    for (setup, load) in setups.iter().zip(loads.iter()) {
        let wet = load.timing.combination.brine == BrineMethod::Wet;
        let birds = load.birds.saturating_mul(stations);
        vessels.push((birds, if wet { vessel(setup, birds) } else { None }));
    }
    let mut reason = String::new();
    for late in [false, true] {
        for (at, load) in loads.iter_mut().enumerate() {
            if late {
                at_the_latest(setups[at], &mut load.timing);
            }
            let (birds, vessel) = vessels[at];
            load.cold = cold(setups[at], &load.timing, birds, vessel);
        }
        if !is_limited(order) {
            return Ok(());
        }
        match overfull(order, &in_refrigerator(loads)) {
            None => return Ok(()),
            Some(why) => reason = why + &no_thaw_on_ice(order, setups, loads),
        }
        if move_to_cooler(order, loads) {
            return Ok(());
        }
    }
    if cooler::begin_brines_earlier(order, setups, loads, &vessels) {
        return Ok(());
    }
    Err(reason)
}

/// Why the cooler gives a thaw no room: no standard here has a time for a bird on ice, or names it among its ways.
fn no_thaw_on_ice(order: &Order, setups: &[&Setup<'_>], loads: &[Load<'_>]) -> String {
    let thaws = loads
        .iter()
        .position(|load| load.cold.iter().any(|cold| cold.step == "thaw"));
    let (Some(load), Some(_)) = (thaws, order.kitchen.cooler) else {
        return String::new();
    };
    let setup = setups[load];
    let rule = setup
        .book
        .find(Topic::ThawForbidden, &setup.case(None))
        .map_or_else(String::new, |rule| format!(" ({})", rule.id));
    fill("cooler-brine-only", &[("rule", &rule)])
}

/// Tries every choice of brines to lie in the cooler.
fn move_to_cooler(order: &Order, loads: &mut [Load<'_>]) -> bool {
    if order.kitchen.cooler.is_none() {
        return false;
    }
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
        if fits_in_cooler(order, &kept_in(loads, Resource::Cooler))
            && overfull(order, &in_refrigerator(loads)).is_none()
        {
            return true;
        }
    }
    for (at, place) in brines {
        loads[at].cold[place].kept.resource = Resource::Refrigerator;
    }
    false
}

fn at_the_latest(setup: &Setup<'_>, timing: &mut Timing<'_>) {
    match timing
        .brine_start
        .as_ref()
        .map(|brine| brine.latest.clone())
    {
        Some(latest) => cooler::begin_brine(setup, timing, &latest),
        None => cooler::thaw_at_the_latest(setup, timing),
    }
}

fn kept_in<'l>(loads: &'l [Load<'_>], resource: Resource) -> Vec<&'l Use> {
    loads
        .iter()
        .flat_map(|load| &load.cold)
        .map(|cold| &cold.kept)
        .filter(|kept| kept.resource == resource)
        .collect()
}

fn in_refrigerator<'l>(loads: &'l [Load<'_>]) -> Vec<&'l Use> {
    kept_in(loads, Resource::Refrigerator)
}

/// Whether the cooler holds all that is to lie in it.
pub(super) fn fits_in_cooler(order: &Order, kept: &[&Use]) -> bool {
    order.kitchen.cooler.is_some_and(|cooler| {
        kept.iter()
            .all(|one| wanted_at(kept, &one.from) <= cooler.room)
    })
}

/// The first day on which the refrigerator would have to hold more than it can. What is wanted rises only when a use
/// begins, and what there is falls only when a day does.
pub(super) fn overfull(order: &Order, kept: &[&Use]) -> Option<String> {
    let mut times: Vec<Moment> = kept.iter().map(|kept| kept.from.clone()).collect();
    let first = times.iter().min()?.clone();
    let last = kept.iter().map(|kept| &kept.to).max()?;
    times.extend(drops(order, &first).into_iter().filter(|at| at < last));
    let mut worst: Option<(Date, Volume)> = None;
    for at in &times {
        let day = at.zoned().date();
        let wanted = wanted_at(kept, at);
        if room_on(order, day).is_some_and(|room| wanted > room)
            && worst.is_none_or(|(known, most)| day < known || (day == known && wanted > most))
        {
            worst = Some((day, wanted));
        }
    }
    let (day, needed) = worst?;
    let units = super::planner::units(order);
    Some(fill(
        "out-no-room",
        &[
            ("day", &day.strftime("%a %-d %b")),
            ("needed", &units.volume(needed)),
            ("room", &units.volume(room_on(order, day)?)),
        ],
    ))
}

fn wanted_at(kept: &[&Use], at: &Moment) -> Volume {
    kept.iter()
        .filter(|kept| kept.from <= *at && *at < kept.to)
        .filter_map(|kept| kept.room)
        .fold(Volume::ZERO, Volume::plus)
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

/// The midnights after `from` and up to serving at which the refrigerator comes to have less room.
pub(super) fn drops(order: &Order, from: &Moment) -> Vec<Moment> {
    let kitchen = &order.kitchen;
    let mut drops = Vec::new();
    for own in &kitchen.refrigerator_days {
        let next = own.day.saturating_add(1.day());
        for day in [own.day, next] {
            let before = room_on(order, day.saturating_sub(1.day()));
            let less =
                room_on(order, day).is_some_and(|room| before.is_none_or(|before| room < before));
            let at = order.serve_at.start_of(day);
            if less && *from < at && at <= order.serve_at && !drops.contains(&at) {
                drops.push(at);
            }
        }
    }
    drops.sort();
    drops
}
