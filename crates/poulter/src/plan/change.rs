//! What would make an impossible dinner possible.

use crate::bird::{Cut, State};
use crate::messages::{fill, say};
use crate::roast;
use crate::rules::{Requirement, Rule, Topic};
use crate::thaw::ThawMethod;
use crate::units::{Duration, DurationUnit, Mass};

use super::chain::{Fallen, Timing};
use super::combination::{Combination, combinations};
use super::outset::Weighed;
use super::planner::{clock, units};
use super::setup::Setup;
use super::standing::Standing;
use super::types::Change;

/// Bone-in meat for a person when a breast stands in for the whole bird: three quarters of a pound. Common practice,
/// no source.
const BREAST_PER_PERSON_POUNDS: f64 = 0.75;

/// A whole bird needs a day or more to freeze through in a household freezer. Common practice, no source.
const FREEZING: Duration = Duration::from_steps(24 * 3_600_000, DurationUnit::Hour);

/// A few quarters of an hour to be sure: the new serving time is rounded up to the next quarter.
const QUARTER: i64 = 15 * 60_000;

/// The smallest changes that would do, those that keep the hour first.
pub(super) fn smallest(setup: &Setup<'_>, fallen: &[(Combination, Fallen)]) -> Vec<Change> {
    let mut changes = Vec::new();
    changes.extend(other_methods(setup));
    changes.extend(without_model(setup));
    changes.extend(early(setup));
    changes.extend(unstuffed(setup));
    changes.extend(frozen(setup));
    changes.extend(unfrozen(setup));
    changes.extend(two_smaller(setup));
    changes.extend(breasts(setup));
    changes.extend(later(setup, fallen));
    changes.sort_by_key(|change| change.later_by);
    changes.truncate(4);
    changes
}

/// A bird in place of one that must not be eaten.
pub(super) fn another_bird(setup: &Setup<'_>) -> Vec<Change> {
    let anew = Setup {
        standing: Standing::default(),
        ..setup.clone()
    };
    let mut changes: Vec<Change> = unfrozen(&anew).into_iter().collect();
    changes.extend(breasts(&anew));
    changes
}

fn same_hour(setup: &Setup<'_>, change: String) -> Change {
    Change {
        change,
        serve_at: setup.order.serve_at.clone(),
        later_by: Duration::ZERO,
    }
}

/// A setup under which something is kept, in words.
fn kept_words(setup: &Setup<'_>, tried: &[Combination]) -> Option<String> {
    Weighed::of(setup, tried)
        .kept
        .first()
        .map(|timing| timing.combination.words())
}

fn start_states(setup: &Setup<'_>) -> Vec<State> {
    vec![setup.bird.state.unwrap_or(State::Frozen)]
}

fn other_methods(setup: &Setup<'_>) -> Option<Change> {
    let methods = setup.order.methods;
    if methods.thaw.is_none() && methods.brine.is_none() && methods.roast.is_none() {
        return None;
    }
    let mut order = setup.order.clone();
    order.methods = super::Methods::default();
    let words = kept_words(setup, &combinations(&order, &start_states(setup)))?;
    Some(same_hour(
        setup,
        fill("change-methods", &[("words", &words)]),
    ))
}

fn without_model(setup: &Setup<'_>) -> Option<Change> {
    if !setup.order.use_model {
        return None;
    }
    let mut order = setup.order.clone();
    order.use_model = false;
    let printed = Setup {
        order: &order,
        ..setup.clone()
    };
    let words = kept_words(&printed, &combinations(&order, &start_states(setup)))?;
    Some(same_hour(
        setup,
        fill("change-printed", &[("words", &words)]),
    ))
}

/// A roast whose range is too wide to hold an early bird hot may be early where it is carved, chilled and heated again:
/// from frozen, or in the oven already.
fn early(setup: &Setup<'_>) -> Option<Change> {
    let state = setup.bird.state.unwrap_or(State::Frozen);
    let in_oven = setup.standing.roast.is_some();
    let tried = if in_oven {
        combinations(setup.order, &[state])
    } else if matches!(state, State::Frozen | State::PartFrozen) {
        vec![Combination::simplest(state, Some(ThawMethod::FromFrozen))]
    } else {
        return None;
    };
    let (timing, reheat, limit) = reheated(setup, &tried)?;
    let how = if in_oven {
        say("change-keep-roasting").to_owned()
    } else {
        fill(
            "change-from-frozen",
            &[("time", &timing.oven_in.latest.shown(clock(setup.order)))],
        )
    };
    Some(same_hour(
        setup,
        fill(
            "change-carve-early",
            &[
                ("how", &how),
                ("hold", &timing.criteria.longest_hold.shown()),
                ("limit", &limit),
                ("rule", &reheat.id),
            ],
        ),
    ))
}

