//! Who has which oven and sink when: an exact search over every order and every way to share them out.
//!
//! Work is laid from the serving hour backwards. In a given order each load goes in as late as the oven, its own window
//! and, for a bird thawed in water, the sink allow; going in earlier helps nothing else but the cold, and for that every
//! quarter of an hour is tried. So it is enough to try every order and every oven, and a kitchen that fails them all has
//! no schedule.
//!
//! What is certain to fail is not tried: a state that failed before; a state that has left too little time for a load or
//! dish in any oven ([`Search::is_hopeless`]); and of loads, dishes, ovens and sinks that are alike all but the first.
//! An order with more ways than [`Times`] counts is given up, and the plan says so: it then has no schedule that was found.

use std::collections::{HashMap, HashSet};

use crate::roast::Oven;
use crate::units::{Duration, Temperature};

use super::in_oven::{BirdLoad, InOven, Times, before};
use super::kitchen::KitchenOven;
use super::moment::Moment;

/// Time for an oven to come to another temperature. Common practice, no source.
const CHANGE_OVER: i64 = 10 * 60_000;

/// A dish that cannot wait comes out no longer than this before serving. Common practice, no source.
const FRESH: i64 = 15 * 60_000;

/// Birds are planned to go in on a quarter of an hour.
pub(super) const QUARTER: i64 = 15 * 60_000;

/// A dish to be fitted in.
#[derive(Clone, PartialEq, Eq)]
pub(super) struct DishLoad {
    pub(super) time: Duration,
    pub(super) coolest: Temperature,
    pub(super) hottest: Temperature,
    /// How long it may wait hot.
    pub(super) hold: Duration,
}

/// Where and when a dish goes in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PlacedDish {
    pub(super) oven: usize,
    pub(super) start: Moment,
    /// The temperatures that suit every dish beside it.
    pub(super) coolest: Temperature,
    pub(super) hottest: Temperature,
}

/// Where a load goes in, and by when in milliseconds before serving, where something else sets that.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct PlacedBird {
    pub(super) oven: usize,
    pub(super) by: Option<i64>,
}

/// A schedule that works.
pub(super) struct Placed {
    pub(super) birds: Vec<PlacedBird>,
    pub(super) dishes: Vec<PlacedDish>,
}

/// Asks whether the cold has room for a schedule of all birds; nothing where that is not the question.
type AskCold<'c, 'd> = Option<&'c mut (dyn FnMut(&[PlacedBird]) -> bool + 'd)>;

/// When birds go into the oven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hours {
    /// As late as they may.
    AsLate,
    /// At every quarter of an hour at which they may, the latest first.
    EveryQuarter,
}

/// What an oven or sink is next wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Next {
    /// Milliseconds before the serving hour.
    from: i64,
    /// Coolest and hottest setting, in exact steps; the same for a bird.
    range: (i64, i64),
}

#[derive(Clone, PartialEq, Eq, Hash)]
struct State {
    todo: u32,
    ovens: Vec<Option<Next>>,
    sinks: Vec<Option<i64>>,
    /// When the birds placed so far go in, where the cold wants to know.
    birds: Vec<i64>,
}

impl State {
    /// The ovens, those that are free the longest first, so that nothing waits hot beside an empty oven.
    fn latest_first(&self) -> Vec<usize> {
        let mut ovens: Vec<usize> = (0..self.ovens.len()).collect();
        ovens.sort_by_key(|&oven| self.free_until(oven));
        ovens
    }

    fn free_until(&self, oven: usize) -> i64 {
        self.ovens[oven].map_or(0, |next| next.from)
    }
}

/// What the kitchen has.
pub(super) struct Room<'k> {
    pub(super) ovens: &'k [KitchenOven],
    pub(super) sinks: u32,
    pub(super) serve_at: &'k Moment,
}

/// The oven as a bird meets it.
pub(super) const fn sort_of(oven: &KitchenOven) -> Oven {
    Oven {
        offset: oven.offset,
        fan: oven.fan,
    }
}

fn alike(one: &KitchenOven, other: &KitchenOven) -> bool {
    sort_of(one) == sort_of(other)
        && one.birds_at_once == other.birds_at_once
        && one.dishes_at_once == other.dishes_at_once
}

