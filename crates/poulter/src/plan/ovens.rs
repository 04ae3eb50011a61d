//! Who has which oven and sink when: an exact search over every order and every way to share them out.
//!
//! Work is laid from the serving hour backwards. In a given order each load goes in as late as the oven, its own window
//! and, for a bird thawed in water, the sink allow; going in earlier helps nothing else. So it is enough to try every
//! order and every oven, and a kitchen that fails them all has no schedule. A state that failed once is not tried again.

use std::collections::HashSet;

use crate::thaw::ThawMethod;
use crate::units::{Duration, DurationUnit, Temperature};

use super::chain::{Timing, time};
use super::combination::Combination;
use super::moment::Moment;
use super::setup::Setup;

/// Time for an oven to come to another temperature. Common practice, no source.
const CHANGE_OVER: i64 = 10 * 60_000;

/// A dish that cannot wait comes out no longer than this before serving. Common practice, no source.
const FRESH: i64 = 15 * 60_000;

/// One load of birds with the combination that is tried.
#[derive(Clone)]
pub(super) struct BirdLoad<'s, 'b> {
    pub(super) setup: &'s Setup<'b>,
    pub(super) combination: Combination,
    pub(super) birds: u32,
}

/// A dish to be fitted in.
#[derive(Clone)]
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

/// A schedule that works.
pub(super) struct Placed<'b> {
    pub(super) birds: Vec<(usize, Timing<'b>)>,
    pub(super) dishes: Vec<PlacedDish>,
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
}

impl State {
    /// The ovens, those that are free the longest first, so that nothing waits hot beside an empty oven.
    fn latest_first(&self) -> Vec<usize> {
        let mut ovens: Vec<usize> = (0..self.ovens.len()).collect();
        ovens.sort_by_key(|&oven| self.ovens[oven].map_or(0, |next| next.from));
        ovens
    }
}

/// What the kitchen has.
pub(super) struct Room<'k> {
    pub(super) ovens: &'k [super::kitchen::KitchenOven],
    pub(super) sinks: u32,
    pub(super) serve_at: &'k Moment,
}

struct Search<'k, 's, 'b> {
    room: &'k Room<'k>,
    birds: &'k [BirdLoad<'s, 'b>],
    dishes: &'k [DishLoad],
    failed: HashSet<State>,
    placed_birds: Vec<Option<(usize, Timing<'b>)>>,
    placed_dishes: Vec<Option<PlacedDish>>,
}

/// Fits every load in, or finds that there is no way.
pub(super) fn fit<'b>(
    room: &Room<'_>,
    birds: &[BirdLoad<'_, 'b>],
    dishes: &[DishLoad],
) -> Option<Placed<'b>> {
    let mut search = Search {
        room,
        birds,
        dishes,
        failed: HashSet::new(),
        placed_birds: birds.iter().map(|_| None).collect(),
        placed_dishes: dishes.iter().map(|_| None).collect(),
    };
    let all = birds.len() + dishes.len();
    let start = State {
        todo: (1_u32 << all) - 1,
        ovens: vec![None; room.ovens.len()],
        sinks: vec![None; room.sinks as usize],
    };
    search.from(start).then(|| Placed {
        birds: search.placed_birds.into_iter().flatten().collect(),
        dishes: search.placed_dishes.into_iter().flatten().collect(),
    })
}

impl<'b> Search<'_, '_, 'b> {
    fn from(&mut self, state: State) -> bool {
        if state.todo == 0 {
            return true;
        }
        if self.failed.contains(&state) {
            return false;
        }
        for load in 0..self.birds.len() {
            if state.todo & (1 << load) != 0 && self.bird(&state, load) {
                return true;
            }
        }
        let dishes = state.todo >> self.birds.len();
        // Every set of dishes that goes in together, the largest first.
        let mut sets: Vec<u32> = (1..1_u32 << self.dishes.len())
            .filter(|set| set & !dishes == 0)
            .collect();
        sets.sort_by_key(|set| std::cmp::Reverse(set.count_ones()));
        for set in sets {
            if self.batch(&state, set) {
                return true;
            }
        }
        self.failed.insert(state);
        false
    }

