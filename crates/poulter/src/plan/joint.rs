//! The combinations that go together: one for each line of birds, with room for all in ovens, sinks and the cold.

use std::collections::HashSet;

use crate::messages::{fill, say};
use crate::units::{Duration, DurationUnit};

use super::chain::{Timing, longest_hold};
use super::combination::Combination;
use super::in_oven::{BirdLoad, InOven, Times};
use super::kitchen::KitchenOven;
use super::moment::Moment;
use super::order::Order;
use super::outset::{Outset, Weighed};
use super::ovens::{DishLoad, Hours, PlacedBird, PlacedDish, QUARTER, Room, fit, sort_of};
use super::reach::{self, OtherHours};
use super::setup::Setup;
use super::types::Change;
use super::uses::{self, Cold};
use crate::bird::State;
use crate::thaw::ThawMethod;

pub(super) type Line<'b> = (Outset<'b>, State, Weighed<'b>);

/// A combination that would do alone, and why it does not do here.
pub(super) type Refused = (usize, Combination, String);

/// One load of birds, in its oven.
pub(super) struct Load<'b> {
    pub(super) line: usize,
    pub(super) oven: usize,
    pub(super) birds: u32,
    pub(super) timing: Timing<'b>,
    pub(super) cold: Vec<Cold>,
}

/// What was chosen for all lines.
pub(super) struct Chosen<'b> {
    /// The place of each line's combination among those kept.
    pub(super) picked: Vec<usize>,
    pub(super) loads: Vec<Load<'b>>,
    pub(super) dishes: Vec<PlacedDish>,
    pub(super) refused: Vec<Refused>,
}

/// The best choice of one combination for each line that goes together; or why none does.
///
/// Choices are tried in the order of the sum of their places among the lines' own preferences, all of them.
pub(super) fn choose<'b>(
    order: &Order,
    lines: &[Line<'b>],
    times: &mut Times,
) -> Result<Chosen<'b>, Vec<Refused>> {
    let ovens = order.kitchen.every_oven();
    let room = Room {
        ovens: &ovens,
        sinks: order.kitchen.sinks.unwrap_or(1),
        serve_at: &order.serve_at,
    };
    let dishes = dishes(order, lines);
    let kinds: Vec<Vec<usize>> = lines.iter().map(kinds).collect();
    let mut choices: Vec<Vec<usize>> = vec![Vec::new()];
    for (.., weighed) in lines {
        choices = choices
            .iter()
            .flat_map(|choice| {
                (0..weighed.kept.len()).map(move |next| {
                    let mut choice = choice.clone();
                    choice.push(next);
                    choice
                })
            })
            .collect();
    }
    choices.sort_by_key(|choice| choice.iter().sum::<usize>());
    let mut hopeless = HashSet::new();
    let mut refused: Vec<Refused> = Vec::new();
    for picked in choices {
        let key: Vec<usize> = picked
            .iter()
            .zip(&kinds)
            .map(|(&at, kinds)| kinds[at])
            .collect();
        let mut why = say("out-no-oven").to_owned();
        if times.are_spent() {
            say("out-too-many-ways").clone_into(&mut why);
        } else if !hopeless.contains(&key) {
            match together(order, &room, lines, &picked, &dishes, times) {
                Ok((loads, dishes)) => {
                    return Ok(Chosen {
                        picked,
                        loads,
                        dishes,
                        refused,
                    });
                }
                Err(Some(reason)) => why = reason,
                Err(None) if times.are_spent() => say("out-too-many-ways").clone_into(&mut why),
                Err(None) => {
                    hopeless.insert(key);
                }
            }
        }
        // Of several lines, no single one is to blame for a choice that does not go together.
        if let [at] = picked[..] {
            refused.push((0, lines[0].2.kept[at].combination, why));
        } else if picked.iter().filter(|&&at| at > 0).count() <= 1 {
            for (line, &at) in picked.iter().enumerate() {
                let combination = lines[line].2.kept[at].combination;
                if !refused
                    .iter()
                    .any(|(known, other, _)| *known == line && *other == combination)
                {
                    refused.push((line, combination, why.clone()));
                }
            }
        }
    }
    Err(refused)
}

/// For each combination of a line the first one that fits just where it does, as far as ovens and sinks go.
fn kinds((outset, _, weighed): &Line<'_>) -> Vec<usize> {
    let kinds: Vec<_> = weighed
        .kept
        .iter()
        .map(|timing| kind(&outset.setup, timing))
        .collect();
    kinds
        .iter()
        .map(|kind| kinds.iter().position(|known| known == kind).unwrap_or(0))
        .collect()
}