struct Search<'k, 'd, 's, 'b> {
    room: &'k Room<'k>,
    birds: &'k [BirdLoad<'s, 'b>],
    dishes: &'k [DishLoad],
    times: &'k mut Times,
    ask_cold: AskCold<'k, 'd>,
    /// What the cold said, by when each load goes in.
    told: HashMap<Vec<i64>, bool>,
    hours: Hours,
    failed: HashSet<State>,
    /// Each load alone in each oven that takes it.
    alone: Vec<Vec<Option<InOven>>>,
    placed_birds: Vec<Option<PlacedBird>>,
    placed_dishes: Vec<Option<PlacedDish>>,
}

/// Fits every load in, or finds that there is no way.
pub(super) fn fit<'k>(
    room: &'k Room<'k>,
    birds: &'k [BirdLoad<'_, '_>],
    dishes: &'k [DishLoad],
    times: &'k mut Times,
    hours: Hours,
    ask_cold: AskCold<'k, '_>,
) -> Option<Placed> {
    let alone = birds
        .iter()
        .map(|load| {
            let tied = &load.setup.standing.ovens;
            let takes = |(at, own): (usize, &KitchenOven)| {
                (own.birds_at_once.is_none_or(|most| most >= load.birds)
                    && (tied.is_empty() || tied.contains(&at)))
                .then(|| times.of(load, sort_of(own), None))
                .flatten()
            };
            room.ovens.iter().enumerate().map(takes).collect()
        })
        .collect();
    let limited = ask_cold.is_some();
    let mut search = Search {
        room,
        birds,
        dishes,
        times,
        ask_cold,
        told: HashMap::new(),
        hours,
        failed: HashSet::new(),
        alone,
        placed_birds: birds.iter().map(|_| None).collect(),
        placed_dishes: dishes.iter().map(|_| None).collect(),
    };
    let all = birds.len() + dishes.len();
    let start = State {
        todo: (1_u32 << all) - 1,
        ovens: vec![None; room.ovens.len()],
        sinks: vec![None; room.sinks as usize],
        birds: if limited {
            vec![i64::MIN; birds.len()]
        } else {
            Vec::new()
        },
    };
    search.from(start).then(|| Placed {
        birds: search.placed_birds.into_iter().flatten().collect(),
        dishes: search.placed_dishes.into_iter().flatten().collect(),
    })
}

impl Search<'_, '_, '_, '_> {
    fn from(&mut self, state: State) -> bool {
        if state.todo == 0 {
            return true;
        }
        if self.failed.contains(&state) || !self.times.may_try() {
            return false;
        }
        if !self.is_hopeless(&state) {
            for load in 0..self.birds.len() {
                if state.todo & (1 << load) != 0
                    && !self.has_twin_before(&state, load)
                    && self.bird(&state, load)
                {
                    return true;
                }
            }
            for set in self.sets(&state) {
                if self.batch(&state, set) {
                    return true;
                }
            }
        }
        self.failed.insert(state);
        false
    }

    /// Whether some load or dish has no time left in any oven. Ovens only fill up, so none gets any later on.
    ///
    /// Two birds share an oven only where one can follow the other. Birds of which no two can do so in any oven need an
    /// oven each.
    fn is_hopeless(&self, state: &State) -> bool {
        let todo = |at: usize| state.todo & (1 << at) != 0;
        let mut apart: Vec<usize> = Vec::new();
        for load in (0..self.birds.len()).filter(|&load| todo(load)) {
            let fits = |oven: usize| self.starts(state, load, oven).is_some();
            if !(0..state.ovens.len()).any(fits) {
                return true;
            }
            if apart
                .iter()
                .all(|&other| !self.can_share(state, load, other))
            {
                apart.push(load);
            }
        }
        if apart.len() > state.ovens.len() {
            return true;
        }
        (0..self.dishes.len())
            .filter(|dish| todo(self.birds.len() + dish))
            .any(|dish| {
                let wait = self.dishes[dish].hold.steps().max(FRESH);
                !(0..state.ovens.len()).any(|oven| {
                    self.room.ovens[oven].dishes_at_once != Some(0)
                        && state.free_until(oven) <= wait
                })
            })
    }

