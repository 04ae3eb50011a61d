//! The sheet of a plan: the steps of every load, the dishes, what is shared, and what each step keeps for itself.

use crate::answer::{Basis, Finding, TimeEstimate};
use crate::error::Error;
use crate::messages;
use crate::rules::Stage;
use crate::units::{Duration, Mass, TemperatureDifference};

use super::amounts::Amounts;
use super::chance;
use super::class;
use super::findings;
use super::hands;
use super::joint::{Chosen, Load};
use super::order::Order;
use super::ovens::PlacedDish;
use super::setup::Setup;
use super::shopping;
use super::slack;
use super::step::Draft;
use super::steps::Sheet;
use super::types::{Plan, PlannedBird, Resource, Step, Use};
use super::uses;

/// Puts steps, shopping list and findings of the chosen combinations into the plan.
pub(super) fn fill<'b>(
    plan: &mut Plan,
    order: &Order,
    setups: &[(Setup<'b>, Option<String>)],
    birds: &[PlannedBird],
    mut chosen: Chosen<'b>,
    outset: &mut Basis<'b>,
) -> Result<(), Error> {
    let first = plan.bird.clone();
    let several = chosen.loads.len() > 1;
    let stations = order.class.as_ref().map_or(1, |class| class.stations);
    let mass_of = |lines: &dyn Fn(&PlannedBird) -> bool| {
        let lines = birds.iter().filter(|line| lines(line));
        lines.fold(Mass::ZERO, |sum, line| {
            sum.plus(line.mass.times_ratio(i64::from(line.count), 1))
        })
    };
    let (all_birds, with_bones) = (mass_of(&|_| true), mass_of(&|line| line.cut.has_bones()));
    let mut bought: Vec<usize> = Vec::new();
    let mut steps = Vec::new();
    if order.class.is_none() {
        hands::carve_in_turn(&mut chosen.loads);
    }
    let carved_first = hands::carved_first(&chosen.loads);
    for at in 0..chosen.loads.len() {
        let load = &mut chosen.loads[at];
        let (line, name) = &setups[load.line];
        let setup = &Setup {
            oven: load.timing.oven,
            ..line.clone()
        };
        // Every load is of the same mould; only its count differs.
        plan.bird = PlannedBird {
            count: load.birds.saturating_mul(stations),
            ..birds[load.line].clone()
        };
        let case = setup.case(Some(load.timing.combination.state));
        let empty = Basis::new(setup.book, case)?;
        let mut sheet = Sheet {
            plan,
            order,
            setup,
            basis: std::mem::replace(&mut load.timing.basis, empty),
        };
        oven_holds(&mut sheet, load.oven, load.birds);
        let amounts = sheet.amounts(&load.timing, all_birds, with_bones)?;
        let mut own = of_load(&mut sheet, load, &amounts, at == carved_first);
        if !bought.contains(&load.line) {
            bought.push(load.line);
            let line = &birds[load.line];
            shopping::of_birds(sheet.plan, line, &load.timing, setup, &amounts);
        }
        if at == carved_first {
            shopping::of_meal(sheet.plan, &amounts);
        }
        outset.absorb(sheet.basis);
        slack::of_load(&mut own, &load.timing, setup);
        for step in &mut own {
            keep(step, order, setup, load);
            let shared = ["take-in", "gravy", "serve", "chill", "stock", "use-up"]
                .contains(&step.id.as_str());
            if several && !shared {
                step.id = format!("{}-{}", step.id, at + 1);
                step.bird = Some(
                    name.clone()
                        .unwrap_or_else(|| messages::fill("load", &[("number", &(at + 1))])),
                );
            }
        }
        steps.extend(own);
    }
    plan.bird = first;
    for (dish, placed) in order
        .dishes
        .iter()
        .zip(&chosen.dishes)
        .enumerate()
        .map(|(at, (dish, placed))| ((at, dish), placed))
    {
        steps.push(of_dish(plan, order, dish, placed));
    }
    number_sinks(&mut steps);
    slack::govern(&mut steps);
    steps.sort_by(|one, other| one.window.planned.cmp(&other.window.planned));
    if let Some(class) = &order.class {
        class::assign(&mut steps, class, plan);
    }
    plan.steps = steps;
    plan.on_time = chance::on_time(order, setups, &chosen.loads);
    hands::too_few(plan, order);
    class::groups(plan, order, setups[0].0.book);
    let mut seen: Vec<Finding> = Vec::new();
    plan.findings.retain(|finding| {
        let new = !seen.contains(finding);
        seen.push(finding.clone());
        new
    });
    unavoidable(plan, order);
    Ok(())
}

/// Says so where nobody told whether an oven holds all the birds of a load.
fn oven_holds(sheet: &mut Sheet<'_, '_>, oven: usize, birds: u32) {
    let kitchen = &sheet.order.kitchen;
    let told = (kitchen.every_oven().get(oven)).is_none_or(|oven| oven.birds_at_once.is_some());
    if birds < 2 || told {
        return;
    }
    let birds = PlannedBird {
        count: birds,
        ..sheet.plan.bird.clone()
    };
    let name = kitchen.oven_name(oven);
    sheet.basis.assume(messages::fill(
        "assume-oven-holds",
        &[("oven", &name), ("birds", &birds.in_words(sheet.units()))],
    ));
}

fn of_load<'b>(
    sheet: &mut Sheet<'_, 'b>,
    load: &Load<'b>,
    amounts: &Amounts,
    shared: bool,
) -> Vec<Step> {
    let timing = &load.timing;
    let standing = &sheet.setup.standing;
    let begun = standing.is_raw_and_begun();
    let past_brine =
        standing.prepared.is_some() || standing.roast.is_some() || standing.brined.is_some();
    let (prepared, in_oven, done) = (
        standing.prepared.is_some() || standing.roast.is_some(),
        standing.roast.is_some(),
        standing.done.is_some(),
    );
    let mut steps = Vec::new();
    steps.extend(sheet.buy(timing));
    if shared {
        steps.extend(sheet.take_in());
    }
    if !begun {
        steps.extend(sheet.thaw(timing));
    }
    if !past_brine {
        steps.extend(sheet.brine(timing, amounts.brine.as_ref()));
    }
    if !prepared {
        steps.push(sheet.prepare(timing));
    }
    if !done {
        let mut roast = sheet.roast(timing);
        if in_oven {
            messages::say("step-keep-roasting").clone_into(&mut roast.title);
        }
        steps.push(roast);
        steps.push(sheet.measure(timing));
    }
    steps.push(sheet.rest(timing));
    if shared {
        steps.push(sheet.gravy(timing, amounts.gravy.as_ref()));
    }
    steps.push(sheet.carve(timing));
    if shared {
        steps.push(sheet.serve());
        steps.extend(sheet.after(timing, amounts));
    }
    findings::add(&mut sheet.basis, sheet.plan, timing, sheet.setup);
    steps
}

