//! The planner: weighs every combination, keeps those that hold, and says why the others fall out.

use crate::answer::{Answer, Finding, customary_units};
use crate::error::{Error, ErrorKind};
use crate::messages::{fill, say};
use crate::rules::Rulebook;
use crate::units::{HourClock, UnitSystem};

use super::asked::check;
use super::chain::Timing;
use super::change;
use super::combination::{Combination, combinations};
use super::fill;
use super::in_oven::Times;
use super::joint::{self, Chosen, Line, Refused};
use super::news;
use super::order::Order;
use super::outset::{Outset, Weighed, together};
use super::ranking::{chain, fallen_chain, kept_chain, rank};
use super::types::{Abandoned, Chain, Change, Plan, PlannedBird};

/// More changes than this are no help.
const MOST_CHANGES: usize = 5;

/// Plans a dinner.
///
/// Every combination of thaw, brine and roast that the order leaves open is timed back from the serving hour. Kept are
/// those that serve on time in the slow case and hold safely in the quick case; the best by [`Weights`](super::Weights) becomes the
/// plan, and every other one is listed with its reason. Where none holds, the plan is not feasible and lists the
/// smallest changes that would make it so. That is an answer, not an error.
///
/// Errors: a serving time that is not after `now`, no guests, and a bird for which no row is published.
///
/// ```
/// use poulter::plan::{Order, plan};
/// use poulter::rules::Rulebook;
/// let order: Order = serde_json::from_str(
///     r#"{
///         "serve_at": "2026-12-19T18:30[Europe/Lisbon]",
///         "now": "2026-12-13T09:00[Europe/Lisbon]",
///         "guests": {"adults": 11, "children": 3},
///         "bird": {"species": "turkey", "mass": "6.8 kg", "state": "frozen"}
///     }"#,
/// )?;
/// let answer = plan(Rulebook::builtin(), &order)?;
/// assert!(answer.answer.feasible);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plan(book: &Rulebook, order: &Order) -> Result<Answer<Plan>, Error> {
    check(order)?;
    book.standard(&order.standard)?;
    if order.progress.is_empty() {
        return weigh(book, order, None);
    }
    // What the plan was before anything happened: the same order from its first moment on.
    let mut asked = order.clone();
    asked.progress.clear();
    asked.now = order.first_now().cloned();
    asked.planned_at = None;
    let before = weigh(book, &asked, None)?;
    let mut answer = weigh(book, order, Some(&before.answer))?;
    news::tell(&mut answer.answer, &before.answer, order);
    Ok(answer)
}

/// Weighs every combination; those that a plan before chose are kept to where they still hold.
fn weigh(book: &Rulebook, order: &Order, before: Option<&Plan>) -> Result<Answer<Plan>, Error> {
    let several = order.birds.len() > 1;
    let mut lines = lines_of(book, order, before)?;
    let (findings, abandoned) = judge(&mut lines)?;
    prefer(order, &mut lines, before.map_or(&[], |plan| &plan.chains));
    let sure = abandoned.is_empty() && lines.iter().all(|(.., weighed)| !weighed.kept.is_empty());
    let mut times = Times::default();
    let chosen = if sure {
        joint::choose(order, &lines, &mut times)
    } else {
        Err(Vec::new())
    };
    let chains = chains_of(order, &lines, &chosen, &abandoned);
    let changes = if chosen.is_ok() {
        Vec::new()
    } else {
        changes_of(order, &lines, &abandoned, sure, &mut times)
    };
    let birds: Vec<PlannedBird> = lines
        .iter()
        .enumerate()
        .map(|(at, (outset, state, weighed))| {
            let state = chosen.as_ref().map_or(*state, |chosen| {
                weighed.kept[chosen.picked[at]].combination.state
            });
            planned_bird(outset, state)
        })
        .collect();
    let none = || Error::new(ErrorKind::MissingField, "", "the field `bird` is needed").at("bird");
    let mut plan = Plan {
        feasible: chosen.is_ok(),
        serve_at: order.serve_at.clone(),
        standard: order.standard.clone(),
        title: title(&birds, order),
        bird: birds.first().cloned().ok_or_else(none)?,
        birds: if several { birds.clone() } else { Vec::new() },
        units: units(order),
        clock: clock(order),
        steps: Vec::new(),
        shopping: Vec::new(),
        findings,
        chains,
        changes,
        on_time: None,
        news: Vec::new(),
        abandoned,
    };
    let mut lines = lines.into_iter();
    let (outset, ..) = lines.next().ok_or_else(none)?;
    let mut basis = outset.basis;
    let mut setups = vec![(outset.setup, outset.name)];
    for (other, ..) in lines {
        basis.absorb(other.basis);
        setups.push((other.setup, other.name));
    }
    if let Ok(chosen) = chosen {
        fill::fill(&mut plan, order, &setups, &birds, chosen, &mut basis)?;
    }
    // What judged the birds so far was worked out apart.
    let judging = plan
        .findings
        .iter()
        .filter_map(|finding| finding.rule.as_deref());
    for id in judging.chain(plan.abandoned.iter().map(|bird| bird.rule.as_str())) {
        if let Ok(rule) = basis.book.rule(id) {
            basis.note(rule);
        }
    }
    Ok(basis.finish(plan))
}