    fn at(&self, before: i64) -> Moment {
        let off = Duration::from_steps(before.abs(), DurationUnit::Minute);
        if before >= 0 {
            self.room.serve_at.before(off)
        } else {
            self.room.serve_at.after(off)
        }
    }

    fn ahead(&self, moment: &Moment) -> i64 {
        self.room.serve_at.since(moment).steps()
    }

    fn bird(&mut self, state: &State, load: usize) -> bool {
        let BirdLoad {
            setup,
            combination,
            birds,
        } = self.birds[load].clone();
        let in_water = matches!(
            combination.thaw,
            Some(ThawMethod::ColdWater | ThawMethod::RunningWater)
        ) && !setup.standing.is_raw_and_begun();
        let sinks: Vec<Option<usize>> = if in_water {
            (0..state.sinks.len()).map(Some).collect()
        } else {
            vec![None]
        };
        for oven in state.latest_first() {
            let own = &self.room.ovens[oven];
            if own.birds_at_once.is_some_and(|most| most < birds) {
                continue;
            }
            for &sink in &sinks {
                let Some((timing, next, sink_from)) = self.place(state, load, oven, sink) else {
                    continue;
                };
                let mut after = state.clone();
                after.todo &= !(1 << load);
                after.ovens[oven] = Some(next);
                if let Some(sink) = sink {
                    after.sinks[sink] = Some(sink_from);
                }
                self.placed_birds[load] = Some((oven, timing));
                if self.from(after) {
                    return true;
                }
            }
        }
        false
    }

    /// The bird as late as it may go into this oven, out of this sink.
    fn place(
        &self,
        state: &State,
        load: usize,
        oven: usize,
        sink: Option<usize>,
    ) -> Option<(Timing<'b>, Next, i64)> {
        let BirdLoad {
            setup, combination, ..
        } = &self.birds[load];
        let own = &self.room.ovens[oven];
        let mut setup = (*setup).clone();
        setup.oven = crate::roast::Oven {
            offset: own.offset,
            fan: own.fan,
        };
        let mut timing = time(&setup, *combination).ok()?;
        let mut cap: Option<i64> = None;
        if let Some(next) = state.ovens[oven] {
            let air = timing
                .roast
                .oven
                .last()?
                .air
                .exact()
                .ninths_of_millikelvin();
            let change = if next.range.0 <= air && air <= next.range.1 {
                0
            } else {
                CHANGE_OVER
            };
            cap = Some(next.from + change + timing.roast_time.high.steps());
        }
        if let Some(taken) = sink.and_then(|sink| state.sinks[sink]) {
            cap = cap.max(Some(taken).map(|free| free - setup.prepare(*combination).steps()));
        }
        if let Some(cap) = cap
            && self.ahead(&timing.oven_in.latest) < cap
        {
            if setup.standing.roast.is_some() {
                return None;
            }
            setup.oven_by = Some(self.at(cap));
            timing = time(&setup, *combination).ok()?;
        }
        if let Some(taken) = sink.and_then(|sink| state.sinks[sink])
            && self.ahead(&timing.prepare_start) < taken
        {
            return None;
        }
        let air = timing
            .roast
            .oven
            .last()?
            .air
            .exact()
            .ninths_of_millikelvin();
        let next = Next {
            from: self.ahead(&timing.oven_in.planned),
            range: (air, air),
        };
        let sink_from = self.ahead(&timing.thaw_start.planned);
        Some((timing, next, sink_from))
    }

    fn batch(&mut self, state: &State, set: u32) -> bool {
        let chosen: Vec<usize> = (0..self.dishes.len())
            .filter(|dish| set & (1 << dish) != 0)
            .collect();
        let dishes: Vec<&DishLoad> = chosen.iter().map(|&dish| &self.dishes[dish]).collect();
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
        for oven in state.latest_first() {
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
                    start: self.at(end + load.time.steps()),
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