    /// The last moment at which a load could go into an oven now, were no change of temperature needed.
    fn starts(&self, state: &State, load: usize, oven: usize) -> Option<i64> {
        let alone = self.alone[load][oven]?;
        let from = state.ovens[oven].map_or(alone.latest, |next| {
            alone.latest.max(next.from + alone.high)
        });
        (from <= alone.earliest).then_some(from)
    }

    /// Whether one of two loads could follow the other in some oven.
    fn can_share(&self, state: &State, one: usize, other: usize) -> bool {
        let after = |oven: usize, first: usize, then: usize| {
            let (Some(from), Some(alone)) =
                (self.starts(state, then, oven), self.alone[first][oven])
            else {
                return false;
            };
            self.starts(state, first, oven).is_some() && from + alone.high <= alone.earliest
        };
        (0..state.ovens.len()).any(|oven| after(oven, one, other) || after(oven, other, one))
    }

    /// Whether a load just like this one is still to be placed before it.
    fn has_twin_before(&self, state: &State, load: usize) -> bool {
        let own = &self.birds[load];
        (0..load).any(|other| {
            let twin = &self.birds[other];
            state.todo & (1 << other) != 0
                && (twin.line, twin.place, twin.birds) == (own.line, own.place, own.birds)
        })
    }

    /// Every set of dishes that goes in together, the largest first; of dishes that are alike the first ones.
    fn sets(&self, state: &State) -> Vec<u32> {
        let dishes = state.todo >> self.birds.len();
        let first_of_its_kind = |set: u32| {
            (0..self.dishes.len()).all(|dish| {
                set & (1 << dish) == 0
                    || (0..dish).all(|twin| {
                        set & (1 << twin) != 0
                            || dishes & (1 << twin) == 0
                            || self.dishes[twin] != self.dishes[dish]
                    })
            })
        };
        let mut sets: Vec<u32> = (1..1_u32 << self.dishes.len())
            .filter(|&set| set & !dishes == 0 && first_of_its_kind(set))
            .collect();
        sets.sort_by_key(|set| std::cmp::Reverse(set.count_ones()));
        sets
    }

    /// The ovens that are worth trying: of those that are alike and in the same state the first.
    fn ovens(&self, state: &State) -> Vec<usize> {
        let all = state.latest_first();
        if self
            .birds
            .iter()
            .any(|load| !load.setup.standing.ovens.is_empty())
        {
            return all;
        }
        let own = &self.room.ovens;
        let mut tried: Vec<usize> = Vec::new();
        for oven in all {
            if !tried.iter().any(|&other| {
                state.ovens[other] == state.ovens[oven] && alike(&own[other], &own[oven])
            }) {
                tried.push(oven);
            }
        }
        tried
    }

    fn bird(&mut self, state: &State, load: usize) -> bool {
        let sinks: Vec<Option<usize>> = if self.birds[load].wants_sink() {
            let first = |&sink: &usize| !state.sinks[..sink].contains(&state.sinks[sink]);
            (0..state.sinks.len()).filter(first).map(Some).collect()
        } else {
            vec![None]
        };
        for oven in self.ovens(state) {
            for &sink in &sinks {
                let mut least = None;
                while let Some((by, placed)) = self.place(state, load, oven, sink, least) {
                    if self.put(state, load, (oven, sink), (by, placed)) {
                        return true;
                    }
                    // The last one may be planned up to a quarter of an hour before the earliest moment.
                    let next = (placed.planned + QUARTER).min(placed.earliest);
                    if self.hours == Hours::AsLate || next <= placed.planned {
                        break;
                    }
                    least = Some(next);
                }
            }
        }
        false
    }

    /// Goes on with a load in its place.
    fn put(
        &mut self,
        state: &State,
        load: usize,
        (oven, sink): (usize, Option<usize>),
        (by, placed): (Option<i64>, InOven),
    ) -> bool {
        let mut after = state.clone();
        after.todo &= !(1 << load);
        after.ovens[oven] = Some(Next {
            from: placed.planned,
            range: (placed.air, placed.air),
        });
        if let Some(sink) = sink {
            after.sinks[sink] = Some(placed.thaw);
        }
        if let Some(known) = after.birds.get_mut(load) {
            *known = placed.planned;
        }
        self.placed_birds[load] = Some(PlacedBird { oven, by });
        let all_in = after.todo & ((1 << self.birds.len()) - 1) == 0;
        (!all_in || self.has_room_in_the_cold(&after)) && self.from(after)
    }

