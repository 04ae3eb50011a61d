//! What progress changed in a plan, and why.

use crate::bird::Place;
use crate::messages::{fill, say};
use crate::units::Duration;

use super::order::Order;
use super::progress::Progress;
use super::standing::in_the_bird;
use super::types::{News, Plan, Resource, Step, Use};

/// Notes how `plan` differs from the one before the progress.
pub(super) fn tell(plan: &mut Plan, before: &Plan, order: &Order) {
    let why = reasons(order, plan);
    let mut news = Vec::new();
    if before.feasible && !plan.feasible {
        let later = plan.changes.iter().map(|change| change.later_by).min();
        let what = match (plan.abandoned.first(), later) {
            (Some(bird), _) => fill("news-not-eaten", &[("bird", &bird.bird)]),
            (None, Some(later)) if later > Duration::ZERO => {
                fill("news-later", &[("time", &later.shown())])
            }
            (None, Some(_)) => say("news-change").to_owned(),
            (None, None) => say("news-none").to_owned(),
        };
        news.push(whole(plan, what, &why));
    }
    if plan.feasible && !before.feasible {
        news.push(whole(plan, say("news-after-all").to_owned(), &why));
    }
    if plan.feasible && before.feasible {
        for line in chosen(plan) {
            let was = chosen(before)
                .into_iter()
                .find(|other| other.bird == line.bird);
            if let Some(was) = was
                && (was.thaw, was.brine, was.roast) != (line.thaw, line.brine, line.roast)
            {
                let what = fill(
                    "news-way",
                    &[
                        (
                            "thaw",
                            &line
                                .thaw
                                .map_or(say("not-frozen"), crate::thaw::ThawMethod::words),
                        ),
                        ("brine", &line.brine.words()),
                        ("roast", &line.roast.words()),
                    ],
                );
                news.push(whole(plan, what, &why));
            }
        }
        for step in &plan.steps {
            if let Some(was) = before.steps.iter().find(|was| was.id == step.id) {
                news.extend(moved(step, was, &why));
            } else {
                news.push(News {
                    step: Some(step.id.clone()),
                    what: fill("news-new", &[("step", &step.title)]),
                    why: why.clone(),
                    before: None,
                    now: Some(step.window.planned.clone()),
                });
            }
        }
    }
    plan.news = news;
}

fn chosen(plan: &Plan) -> Vec<&super::types::Chain> {
    plan.chains.iter().filter(|chain| chain.chosen).collect()
}

fn whole(plan: &Plan, what: String, why: &str) -> News {
    News {
        step: None,
        what,
        why: match plan.abandoned.first() {
            Some(bird) => format!("{} ({})", bird.reason, bird.rule),
            None => why.to_owned(),
        },
        before: None,
        now: None,
    }
}

fn moved(step: &Step, was: &Step, why: &str) -> Option<News> {
    let what = if step.window.planned != was.window.planned {
        let (later, by) = if step.window.planned > was.window.planned {
            ("later", step.window.planned.since(&was.window.planned))
        } else {
            ("earlier", was.window.planned.since(&step.window.planned))
        };
        format!("{}: {} {later}", step.title, by.shown())
    } else if (step.duration.likely, step.duration.high) != (was.duration.likely, was.duration.high)
    {
        fill(
            "news-takes",
            &[
                ("step", &step.title),
                ("now", &step.duration.shown()),
                ("before", &was.duration.shown()),
            ],
        )
    } else if let (Some(now), Some(was)) = (oven(step), oven(was))
        && now.number != was.number
    {
        let called = |kept: &Use| {
            let name = kept.name.clone();
            name.unwrap_or_else(|| fill("oven-number", &[("number", &kept.number)]))
        };
        fill(
            "news-oven",
            &[
                ("step", &step.title),
                ("now", &called(now)),
                ("before", &called(was)),
            ],
        )
    } else {
        return None;
    };
    Some(News {
        step: Some(step.id.clone()),
        what,
        why: why.to_owned(),
        before: Some(was.window.planned.clone()),
        now: Some(step.window.planned.clone()),
    })
}

fn oven(step: &Step) -> Option<&Use> {
    step.uses
        .iter()
        .find(|kept| kept.resource == Resource::Oven)
}

/// The latest piece of progress in words, as the reason for what changed.
fn reasons(order: &Order, plan: &Plan) -> String {
    let last = order
        .progress
        .iter()
        .max_by(|one, other| one.at.cmp(&other.at));
    last.map_or_else(String::new, |piece| said(piece, plan))
}

fn said(piece: &Progress, plan: &Plan) -> String {
    let mut parts = Vec::new();
    let word = |doing| {
        serde_json::to_value(doing)
            .ok()
            .and_then(|value| value.as_str().map(str::to_owned))
            .unwrap_or_default()
    };
    if let Some(doing) = piece.started {
        let oven = piece.oven.as_ref();
        parts.push(match oven {
            Some(oven) => fill("told-begun-in", &[("stage", &word(doing)), ("oven", &oven)]),
            None => fill("told-begun", &[("stage", &word(doing))]),
        });
    }
    if let Some(doing) = piece.finished {
        parts.push(fill("told-over", &[("stage", &word(doing))]));
    }
    if let Some(reading) = piece.reading {
        let place = in_the_bird(piece.place.unwrap_or(Place::Core));
        parts.push(fill(
            "told-reading",
            &[
                ("reading", &plan.units.temperature(reading)),
                ("place", &place),
            ],
        ));
    }
    if let Some(out) = piece.stood_out {
        parts.push(out.duration.map_or_else(
            || say("told-out-unknown").to_owned(),
            |time| fill("told-out", &[("time", &time.shown())]),
        ));
    }
    let bird = piece
        .bird
        .as_ref()
        .map_or_else(String::new, |bird| format!("{bird}: "));
    format!("{}: {bird}{}", piece.at.shown(plan.clock), parts.join(", "))
}
