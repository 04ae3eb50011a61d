//! The planner: weighs every combination, keeps those that hold, and says why the others fall out.

use crate::answer::{Answer, Basis, Finding, customary_units};
use crate::bird::State;
use crate::brine::BrineMethod;
use crate::error::{Error, ErrorKind};
use crate::purchase::{self, Appetite, PurchaseQuery};
use crate::roast::RoastMethod;
use crate::rules::{Requirement, Rulebook, Topic, Verdict};
use crate::thaw::ThawMethod;
use crate::units::{Fraction, HourClock, Mass, UnitSystem};

use super::chain::{Combination, Fallen, Setup, Timing, combinations, time};
use super::change;
use super::model::{self, ModelTimes};
use super::order::{Bird, Order};
use super::steps;
use super::types::{Chain, Criteria, Plan, PlannedBird};

/// More guests than this is an event for a licensed caterer, not a plan for one kitchen.
const MOST_GUESTS: u32 = 200;

/// Plans a dinner.
///
/// Every combination of thaw, brine and roast that the order leaves open is timed back from the serving hour. Kept are
/// those that serve on time in the slow case and hold safely in the quick case; the best by [`Criteria`] becomes the
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
    let bird = only_bird(order)?;
    let mut outset = Outset::of(book, order, bird)?;
    let states = outset.states();
    let weighed = Weighed::of(&outset.setup, &combinations(order, &states));
    if let Some(error) = weighed.no_row_for_the_bird(&outset) {
        return Err(error);
    }
    let Weighed { mut kept, fallen } = weighed;
    kept.sort_by(|one, other| rank(&one.criteria).cmp(&rank(&other.criteria)));

    let mut chains: Vec<Chain> = kept
        .iter()
        .enumerate()
        .map(|(at, timing)| kept_chain(at, timing, &kept))
        .collect();
    chains.extend(fallen.iter().map(fallen_chain));
    let changes = if kept.is_empty() {
        change::smallest(&outset.setup, &fallen)
    } else {
        Vec::new()
    };
    let feasible = !kept.is_empty();
    let best = kept.into_iter().next();
    let state = best
        .as_ref()
        .map_or(states[0], |timing| timing.combination.state);
    let bird = PlannedBird {
        name: None,
        species: bird.species,
        cut: bird.cut,
        mass: outset.setup.mass,
        count: outset.count,
        state,
        to_buy: outset.setup.to_buy,
        stuffed: bird.stuffed,
    };
    let mut plan = Plan {
        feasible,
        serve_at: order.serve_at.clone(),
        standard: order.standard.clone(),
        title: title(&bird, order),
        bird,
        birds: Vec::new(),
        units: units(order),
        clock: clock(order),
        steps: Vec::new(),
        shopping: Vec::new(),
        findings: std::mem::take(&mut outset.findings),
        chains,
        changes,
        on_time: None,
        news: Vec::new(),
        abandoned: Vec::new(),
    };
    let mut basis = outset.basis;
    if let Some(timing) = best {
        steps::fill(&mut plan, order, &outset.setup, timing, &mut basis)?;
    }
    Ok(basis.finish(plan))
}

fn check(order: &Order) -> Result<(), Error> {
    let guests = order.guests.adults.saturating_add(order.guests.children);
    if guests == 0 || guests > MOST_GUESTS {
        let expected = format!("from 1 to {MOST_GUESTS} guests are needed");
        return Err(Error::new(ErrorKind::OutOfRange, guests, expected).at("guests"));
    }
    if let Some(now) = &order.now
        && *now >= order.serve_at
    {
        return Err(Error::new(
            ErrorKind::BadMoment,
            &order.serve_at,
            format!("a moment after now ({now}) is needed"),
        )
        .at("serve_at"));
    }
    for (at, bird) in order.lines().enumerate() {
        if bird.mass.is_some_and(|mass| mass == Mass::ZERO) {
            let field = if order.bird.is_some() {
                "bird.mass".to_owned()
            } else {
                format!("birds[{at}].mass")
            };
            return Err(
                Error::new(ErrorKind::OutOfRange, "0", "a mass above zero is needed").at(&field),
            );
        }
    }
    Ok(())
}

fn only_bird(order: &Order) -> Result<&Bird, Error> {
    order.lines().next().ok_or_else(|| {
        Error::new(ErrorKind::MissingField, "", "the field `bird` is needed").at("bird")
    })
}

/// What is settled before any combination is tried.
struct Outset<'b> {
    setup: Setup<'b>,
    count: u32,
    basis: Basis<'b>,
    findings: Vec<Finding>,
}

impl<'b> Outset<'b> {
    fn of(book: &'b Rulebook, order: &'b Order, bird: &'b Bird) -> Result<Self, Error> {
        let mut setup = Setup {
            book,
            order,
            bird,
            species: bird.species,
            cut: bird.cut,
            mass: bird.mass.unwrap_or(Mass::ZERO),
            stuffed: bird.stuffed,
            to_buy: bird.mass.is_none(),
            refrigerator_is_cold: true,
            model: ModelTimes::default(),
        };
        let mut basis = Basis::new(book, setup.case(bird.state))?;
        basis.units = units(order);
        let mut findings = Vec::new();
        let bought = purchase::work_out(&mut basis, &purchase_query(order, bird))?;
        let mut count = 1;
        if bird.mass.is_none() {
            setup.mass = bought.each;
            count = bought.birds;
        }
        findings.extend(bought.findings);
        match order.kitchen.refrigerator {
            None => basis.assume("The refrigerator is as cold as the standard asks; measure it."),
            Some(measured) => {
                let rule = basis.require(Topic::StorageRefrigerator)?;
                if let Requirement::Temperature { limit } = &rule.requirement {
                    let (verdict, margin) = limit.judge(measured);
                    setup.refrigerator_is_cold = verdict == Verdict::Meets;
                    let text = format!(
                        "The refrigerator is at {measured}; the limit is {}.",
                        limit.shown()
                    );
                    findings.push(Finding::verdict(verdict, text, rule, Some(margin)));
                }
            }
        }
        if order.now.is_none() {
            basis.assume("No starting moment was given, so the plan says by when it must start.");
        }
        Ok(Self {
            setup,
            count,
            basis,
            findings,
        })
    }