/// What decides whether a combination fits, as far as ovens and sinks go.
fn kind(setup: &Setup<'_>, timing: &Timing<'_>) -> (bool, Duration, Option<InOven>, Moment) {
    let in_water = matches!(
        timing.combination.thaw,
        Some(ThawMethod::ColdWater | ThawMethod::RunningWater)
    );
    let mut oven = InOven::of(timing, setup);
    let mut must_start_by = timing.criteria.must_start_by.clone();
    if let Some(oven) = oven
        .as_mut()
        .filter(|_| !in_water && !setup.standing.has_begun())
    {
        // When its thaw begins decides only how much earlier it may go in.
        let most = Duration::from_steps(oven.earliest - oven.latest, DurationUnit::Minute)
            .plus(Duration::from_steps(QUARTER, DurationUnit::Minute));
        let spare = setup
            .not_before()
            .map_or(most, |now| must_start_by.since(now).min(most));
        must_start_by = setup.order.serve_at.before(spare);
        (oven.prepare, oven.thaw) = (0, 0);
    }
    (in_water, timing.roast_time.low, oven, must_start_by)
}

type Together<'b> = (Vec<Load<'b>>, Vec<PlacedDish>);

/// Fits one combination of each line in; or says why there is no room in the cold, or nothing where the ovens are full.
fn together<'b>(
    order: &Order,
    room: &Room<'_>,
    lines: &[Line<'b>],
    picked: &[usize],
    dishes: &[DishLoad],
    times: &mut Times,
) -> Result<Together<'b>, Option<String>> {
    let mut too_cold = None;
    let (shares, are_all) = shares(order, room.ovens, lines);
    for loads in shares {
        if times.are_spent() {
            break;
        }
        let birds: Vec<BirdLoad<'_, 'b>> = loads
            .iter()
            .map(|&(line, birds)| BirdLoad {
                line,
                place: picked[line],
                setup: &lines[line].0.setup,
                kept: &lines[line].2.kept[picked[line]],
                birds,
            })
            .collect();
        match with_room(order, room, &birds, dishes, times) {
            Ok(found) => return Ok(found),
            Err(Some(reason)) => too_cold = Some(reason),
            Err(None) => {}
        }
    }
    if !are_all {
        times.spend();
    }
    Err(too_cold)
}

/// Fits loads and dishes in so that there is room in the cold as well.
///
/// First each load goes into its oven as late as it may; where only the cold is in the way and an earlier hour could
/// help, every quarter of an hour is tried.
fn with_room<'b>(
    order: &Order,
    room: &Room<'_>,
    birds: &[BirdLoad<'_, 'b>],
    dishes: &[DishLoad],
    times: &mut Times,
) -> Result<Together<'b>, Option<String>> {
    let setups: Vec<&Setup<'b>> = birds.iter().map(|load| load.setup).collect();
    let share = |placed: &[PlacedBird]| {
        let mut loads = loads_of(room, birds, placed).ok_or_else(String::new)?;
        uses::share_cold(order, &setups, &mut loads).map(|()| loads)
    };
    let placed = fit(room, birds, dishes, times, Hours::AsLate, None).ok_or(None)?;
    let why = match share(&placed.birds) {
        Ok(loads) => return Ok((loads, placed.dishes)),
        Err(why) => why,
    };
    let hours: &[Hours] = match reach::other_hours(order, room, birds, times) {
        OtherHours::Never => &[],
        OtherHours::AsLate => &[Hours::AsLate],
        OtherHours::Earlier => &[Hours::AsLate, Hours::EveryQuarter],
    };
    for &hours in hours {
        let mut ask = |placed: &[PlacedBird]| share(placed).is_ok();
        let placed = fit(room, birds, dishes, times, hours, Some(&mut ask));
        if let Some(placed) = placed
            && let Ok(loads) = share(&placed.birds)
        {
            return Ok((loads, placed.dishes));
        }
    }
    Err(Some(why))
}

/// The loads at the hours that they were given.
fn loads_of<'b>(
    room: &Room<'_>,
    birds: &[BirdLoad<'_, 'b>],
    placed: &[PlacedBird],
) -> Option<Vec<Load<'b>>> {
    birds
        .iter()
        .zip(placed)
        .map(|(load, place)| {
            let sort = sort_of(&room.ovens[place.oven]);
            Some(Load {
                line: load.line,
                oven: place.oven,
                birds: load.birds,
                timing: load.timed(sort, place.by, room.serve_at)?,
                cold: Vec::new(),
            })
        })
        .collect()
}