/// What is kept where a bird done too early is carved, chilled and heated again, with the rule for that.
fn reheated<'b>(
    setup: &Setup<'b>,
    tried: &[Combination],
) -> Option<(Timing<'b>, &'b Rule, String)> {
    let reheated = Setup {
        early_is_reheated: true,
        ..setup.clone()
    };
    let timing = Weighed::of(&reheated, tried).kept.into_iter().next()?;
    let reheat = setup.book.find(Topic::Reheat, &setup.case(None))?;
    match &reheat.requirement {
        Requirement::MinimumTemperature { limit, .. } => Some((timing, reheat, limit.shown())),
        _ => None,
    }
}

fn unstuffed(setup: &Setup<'_>) -> Option<Change> {
    if !setup.stuffed {
        return None;
    }
    let without = Setup {
        stuffed: false,
        ..setup.clone()
    };
    let words = kept_words(&without, &combinations(setup.order, &start_states(setup)))?;
    Some(same_hour(
        setup,
        fill("change-stuffing", &[("words", &words)]),
    ))
}

const fn yet_to_buy(setup: &Setup<'_>) -> bool {
    setup.to_buy && setup.standing.bought.is_none()
}

/// A raw bird in hand that would wait too long may be frozen and thawed; one that is thawing in the refrigerator where
/// the standard lets it be frozen again.
fn frozen(setup: &Setup<'_>) -> Option<Change> {
    if yet_to_buy(setup) || setup.standing.is_raw_and_begun() {
        return None;
    }
    let again = match setup.bird.state {
        Some(State::Fresh) => None,
        Some(State::PartFrozen) => Some(setup.book.find(Topic::ThawRefreeze, &setup.case(None))?),
        _ if setup.standing.thaws_by(Some(ThawMethod::Refrigerator)) => {
            Some(setup.book.find(Topic::ThawRefreeze, &setup.case(None))?)
        }
        _ => return None,
    };
    if again.is_some_and(|rule| matches!(rule.requirement, Requirement::Never { .. })) {
        return None;
    }
    let mut order = setup.order.clone();
    order.now = setup.not_before().map(|now| now.after(FREEZING));
    order.planned_at = None;
    order.progress.clear();
    order.kit = None;
    let frozen = Setup {
        order: &order,
        to_buy: false,
        standing: Standing::default(),
        ..setup.clone()
    };
    let mut tried = combinations(&order, &[State::Frozen]);
    tried.retain(|combination| match combination.thaw {
        Some(ThawMethod::Refrigerator) => true,
        Some(ThawMethod::ColdWater) => again.is_some(),
        _ => false,
    });
    let words = kept_words(&frozen, &tried)?;
    let text = match again {
        None => fill("change-freeze", &[("words", &words)]),
        Some(rule) => fill(
            "change-freeze-again",
            &[("words", &words), ("rule", &rule.id)],
        ),
    };
    Some(same_hour(setup, text))
}

fn unfrozen(setup: &Setup<'_>) -> Option<Change> {
    if setup.bird.state == Some(State::Fresh) && yet_to_buy(setup) {
        return None;
    }
    let mut order = setup.order.clone();
    order.kit = None;
    let fresh = Setup {
        order: &order,
        to_buy: true,
        standing: Standing::default(),
        ..setup.clone()
    };
    let words = kept_words(&fresh, &[Combination::simplest(State::Fresh, None)])?;
    let mass = units(setup.order).mass(setup.mass);
    let bird = if setup.bird.state == Some(State::Fresh) {
        fill("another-fresh-bird", &[("mass", &mass)])
    } else {
        fill("another-thawed-bird", &[("mass", &mass)])
    };
    Some(same_hour(
        setup,
        fill("change-buy", &[("bird", &bird), ("words", &words)]),
    ))
}