/// Notes what a step keeps for itself.
fn keep(step: &mut Step, order: &Order, setup: &Setup<'_>, load: &Load<'_>) {
    if step.id == "roast" {
        step.uses.push(uses::oven(order, load.oven, &load.timing));
    }
    if step.id == "thaw" {
        step.uses.extend(uses::sink(setup, &load.timing));
    }
    for cold in load.cold.iter().filter(|cold| cold.step == step.id) {
        step.uses.push(cold.kept.clone());
        if cold.kept.resource == Resource::Cooler {
            step.occupies
                .retain(|resource| *resource != Resource::Refrigerator);
            step.occupies.push(Resource::Cooler);
            step.to_do
                .push(messages::say("do-keep-in-cooler").to_owned());
        }
    }
}

/// Gives sinks their numbers: each use takes the first that is free.
fn number_sinks(steps: &mut [Step]) {
    let mut taken: Vec<Use> = Vec::new();
    let mut places: Vec<(usize, usize)> = Vec::new();
    for (at, step) in steps.iter().enumerate() {
        for (place, kept) in step.uses.iter().enumerate() {
            if kept.resource == Resource::Sink {
                places.push((at, place));
            }
        }
    }
    places
        .sort_by(|&(one, a), &(other, b)| steps[one].uses[a].from.cmp(&steps[other].uses[b].from));
    for (at, place) in places {
        let kept = &mut steps[at].uses[place];
        kept.number = (1..=u32::MAX)
            .find(|number| {
                taken.iter().all(|other| {
                    other.number != *number || other.to <= kept.from || kept.to <= other.from
                })
            })
            .unwrap_or(1);
        taken.push(kept.clone());
    }
}

fn of_dish(
    plan: &Plan,
    order: &Order,
    (at, dish): (usize, &super::order::Dish),
    placed: &PlacedDish,
) -> Step {
    let mut draft = Draft::new(
        &format!("dish-{}", at + 1),
        Stage::Serve,
        messages::fill("step-dish", &[("dish", &dish.name)]),
        Sheet::fixed(&placed.start),
        TimeEstimate::exactly(dish.time),
    );
    draft.occupies(&[Resource::Oven]);
    let all = order.kitchen.every_oven();
    let oven = &all[placed.oven];
    let dial = oven.offset.map_or(placed.coolest, |offset| {
        placed
            .coolest
            .raised_by(TemperatureDifference::ZERO.minus(offset))
    });
    draft.say(&messages::fill(
        "do-set-oven",
        &[("oven", &plan.units.oven_setting(dial))],
    ));
    if dish.can_be_held {
        draft.say(messages::say("do-hold-dish"));
    }
    let mut step = draft.done();
    step.hands_on = dish.hands_on;
    step.slack = Some(Duration::ZERO);
    step.uses.push(Use {
        resource: Resource::Oven,
        number: u32::try_from(placed.oven + 1).unwrap_or(u32::MAX),
        name: order
            .kitchen
            .ovens
            .get(placed.oven)
            .and_then(|oven| oven.name.clone()),
        from: placed.start.clone(),
        to: placed.start.after(dish.time),
        room: None,
    });
    step
}

/// Says which steps fall outside the cook's hours and cannot be moved into them.
fn unavoidable(plan: &mut Plan, order: &Order) {
    let hours = super::hours::Hours::of(order);
    let outside: Vec<String> = plan
        .steps
        .iter()
        .filter(|step| step.window.planned < order.serve_at && !hours.holds(&step.window.planned))
        .map(|step| format!("{} ({})", step.title, step.window.planned.shown(plan.clock)))
        .collect();
    if !outside.is_empty() {
        plan.findings.push(Finding::advice(
            messages::fill("advice-hours", &[("steps", &outside.join("; "))]),
            None,
        ));
    }
}
