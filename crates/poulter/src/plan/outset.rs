//! What is settled about a bird before any combination is tried, and what came of each.

use crate::answer::{Basis, Finding};
use crate::bird::State;
use crate::brine::BrineMethod;
use crate::error::Error;
use crate::messages::{fill, say};
use crate::purchase::{self, Appetite, Purchase, PurchaseQuery};
use crate::roast::{self, RoastMethod};
use crate::rules::{Requirement, Rulebook, Stage, Topic, Verdict};
use crate::units::{Fraction, Mass};

use super::chain::{Fallen, Timing, time};
use super::combination::Combination;
use super::model::{self, ModelTimes};
use super::order::{Bird, Methods, Order};
use super::planner::units;
use super::progress::{Doing, Progress};
use super::raw::raw_topic;
use super::setup::Setup;
use super::standing::Standing;
use super::stretch::roast_of;
use super::types::{Chain, Plan, Resource};

/// What is settled before any combination is tried.
pub(super) struct Outset<'b> {
    pub(super) setup: Setup<'b>,
    pub(super) name: Option<String>,
    pub(super) count: u32,
    pub(super) basis: Basis<'b>,
    pub(super) findings: Vec<Finding>,
    /// The share of the guests, in thousandths, that this line feeds beside others; none where no rule says.
    pub(super) feeds: Option<i64>,
}

impl<'b> Outset<'b> {
    pub(super) fn of(
        book: &'b Rulebook,
        order: &'b Order,
        bird: &'b Bird,
        name: Option<String>,
        before: Option<&Plan>,
    ) -> Result<Self, Error> {
        let chosen = before.filter(|plan| plan.feasible).and_then(|plan| {
            let mut chains = plan.chains.iter();
            chains.find(|chain| chain.chosen && chain.bird == name)
        });
        let news = about(order, name.as_deref());
        let methods = untold(order, chosen);
        let mut setup = Setup {
            book,
            order,
            bird,
            species: bird.species,
            cut: bird.cut,
            mass: bird.mass.unwrap_or(Mass::ZERO),
            stuffed: bird.stuffed,
            to_buy: bird.mass.is_none() && order.kit.is_none(),
            refrigerator_is_cold: true,
            model: ModelTimes::default(),
            oven: order.kitchen.oven,
            oven_by: None,
            early_is_reheated: false,
            standing: Standing::of(&news, methods.thaw, methods.brine),
        };
        let mut basis = Basis::new(book, setup.case(bird.state))?;
        basis.units = units(order);
        assume_untold(&news, &setup.standing, &mut basis);
        tie_to_oven(
            &mut setup.standing,
            order,
            name.as_deref(),
            before,
            &mut basis,
        );
        setup.standing.roast_method = chosen.map(|chain| chain.roast);
        let mut findings = Vec::new();
        let mut count = bird.count.unwrap_or(1);
        if let Some(class) = &order.class {
            count = class
                .birds_per_station
                .unwrap_or(1)
                .saturating_mul(class.stations);
        }
        let in_hand = bird.mass.map(|mass| mass.times_ratio(i64::from(count), 1));
        let mut query = purchase_query(order, bird);
        let mut feeds = None;
        let bought = if order.birds.len() > 1 {
            // Each line is measured by its own rule; what the lines feed together is told once.
            let all = purchase::work_out(&mut basis, &query);
            feeds = share_of(in_hand, all.as_ref().ok());
            match (all, in_hand) {
                (Err(_), Some(_)) => {
                    query.mass = in_hand;
                    purchase::work_out(&mut basis, &query)?
                }
                (all, _) => all?,
            }
        } else {
            query.mass = in_hand;
            purchase::work_out(&mut basis, &query)?
        };
        if bird.mass.is_none() {
            setup.mass = bought.each;
            count = bought.birds;
        }
        findings.extend(bought.findings);
        match order.kitchen.refrigerator {
            None => basis.assume(say("assume-refrigerator")),
            Some(measured) => {
                let rule = basis.require(Topic::StorageRefrigerator)?;
                if let Requirement::Temperature { limit } = &rule.requirement {
                    let (verdict, margin) = limit.judge(measured);
                    setup.refrigerator_is_cold = verdict == Verdict::Meets;
                    let text = fill(
                        "warm-refrigerator",
                        &[("measured", &measured), ("limit", &limit.shown())],
                    );
                    findings.push(Finding::verdict(verdict, text, rule, Some(margin)));
                }
            }
        }
        if setup.standing.roast.is_none() {
            findings.extend(kit(order, &setup));
        }
        findings.extend(thaw_left(&setup));
        findings.extend(roast_left(&setup));
        if order.now.is_none() {
            basis.assume(say("assume-no-start"));
        }
        Ok(Self {
            setup,
            name,
            count,
            basis,
            findings,
            feeds,
        })
    }