fn two_smaller(setup: &Setup<'_>) -> Option<Change> {
    let half = Mass::from_steps(setup.mass.steps() / 2, setup.mass.unit());
    // A way out of a plan that fell out stands on a printed time.
    let table = setup
        .book
        .find(roast::table_of(setup.stuffed), &setup.case(None))?;
    table.requirement.time_for(half)?;
    let halves = Setup {
        mass: half,
        to_buy: true,
        standing: Standing::default(),
        ..setup.clone()
    };
    let tried: Vec<_> = combinations(setup.order, &[State::Fresh]);
    let words = kept_words(&halves, &tried)?;
    let mass = units(setup.order).mass(half);
    Some(same_hour(
        setup,
        fill("change-two-birds", &[("mass", &mass), ("words", &words)]),
    ))
}

fn breasts(setup: &Setup<'_>) -> Option<Change> {
    if setup.cut != Cut::Whole {
        return None;
    }
    let guests = &setup.order.guests;
    // A child counts half, as in buying.
    let people = f64::from(guests.adults) + f64::from(guests.children) / 2.0;
    let needed = Mass::from_pounds(BREAST_PER_PERSON_POUNDS * people).ok()?;
    let table = setup.book.find(
        Topic::RoastTimeUnstuffed,
        &Setup {
            cut: Cut::Breast,
            ..setup.clone()
        }
        .case(None),
    )?;
    let Requirement::TimeByMass { rows, .. } = &table.requirement else {
        return None;
    };
    let (smallest, largest) = (rows.first()?.from, rows.last()?.to);
    let count = needed.steps().div_euclid(largest.steps())
        + i64::from(needed.steps() % largest.steps() != 0);
    let each = Mass::from_steps(needed.steps() / count.max(1), needed.unit()).max(smallest);
    let breast = Setup {
        cut: Cut::Breast,
        stuffed: false,
        mass: each,
        to_buy: true,
        standing: Standing::default(),
        ..setup.clone()
    };
    let words = kept_words(&breast, &[Combination::simplest(State::Fresh, None)])?;
    let mass = units(setup.order).mass(each);
    let breasts = if count == 1 {
        fill("one-breast", &[("mass", &mass)])
    } else {
        fill("many-breasts", &[("count", &count), ("mass", &mass)])
    };
    Some(same_hour(
        setup,
        fill(
            "change-breasts",
            &[("breasts", &breasts), ("words", &words)],
        ),
    ))
}

/// The earliest later hour, for each way of thawing that only the clock stands against.
fn later(setup: &Setup<'_>, fallen: &[(Combination, Fallen)]) -> Vec<Change> {
    let mut best: Vec<(Combination, Duration)> = Vec::new();
    for (combination, reason) in fallen {
        let Some(late_by) = reason.late_by else {
            continue;
        };
        match best
            .iter_mut()
            .find(|(known, _)| known.thaw == combination.thaw)
        {
            Some(known) if late_by < known.1 => *known = (*combination, late_by),
            Some(_) => {}
            None => best.push((*combination, late_by)),
        }
    }
    best.sort_by_key(|&(_, late_by)| late_by);
    best.truncate(2);
    best.into_iter()
        .filter_map(|(combination, late_by)| {
            // The oven start is rounded down to a quarter, so it may take one more.
            let least = (late_by.steps() + QUARTER - 1) / QUARTER * QUARTER;
            [least, least + QUARTER].into_iter().find_map(|steps| {
                served_later(
                    setup,
                    combination,
                    Duration::from_steps(steps, DurationUnit::Hour),
                )
            })
        })
        .collect()
}

fn served_later(setup: &Setup<'_>, combination: Combination, late_by: Duration) -> Option<Change> {
    let mut order = setup.order.clone();
    order.serve_at = order.serve_at.after(late_by);
    let moved = Setup {
        order: &order,
        ..setup.clone()
    };
    let (time, at) = (late_by.shown(), order.serve_at.shown(clock(&order)));
    let change = match kept_words(&moved, &[combination]) {
        Some(words) => fill(
            "change-later",
            &[("time", &time), ("at", &at), ("words", &words)],
        ),
        None if setup.standing.roast.is_some() => {
            let (hold, reheat, limit) = reheated(&moved, &[combination])?;
            fill(
                "change-later-in-oven",
                &[
                    ("time", &time),
                    ("at", &at),
                    ("hold", &hold.criteria.longest_hold.shown()),
                    ("limit", &limit),
                    ("rule", &reheat.id),
                ],
            )
        }
        None => return None,
    };
    Some(Change {
        change,
        serve_at: order.serve_at.clone(),
        later_by: late_by,
    })
}