    fn has_room_in_the_cold(&mut self, state: &State) -> bool {
        let Some(ask) = self.ask_cold.as_mut() else {
            return true;
        };
        if let Some(told) = self.told.get(&state.birds) {
            return *told;
        }
        let placed: Vec<PlacedBird> = self.placed_birds.iter().flatten().copied().collect();
        let told = ask(&placed);
        self.told.insert(state.birds.clone(), told);
        told
    }

    /// The bird as late as it may go into this oven, out of this sink, and no later than `least`.
    fn place(
        &mut self,
        state: &State,
        load: usize,
        oven: usize,
        sink: Option<usize>,
        least: Option<i64>,
    ) -> Option<(Option<i64>, InOven)> {
        let alone = self.alone[load][oven]?;
        let bird = &self.birds[load];
        let sink_free = sink.and_then(|sink| state.sinks[sink]);
        let mut by = least;
        if let Some(next) = state.ovens[oven] {
            let change = if next.range.0 <= alone.air && alone.air <= next.range.1 {
                0
            } else {
                CHANGE_OVER
            };
            by = by.max(Some(next.from + change + alone.high));
        }
        if let Some(free) = sink_free {
            let ready = bird.setup.prepare(bird.kept.combination).steps();
            by = by.max(Some(free - ready));
        }
        let by = by.filter(|&by| by > alone.latest);
        let mut placed = alone;
        if let Some(by) = by {
            if by > alone.earliest {
                return None;
            }
            let sort = sort_of(&self.room.ovens[oven]);
            placed = self.times.of(bird, sort, Some(by))?;
        }
        if sink_free.is_some_and(|free| placed.prepare < free) {
            return None;
        }
        Some((by, placed))
    }

    fn batch(&mut self, state: &State, set: u32) -> bool {
        let all = self.dishes;
        let chosen: Vec<usize> = (0..all.len())
            .filter(|dish| set & (1 << dish) != 0)
            .collect();
        let dishes: Vec<&DishLoad> = chosen.iter().map(|&dish| &all[dish]).collect();
        let (Some(&coolest), Some(&hottest)) = (
            dishes
                .iter()
                .map(|dish| &dish.coolest)
                .max_by_key(|temperature| temperature.exact()),
            dishes
                .iter()
                .map(|dish| &dish.hottest)
                .min_by_key(|temperature| temperature.exact()),
        ) else {
            return false;
        };
        if coolest.exact() > hottest.exact() {
            return false;
        }
        for oven in self.ovens(state) {
            let most = self.room.ovens[oven].dishes_at_once.unwrap_or(1);
            if dishes.len() > most as usize {
                continue;
            }
            let range = (
                coolest.exact().ninths_of_millikelvin(),
                hottest.exact().ninths_of_millikelvin(),
            );
            let end = state.ovens[oven].map_or(0, |next| {
                let shared = range.0 <= next.range.1 && next.range.0 <= range.1;
                next.from + if shared { 0 } else { CHANGE_OVER }
            });
            // Dishes that go in together come out together.
            if dishes.iter().any(|dish| end > dish.hold.steps().max(FRESH)) {
                continue;
            }
            let longest = dishes
                .iter()
                .map(|dish| dish.time.steps())
                .max()
                .unwrap_or(0);
            let mut after = state.clone();
            after.todo &= !(set << self.birds.len());
            after.ovens[oven] = Some(Next {
                from: end + longest,
                range,
            });
            for (&dish, load) in chosen.iter().zip(&dishes) {
                self.placed_dishes[dish] = Some(PlacedDish {
                    oven,
                    start: before(self.room.serve_at, end + load.time.steps()),
                    coolest,
                    hottest,
                });
            }
            if self.from(after) {
                return true;
            }
        }
        false
    }
}