/// Most loads that the birds of one line are parted into: more do not go through the ovens of a kitchen within the
/// time that the first may be held hot.
const MOST_LOADS: usize = 6;

/// Most ways to part the birds of all lines that are tried.
const MOST_SHARES: usize = 1000;

/// The loads of one way to part the birds: the line of each, and how many birds.
type Share = Vec<(usize, u32)>;

/// Every way worth trying to part the birds of each line into loads that some oven holds, the fewest loads first; and
/// whether these are all, or the first thousand.
fn shares(order: &Order, ovens: &[KitchenOven], lines: &[Line<'_>]) -> (Vec<Share>, bool) {
    let mut all: Vec<Share> = vec![Vec::new()];
    let mut are_all = true;
    for (line, (outset, ..)) in lines.iter().enumerate() {
        let birds = order
            .class
            .as_ref()
            .map_or(outset.count, |class| class.birds_per_station.unwrap_or(1));
        let mut held: Vec<u32> = (ovens.iter())
            .map(|oven| oven.birds_at_once.unwrap_or(birds).min(birds))
            .filter(|&most| most > 0)
            .collect();
        held.sort_unstable_by(|a, b| b.cmp(a));
        held.dedup();
        let mut parts = Vec::new();
        part(birds, &held, &mut Vec::new(), &mut parts);
        parts.sort_by_key(Vec::len);
        all = all
            .iter()
            .flat_map(|before| {
                parts.iter().map(move |sizes| {
                    let mut loads = before.clone();
                    loads.extend(sizes.iter().map(|&birds| (line, birds)));
                    loads
                })
            })
            .collect();
        all.sort_by_key(Vec::len);
        are_all &= all.len() <= MOST_SHARES;
        all.truncate(MOST_SHARES);
    }
    (all, are_all)
}

/// Parts birds that are alike into loads of as many as an oven holds, largest first, and what is left. A load takes as
/// long with fewer birds, so to fill one and empty another never makes anything harder.
fn part(left: u32, held: &[u32], so_far: &mut Vec<u32>, all: &mut Vec<Vec<u32>>) {
    if left == 0 {
        all.push(so_far.clone());
        return;
    }
    if so_far.len() == MOST_LOADS {
        return;
    }
    for (at, most) in held.iter().enumerate() {
        let birds = left.min(*most);
        so_far.push(birds);
        part(left - birds, &held[at..], so_far, all);
        so_far.pop();
    }
}

fn dishes(order: &Order, lines: &[Line<'_>]) -> Vec<DishLoad> {
    let hold = lines.first().and_then(|(outset, ..)| {
        let setup = &outset.setup;
        longest_hold(setup.book, &setup.case(None)).map(|(time, _)| time)
    });
    order
        .dishes
        .iter()
        .map(|dish| DishLoad {
            time: dish.time,
            coolest: dish.coolest,
            hottest: dish.hottest,
            hold: if dish.can_be_held {
                hold.unwrap_or(Duration::ZERO)
            } else {
                Duration::ZERO
            },
        })
        .collect()
}

/// What would make room: each dish left out, another oven, a later hour.
pub(super) fn changes(
    order: &Order,
    lines: &[Line<'_>],
    each_has_a_way: bool,
    times: &mut Times,
) -> Vec<Change> {
    let mut changes = Vec::new();
    if !each_has_a_way {
        return changes;
    }
    let same_hour = |change: String| Change {
        change,
        serve_at: order.serve_at.clone(),
        later_by: Duration::from_steps(0, DurationUnit::Minute),
    };
    // Where no dish at all would not help, leaving out one does not.
    let mut bare = order.clone();
    bare.dishes.clear();
    if !order.dishes.is_empty() && choose(&bare, lines, times).is_ok() {
        for at in 0..order.dishes.len() {
            let mut without = order.clone();
            let dish = without.dishes.remove(at);
            if choose(&without, lines, times).is_ok() {
                changes.push(same_hour(fill("change-dish", &[("dish", &dish.name)])));
            }
        }
    }
    let mut more = order.clone();
    more.kitchen.ovens = order.kitchen.every_oven();
    let another = more.kitchen.ovens[0].clone();
    more.kitchen.ovens.push(another);
    if more.kitchen.ovens.len() <= 4 && choose(&more, lines, times).is_ok() {
        changes.push(same_hour(say("change-oven").to_owned()));
    }
    changes
}