/// Every line of birds with what came of its combinations; a bird that no row covers is refused.
fn lines_of<'b>(
    book: &'b Rulebook,
    order: &'b Order,
    before: Option<&Plan>,
) -> Result<Vec<Line<'b>>, Error> {
    let mut lines = Vec::new();
    for (at, bird) in order.lines().enumerate() {
        let name = (order.birds.len() > 1).then(|| bird.called(at));
        let in_line = |error: Error| error.at(&order.line_field(at));
        let mut outset = Outset::of(book, order, bird, name, before).map_err(in_line)?;
        let states = outset.states();
        let weighed = Weighed::of(&outset.setup, &combinations(order, &states));
        if let Some(error) = weighed.no_row_for_the_bird(&outset) {
            return Err(in_line(error));
        }
        lines.push((outset, states[0], weighed));
    }
    let feeds: Vec<_> = lines
        .iter()
        .map(|(outset, ..)| (outset.name.as_deref(), outset.feeds))
        .collect();
    if let Some(finding) = together(&feeds) {
        lines[0].0.findings.insert(0, finding);
    }
    Ok(lines)
}

/// The findings of every line, none twice, and the birds that must not be eaten.
fn judge(lines: &mut [Line<'_>]) -> Result<(Vec<Finding>, Vec<Abandoned>), Error> {
    let (mut findings, mut abandoned) = (Vec::new(), Vec::new());
    for (at, (outset, ..)) in lines.iter_mut().enumerate() {
        let name = outset.setup.bird.called(at);
        let (given_up, judged) = outset.setup.standing.judge(&outset.setup, &name)?;
        abandoned.extend(given_up);
        for finding in outset.findings.drain(..).chain(judged) {
            if !findings.contains(&finding) {
                findings.push(finding);
            }
        }
    }
    Ok((findings, abandoned))
}

/// Puts each line's combinations in order of preference: the one chosen before comes first, so that a plan changes only
/// where it must.
fn prefer(order: &Order, lines: &mut [Line<'_>], before: &[Chain]) {
    for (outset, _, weighed) in lines {
        let chosen = before
            .iter()
            .find(|chain| chain.bird == outset.name && chain.chosen);
        let was = |combination: Combination| {
            chosen.is_some_and(|was| {
                (was.thaw, was.brine, was.roast)
                    == (combination.thaw, combination.brine, combination.roast)
            })
        };
        weighed.kept.sort_by(|one, other| {
            was(other.combination)
                .cmp(&was(one.combination))
                .then_with(|| rank(order, &one.criteria).cmp(&rank(order, &other.criteria)))
        });
    }
}

fn chains_of(
    order: &Order,
    lines: &[Line<'_>],
    chosen: &Result<Chosen<'_>, Vec<Refused>>,
    abandoned: &[Abandoned],
) -> Vec<Chain> {
    let refused = match chosen {
        Ok(chosen) => &chosen.refused,
        Err(refused) => refused,
    };
    let mut chains = Vec::new();
    for (at, (outset, _, weighed)) in lines.iter().enumerate() {
        let name = outset.name.as_deref();
        let best = chosen
            .as_ref()
            .ok()
            .map(|chosen| &weighed.kept[chosen.picked[at]]);
        let mut kept: Vec<&Timing<'_>> = weighed.kept.iter().collect();
        kept.sort_by_key(|timing| best.is_some_and(|best| timing.combination != best.combination));
        for timing in kept {
            let why = refused
                .iter()
                .find(|(line, combination, _)| *line == at && *combination == timing.combination)
                .map(|(.., why)| why.clone());
            chains.push(match (why, best) {
                (Some(why), _) => chain(name, timing.combination, false, why),
                (None, Some(best)) => kept_chain(order, name, timing, best),
                (None, None) => {
                    let why = abandoned.first().map_or_else(
                        || say("out-with-others").to_owned(),
                        |bird| fill("out-not-eaten", &[("reason", &bird.reason)]),
                    );
                    chain(name, timing.combination, false, why)
                }
            });
        }
        chains.extend(
            weighed
                .fallen
                .iter()
                .map(|fallen| fallen_chain(name, fallen)),
        );
    }
    chains
}

fn changes_of(
    order: &Order,
    lines: &[Line<'_>],
    abandoned: &[Abandoned],
    sure: bool,
    times: &mut Times,
) -> Vec<Change> {
    let mut changes = joint::changes(order, lines, sure, times);
    for (outset, _, weighed) in lines {
        let mut own = if !abandoned.is_empty() {
            change::another_bird(&outset.setup)
        } else if weighed.kept.is_empty() {
            change::smallest(&outset.setup, &weighed.fallen)
        } else {
            Vec::new()
        };
        if let Some(name) = &outset.name {
            for change in &mut own {
                change.change = fill(
                    "change-one-of-many",
                    &[("name", &name), ("change", &change.change)],
                );
            }
        }
        changes.extend(own);
    }
    changes.dedup();
    changes.truncate(MOST_CHANGES);
    changes
}

fn planned_bird(outset: &Outset<'_>, state: crate::bird::State) -> PlannedBird {
    PlannedBird {
        name: outset.name.clone(),
        species: outset.setup.species,
        cut: outset.setup.cut,
        mass: outset.setup.mass,
        count: outset.count,
        state,
        to_buy: outset.setup.to_buy,
        stuffed: outset.setup.stuffed,
    }
}

pub(super) fn units(order: &Order) -> UnitSystem {
    order
        .units
        .unwrap_or_else(|| customary_units(&order.standard))
}

pub(super) fn clock(order: &Order) -> HourClock {
    order.clock.unwrap_or(match units(order) {
        UnitSystem::UsCustomary => HourClock::Twelve,
        UnitSystem::Metric => HourClock::TwentyFour,
    })
}

fn one_title(bird: &PlannedBird, order: &Order) -> String {
    let mass = units(order).mass(bird.mass);
    let count = if bird.count > 1 {
        format!("{} × ", bird.count)
    } else {
        String::new()
    };
    let stuffed = if bird.stuffed {
        say("title-stuffed")
    } else {
        ""
    };
    format!(
        "{count}{mass} {} ({}{stuffed})",
        bird.species.name(),
        bird.cut.name()
    )
}

fn title(birds: &[PlannedBird], order: &Order) -> String {
    let guests = order.guests.adults + order.guests.children;
    let all = birds.iter().map(|bird| one_title(bird, order));
    let all = all.reduce(|birds, bird| fill("title-and", &[("birds", &birds), ("bird", &bird)]));
    fill(
        "title",
        &[("birds", &all.unwrap_or_default()), ("guests", &guests)],
    )
}