    /// The states to try: the one given, or frozen and then fresh for a bird to buy.
    fn states(&mut self) -> Vec<State> {
        match self.setup.bird.state {
            Some(state) => vec![state],
            None if self.setup.to_buy => vec![State::Frozen, State::Fresh],
            None => {
                self.basis.assume("The bird in hand is hard frozen.");
                vec![State::Frozen]
            }
        }
    }
}

fn purchase_query(order: &Order, bird: &Bird) -> PurchaseQuery {
    PurchaseQuery {
        adults: order.guests.adults,
        children: order.guests.children,
        appetite: Appetite::Usual,
        leftovers: order.guests.leftovers.unwrap_or_default(),
        mass: bird.mass,
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
        for &combination in combinations {
            match time(setup, combination) {
                Ok(timing) => kept.push(timing),
                Err(reason) => fallen.push((combination, reason)),
            }
        }
        Self { kept, fallen }
    }

    /// A bird that no roasting row covers is refused outright: no plan can be made for it.
    fn no_row_for_the_bird(&self, outset: &Outset<'b>) -> Option<Error> {
        if !self.kept.is_empty() || model::covers(&outset.setup) {
            return None;
        }
        let setup = &outset.setup;
        let topic = if setup.stuffed {
            Topic::RoastTimeStuffed
        } else {
            Topic::RoastTimeUnstuffed
        };
        match setup.book.require(topic, &setup.case(None)) {
            Err(error) => Some(error.at("bird")),
            Ok(table) if table.requirement.time_for(setup.mass).is_none() => {
                Some(crate::roast::no_row(table, setup.mass).at("bird"))
            }
            Ok(_) => None,
        }
    }
}

/// Smaller is better; a later last start is better, so the moment counts backwards.
fn rank(criteria: &Criteria) -> (u32, u32, i64, i64, std::cmp::Reverse<&super::Moment>) {
    (
        criteria.night_steps,
        criteria.compromises,
        criteria.attended.steps(),
        criteria.longest_hold.steps(),
        std::cmp::Reverse(&criteria.must_start_by),
    )
}

fn kept_chain(at: usize, timing: &Timing<'_>, kept: &[Timing<'_>]) -> Chain {
    let reason = if at == 0 {
        "chosen: serves on time in the slow case and holds safely in the quick case".to_owned()
    } else {
        runner_up(&timing.criteria, &kept[0].criteria)
    };
    chain(
        timing.combination,
        true,
        reason,
        Some(timing.criteria.clone()),
    )
}

fn runner_up(own: &Criteria, best: &Criteria) -> String {
    let why = if own.night_steps != best.night_steps {
        "a step would start at night"
    } else if own.compromises != best.compromises {
        "gives up a brine or a full thaw"
    } else if own.attended != best.attended {
        "needs someone standing by"
    } else if own.longest_hold != best.longest_hold {
        "may have to be held hot longer"
    } else if own.must_start_by != best.must_start_by {
        "has to start earlier"
    } else {
        "equal by every criterion; the order of preference decides"
    };
    format!("would also do; {why}")
}

fn fallen_chain((combination, fallen): &(Combination, Fallen)) -> Chain {
    chain(*combination, false, fallen.reason.clone(), None)
}

fn chain(
    combination: Combination,
    kept: bool,
    reason: String,
    criteria: Option<Criteria>,
) -> Chain {
    let Combination {
        state,
        thaw,
        brine,
        roast,
    } = combination;
    Chain {
        bird: None,
        state,
        thaw,
        brine,
        roast,
        kept,
        reason,
        criteria,
        score: None,
    }
}

impl Combination {
    /// The combination in words.
    pub(super) fn words(self) -> String {
        let start = match (self.thaw, self.state) {
            (Some(thaw), _) => thaw.words(),
            (None, State::Fresh) => "fresh",
            (None, _) => "thawed",
        };
        let brine = match self.brine {
            BrineMethod::Wet => "wet brine",
            BrineMethod::Dry => "dry brine",
            BrineMethod::None => "no brine",
        };
        format!("{start}, {brine}, {}", self.roast.words())
    }

    pub(super) const fn simplest(state: State, thaw: Option<ThawMethod>) -> Self {
        Self {
            state,
            thaw,
            brine: BrineMethod::None,
            roast: RoastMethod::Steady,
        }
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

fn title(bird: &PlannedBird, order: &Order) -> String {
    let mass = units(order).mass(bird.mass);
    let count = if bird.count > 1 {
        format!("{} × ", bird.count)
    } else {
        String::new()
    };
    let stuffed = if bird.stuffed { ", stuffed" } else { "" };
    let guests = order.guests.adults + order.guests.children;
    format!(
        "{count}{mass} {} ({}{stuffed}) for {guests}",
        bird.species.name(),
        bird.cut.name()
    )
}