    /// The states to try: the one given, or frozen and then fresh for a bird to buy.
    pub(super) fn states(&mut self) -> Vec<State> {
        match self.setup.bird.state {
            Some(state) => vec![state],
            None if self.setup.to_buy => vec![State::Frozen, State::Fresh],
            None => {
                self.basis.assume(say("assume-hard-frozen"));
                vec![State::Frozen]
            }
        }
    }
}

/// The pieces of progress about a bird; those without a name are about the only one.
fn about<'o>(order: &'o Order, name: Option<&str>) -> Vec<&'o Progress> {
    order
        .progress
        .iter()
        .filter(|piece| piece.bird.is_none() || piece.bird.as_deref() == name || name.is_none())
        .collect()
}

/// How a bird is thawed and brined where the progress does not say: as the order wants it, or else as the plan before had
/// it.
fn untold(order: &Order, chosen: Option<&Chain>) -> Methods {
    Methods {
        thaw: order
            .methods
            .thaw
            .or_else(|| chosen.and_then(|chain| chain.thaw)),
        brine: order.methods.brine.or_else(|| {
            let planned = chosen.map(|chain| chain.brine);
            planned.filter(|brine| *brine != BrineMethod::None)
        }),
        roast: None,
    }
}

/// Names what the progress does not say of a thaw or brine that it tells of.
fn assume_untold(news: &[&Progress], standing: &Standing, basis: &mut Basis<'_>) {
    let begun = |doing| {
        news.iter()
            .filter(move |piece| piece.started == Some(doing))
    };
    if let Some((_, thaw)) = &standing.thaw
        && begun(Doing::Thaw).any(|piece| piece.thaw.is_none())
    {
        basis.assume(fill("assume-thaw", &[("thaw", &thaw.words())]));
    }
    if let Some((_, brine)) = &standing.brine
        && begun(Doing::Brine).any(|piece| piece.brine.is_none())
    {
        basis.assume(fill("assume-brine", &[("brine", &brine.words())]));
    }
}

/// Keeps a bird that is in an oven there: in the one that the progress names, or else the one of the plan before.
fn tie_to_oven(
    standing: &mut Standing,
    order: &Order,
    name: Option<&str>,
    before: Option<&Plan>,
    basis: &mut Basis<'_>,
) {
    let kitchen = &order.kitchen;
    if standing.roast.is_none() || kitchen.ovens.len() < 2 {
        return;
    }
    let told = standing.oven_names.iter();
    standing.ovens = told.filter_map(|told| kitchen.oven_called(told)).collect();
    if !standing.ovens.is_empty() {
        return;
    }
    let steps = before.iter().flat_map(|plan| &plan.steps);
    let mut ovens: Vec<usize> = steps
        .filter(|step| {
            step.stage == Stage::Roast && (name.is_none() || step.bird.as_deref() == name)
        })
        .flat_map(|step| &step.uses)
        .filter(|kept| kept.resource == Resource::Oven)
        .map(|kept| kept.number as usize - 1)
        .collect();
    ovens.sort_unstable();
    ovens.dedup();
    for &oven in &ovens {
        basis.assume(fill(
            "assume-oven",
            &[
                ("bird", &name.unwrap_or(say("the-bird"))),
                ("oven", &kitchen.oven_name(oven)),
            ],
        ));
    }
    standing.ovens = ovens;
}

/// Whether the serving hour lies within the use-by date of a meal kit.
fn kit(order: &Order, setup: &Setup<'_>) -> Option<Finding> {
    let kit = order.kit.as_ref()?;
    let rule = setup.book.find(raw_topic(setup.cut), &setup.case(None))?;
    Some(Finding::advice(
        fill(
            "assume-use-by",
            &[("date", &kit.use_by.strftime("%a %-d %b %Y"))],
        ),
        Some(rule),
    ))
}

/// How much longer the thaw under way takes by the model, for a core that is still icy.
fn thaw_left(setup: &Setup<'_>) -> Option<Finding> {
    let (at, reading) = setup.standing.icy_reading()?;
    let (_, method) = setup.standing.thaw.as_ref()?;
    let left = model::thaw_left(setup, *method, reading)?;
    let clock = super::planner::clock(setup.order);
    Some(Finding::advice(
        fill(
            "model-thaw",
            &[
                ("reading", &units(setup.order).temperature(reading)),
                ("method", &method.words()),
                ("left", &left.shown()),
                ("likely", &at.after(left.likely).shown(clock)),
                ("high", &at.after(left.high).shown(clock)),
            ],
        ),
        None,
    ))
}

