//! Who does what in a class, and what each group of guests must not eat.

use crate::answer::Finding;
use crate::messages::{fill, say};
use crate::prepare::{Allergen, AllergenList, AllergenQuery, allergens};
use crate::rules::{Rulebook, Stage};
use crate::units::Duration;

use super::kitchen::{Block, Class};
use super::order::Order;
use super::types::{Performer, Plan, Step};

/// A step whose start and hands-on time lie within a lesson is the class's, and its window ends with that lesson; every
/// other one is the teacher's.
pub(super) fn assign(steps: &mut [Step], class: &Class, plan: &mut Plan) {
    for step in steps.iter_mut() {
        let start = &step.window.planned;
        let hands_on = step.hands_on.unwrap_or(Duration::ZERO);
        let end = start.after(hands_on);
        let lesson = class
            .lessons
            .iter()
            .find(|lesson| lesson.from <= *start && end <= lesson.to);
        step.by = Some(match lesson {
            Some(lesson) => {
                let done = step.window.planned.after(step.duration.high);
                if step.id == "stock" && done > lesson.to {
                    let time = lesson.to.clock(plan.clock);
                    step.to_do
                        .push(fill("class-stock-ends", &[("time", &time)]));
                }
                keep_within(step, lesson, hands_on);
                Performer::Class
            }
            None => Performer::Teacher,
        });
    }
    let outside: Vec<String> = steps
        .iter()
        .filter(|step| step.by == Some(Performer::Teacher))
        .map(|step| format!("{} ({})", step.title, step.window.planned.shown(plan.clock)))
        .collect();
    let key = if outside.is_empty() {
        "class-stations"
    } else {
        "class-stations-outside"
    };
    let text = fill(
        key,
        &[
            ("stations", &class.stations),
            ("students", &class.students),
            ("outside", &outside.len()),
            ("steps", &steps.len()),
            ("list", &outside.join("; ")),
        ],
    );
    plan.findings.push(Finding::advice(text, None));
}

/// Ends the window of a step with the lesson that its planned time lies in.
fn keep_within(step: &mut Step, lesson: &Block, hands_on: Duration) {
    let window = &mut step.window;
    let first = lesson.from.in_zone_of(&window.earliest);
    let last = lesson.to.before(hands_on).in_zone_of(&window.latest);
    let last = last.min(window.latest.clone());
    let sooner = window.latest.since(&last);
    window.earliest = window.earliest.clone().max(first);
    window.latest = last;
    // A brine ends when the bird is wanted, whenever it begins.
    if step.stage == Stage::Brine {
        step.duration.low = step.duration.low.plus(sooner);
    }
}

fn allergen(text: &str) -> Option<Allergen> {
    let text = text.trim().to_lowercase();
    serde_json::from_value(serde_json::Value::String(text.replace(' ', "-"))).ok()
}

/// Says for each group of guests which of the plan's ingredients hold what they avoid.
pub(super) fn groups(plan: &mut Plan, order: &Order, book: &Rulebook) {
    let bought = plan.shopping.iter().filter_map(|line| line.ingredient);
    let mut ingredients: Vec<String> = bought.map(str::to_owned).collect();
    ingredients.extend(order.dishes.iter().map(|dish| dish.name.clone()));
    for group in &order.guests.groups {
        let mut holding = Vec::new();
        let mut unread = Vec::new();
        for name in &group.avoid {
            let Some(avoided) = allergen(name) else {
                unread.push(name.clone());
                continue;
            };
            // A guest avoids what a guest avoids, whichever list names it.
            let list = if AllergenList::UsNine.has(avoided) {
                AllergenList::UsNine
            } else {
                AllergenList::EuUkFourteen
            };
            let query = AllergenQuery {
                ingredients: ingredients.clone(),
                list,
                avoid: vec![avoided],
                standard: order.standard.clone(),
            };
            let Ok(found) = allergens(book, &query) else {
                unread.push(name.clone());
                continue;
            };
            for item in &found.answer.ingredients {
                let same = |other: &Allergen| {
                    *other == avoided
                        || matches!(
                            (other, avoided),
                            (Allergen::Wheat, Allergen::Gluten)
                                | (Allergen::Gluten, Allergen::Wheat)
                        )
                };
                if item.contains.iter().any(same) {
                    holding.push(fill(
                        "class-holds",
                        &[("ingredient", &item.ingredient), ("name", &name)],
                    ));
                } else if item.may_contain.iter().any(same) {
                    holding.push(fill(
                        "class-may-hold",
                        &[("ingredient", &item.ingredient), ("name", &name)],
                    ));
                }
            }
        }
        let found = if holding.is_empty() {
            say("class-holds-none").to_owned()
        } else {
            holding.join("; ")
        };
        let key = if unread.is_empty() {
            "class-group"
        } else {
            "class-group-unread"
        };
        let text = fill(
            key,
            &[
                ("group", &group.name),
                ("people", &group.people),
                ("avoid", &group.avoid.join(", ")),
                ("found", &found),
                ("unread", &unread.join(", ")),
            ],
        );
        plan.findings.push(Finding::caution(text, None));
    }
}