/// When a bird in the oven is done by the readings so far, beside the end of the printed time.
fn roast_left(setup: &Setup<'_>) -> Option<Finding> {
    let standing = &setup.standing;
    if standing.done.is_some() {
        return None;
    }
    let (at, reading) = standing.oven_reading()?;
    let start = standing.roast.as_ref()?;
    let combination = Combination {
        state: setup.bird.state.unwrap_or(State::Thawed),
        thaw: standing.thaw.as_ref().map(|(_, method)| *method),
        brine: BrineMethod::None,
        roast: setup.order.methods.roast.unwrap_or(RoastMethod::Steady),
    };
    let mut basis = Basis::new(setup.book, setup.case(setup.bird.state)).ok()?;
    let (.., model) = roast_of(&mut basis, setup, combination).ok()?;
    let model = model?;
    let clock = super::planner::clock(setup.order);
    let end = |time| start.after(time).shown(clock);
    let printed = model.printed.map_or_else(String::new, |printed| {
        let ends = fill(
            "model-printed-ends",
            &[("low", &end(printed.low)), ("high", &end(printed.high))],
        );
        format!(" {ends}")
    });
    Some(Finding::advice(
        fill(
            "model-roast",
            &[
                ("reading", &units(setup.order).temperature(reading)),
                ("time", &at.shown(clock)),
                ("likely", &end(model.time.likely)),
                ("high", &end(model.time.high)),
                ("printed", &printed),
            ],
        ),
        None,
    ))
}

/// Thousandths of what all guests need.
fn share_of(in_hand: Option<Mass>, all: Option<&Purchase>) -> Option<i64> {
    let (mass, needed) = (in_hand?, all?.buy);
    (needed > Mass::ZERO).then(|| mass.steps() / (needed.steps() / 1000).max(1))
}

/// What the lines feed together.
pub(super) fn together(lines: &[(Option<&str>, Option<i64>)]) -> Option<Finding> {
    let mut sum = 0;
    let mut each = Vec::new();
    for (name, feeds) in lines {
        sum += (*feeds)?;
        each.push(format!("{} {} %", (*name)?, (*feeds)? / 10));
    }
    let verdict = if sum >= 1000 {
        say("feeds-enough")
    } else {
        say("feeds-too-few")
    };
    let text = fill(
        "feeds-together",
        &[("verdict", &verdict), ("shares", &each.join(", "))],
    );
    (each.len() > 1).then(|| Finding::advice(text, None))
}

fn purchase_query(order: &Order, bird: &Bird) -> PurchaseQuery {
    PurchaseQuery {
        adults: order.guests.adults,
        children: order.guests.children,
        appetite: Appetite::Usual,
        service: order.guests.service,
        second_main: order.guests.second_main,
        leftovers: order.guests.leftovers.unwrap_or_default(),
        mass: None,
        stuffed: bird.stuffed,
        bought_stuffed: false,
        solution_added: bird.solution_added.unwrap_or(Fraction::ZERO),
        standard: order.standard.clone(),
        species: bird.species,
        cut: bird.cut,
        on: Some(order.serve_at.zoned().date()),
    }
}

/// The outcome for every combination.
pub(super) struct Weighed<'b> {
    pub(super) kept: Vec<Timing<'b>>,
    pub(super) fallen: Vec<(Combination, Fallen)>,
}

impl<'b> Weighed<'b> {
    pub(super) fn of(setup: &Setup<'b>, combinations: &[Combination]) -> Self {
        let (mut kept, mut fallen) = (Vec::new(), Vec::new());
        let tied = &setup.standing.ovens;
        let mut ovens = setup.order.kitchen.every_oven();
        let mut place = 0..ovens.len();
        ovens.retain(|_| {
            let at = place.next();
            tied.is_empty() || at.is_some_and(|at| tied.contains(&at))
        });
        for &combination in combinations {
            let mut tried = ovens.iter().map(|own| {
                let oven = roast::Oven {
                    offset: own.offset,
                    fan: own.fan,
                };
                time(
                    &Setup {
                        oven,
                        ..setup.clone()
                    },
                    combination,
                )
            });
            let first = tried.next().unwrap_or_else(|| time(setup, combination));
            match first.or_else(|fallen| tried.find_map(Result::ok).ok_or(fallen)) {
                Ok(timing) => kept.push(timing),
                Err(reason) => fallen.push((combination, reason)),
            }
        }
        Self { kept, fallen }
    }

    /// A bird that no roasting row covers is refused outright: no plan can be made for it.
    pub(super) fn no_row_for_the_bird(&self, outset: &Outset<'b>) -> Option<Error> {
        if !self.kept.is_empty() {
            return None;
        }
        let setup = &outset.setup;
        let (case, stuffed) = (setup.case(None), setup.stuffed);
        let error = match setup.book.require(roast::table_of(stuffed), &case) {
            Err(error) => error,
            Ok(table) if table.requirement.time_for(setup.mass).is_none() => {
                roast::no_row(table, setup.mass)
            }
            Ok(_) => return None,
        };
        // The model is slow, so it is asked last.
        let covered = roast::table_elsewhere(setup.book, &case, stuffed, setup.mass).is_some()
            || model::covers(setup);
        (!covered).then_some(error)
    }
}
