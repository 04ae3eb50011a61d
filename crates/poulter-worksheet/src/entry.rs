//! The steps of a plan as a reader sees them.

use poulter::TimeEstimate;
use poulter::plan::{Moment, Performer, Plan, Record, Repeat, Resource, Step};
use poulter::rules::{Citation, Requirement, Rulebook, Stage, TemperatureLimit};
use poulter::units::{Duration, HourClock, UnitSystem};

use crate::degrees;
use crate::sources::marks;
use crate::wording::{clean, told};
use crate::words::{self, fill, say};

/// The most times listed for something that comes back; a longer list helps nobody.
const TICKS_SHOWN: i64 = 48;

pub(crate) struct Day {
    pub(crate) name: String,
    pub(crate) entries: Vec<Entry>,
}

/// One step as a reader sees it.
pub(crate) struct Entry {
    pub(crate) number: usize,
    pub(crate) id: String,
    pub(crate) stage: Stage,
    pub(crate) title: String,
    pub(crate) clock: String,
    pub(crate) window: String,
    pub(crate) takes: String,
    pub(crate) needs: String,
    pub(crate) needs_cook: bool,
    pub(crate) to_do: Vec<String>,
    pub(crate) repeat: Option<Ticks>,
    pub(crate) records: Vec<Blank>,
    pub(crate) marks: String,
    /// Who does it, where a class cooks.
    pub(crate) by: &'static str,
    pub(crate) slack: String,
    pub(crate) start: Moment,
    pub(crate) earliest: Moment,
    pub(crate) latest: Moment,
    pub(crate) duration: TimeEstimate,
}

/// Something that comes back, with a time to tick for each.
pub(crate) struct Ticks {
    pub(crate) text: String,
    pub(crate) what: String,
    pub(crate) every: Duration,
    /// How often it comes back in the slow case.
    pub(crate) count: i64,
    pub(crate) times: Vec<String>,
}

/// A line to fill in.
pub(crate) struct Blank {
    pub(crate) what: String,
    pub(crate) limit: String,
    /// The limit itself, where the rule is a temperature.
    pub(crate) bound: Option<TemperatureLimit>,
    pub(crate) otherwise: String,
}

pub(crate) fn days(plan: &Plan, book: &Rulebook, citations: &[Citation]) -> Vec<Day> {
    let mut days: Vec<Day> = Vec::new();
    for (index, step) in plan.steps.iter().enumerate() {
        let name = step.window.planned.day();
        let entry = entry(index + 1, step, plan, book, citations);
        match days.last_mut() {
            Some(day) if day.name == name => day.entries.push(entry),
            _ => days.push(Day {
                name,
                entries: vec![entry],
            }),
        }
    }
    days
}

fn entry(
    number: usize,
    step: &Step,
    plan: &Plan,
    book: &Rulebook,
    citations: &[Citation],
) -> Entry {
    let (clock, units) = (plan.clock, plan.units);
    let start = &step.window.planned;
    let duration = step.duration;
    let likely = about(duration.likely).shown();
    let range = duration.shown();
    let rules = step
        .rules
        .iter()
        .chain(step.record.iter().filter_map(|record| record.rule.as_ref()));
    Entry {
        number,
        id: step.id.clone(),
        stage: step.stage,
        title: title(step),
        clock: start.clock(clock),
        window: window(step, clock),
        takes: if duration.high == Duration::ZERO {
            String::new()
        } else {
            takes(
                &range,
                (duration.low != duration.high).then_some(likely.as_str()),
            )
        },
        needs: needs(step, units),
        needs_cook: step.occupies.contains(&Resource::Cook),
        to_do: step.to_do.iter().map(|text| told(text, units)).collect(),
        repeat: step
            .repeat
            .as_ref()
            .and_then(|repeat| ticks(repeat, step, clock)),
        records: step
            .record
            .iter()
            .map(|record| blank(record, units, book))
            .collect(),
        marks: marks(rules.map(String::as_str), citations),
        by: step.by.map_or("", |by| match by {
            Performer::Class => say("by-class"),
            Performer::Teacher => say("by-teacher"),
        }),
        slack: slack(step),
        start: start.clone(),
        earliest: step.window.earliest.clone(),
        latest: step.window.latest.clone(),
        duration,
    }
}

/// The heading, with the bird it is about where there are several.
fn title(step: &Step) -> String {
    let title = clean(&step.title);
    match &step.bird {
        Some(bird) => fill("step-of-bird", &[("step", &title), ("bird", &clean(bird))]),
        None => title,
    }
}

/// What it needs for itself: the one of that name where the order names it, and the room it takes.
fn needs(step: &Step, units: UnitSystem) -> String {
    let which = |resource: Resource| {
        let word = words::resource(resource);
        let Some(kept) = step.uses.iter().find(|it| it.resource == resource) else {
            return word.to_owned();
        };
        let name = kept.name.as_deref().map(clean);
        match (name.filter(|name| !name.is_empty()), kept.room) {
            (Some(name), _) => name,
            (None, Some(room)) => {
                let room = units.volume(room);
                fill("needs-room", &[("what", &word), ("room", &room)])
            }
            (None, None) => word.to_owned(),
        }
    };
    let needs: Vec<_> = step.occupies.iter().map(|it| which(*it)).collect();
    needs.join(", ")
}

/// How much later it may start; the step without slack decides the hour.
fn slack(step: &Step) -> String {
    match step.slack {
        _ if step.governs => say("decides").to_owned(),
        Some(slack) if slack > Duration::ZERO => slack.shown(),
        _ => String::new(),
    }
}

fn takes(range: &str, likely: Option<&str>) -> String {
    likely.map_or_else(
        || range.to_owned(),
        |likely| fill("range-likely", &[("range", &range), ("likely", &likely)]),
    )
}

/// An estimate in steps of five minutes from an hour on; more would promise more than it knows.
fn about(estimate: Duration) -> Duration {
    let minutes = estimate.as_minutes();
    if minutes < 60.0 {
        return estimate;
    }
    Duration::from_minutes((minutes / 5.0).ceil() * 5.0).unwrap_or(estimate)
}

/// When a step may start; the day is written where it is not the step's own.
fn window(step: &Step, clock: HourClock) -> String {
    let planned = &step.window.planned;
    let moment = |at: &Moment| {
        if at.day() == planned.day() {
            at.clock(clock)
        } else {
            at.shown(clock)
        }
    };
    let (earliest, latest) = (&step.window.earliest, &step.window.latest);
    if earliest >= latest {
        fill("exactly", &[("time", &moment(planned))])
    } else {
        fill(
            "between",
            &[("earliest", &moment(earliest)), ("latest", &moment(latest))],
        )
    }
}

fn ticks(repeat: &Repeat, step: &Step, clock: HourClock) -> Option<Ticks> {
    let every = repeat.every.steps();
    // At the very end the step is over, so only what falls inside it counts.
    let count = (step.duration.high.steps() - 1)
        .checked_div(every)
        .filter(|count| *count > 0)?;
    let planned = &step.window.planned;
    let mut at = planned.clone();
    let mut day = planned.day();
    let mut times = Vec::new();
    for _ in 0..count.min(TICKS_SHOWN) {
        at = at.after(repeat.every);
        let shown = if at.day() == day {
            at.clock(clock)
        } else {
            at.shown(clock)
        };
        day = at.day();
        times.push(shown);
    }
    let what = clean(&repeat.what);
    Some(Ticks {
        text: fill(
            "every",
            &[("duration", &repeat.every.shown()), ("what", &what)],
        ),
        what,
        every: repeat.every,
        count,
        times,
    })
}

fn blank(record: &Record, units: UnitSystem, book: &Rulebook) -> Blank {
    let what = clean(&record.what);
    let bound = record.rule.as_deref().and_then(|id| bound(id, book));
    Blank {
        what: match record.place {
            Some(place) if !what.to_lowercase().contains(place.name()) => {
                format!("{what}, {}", place.name())
            }
            _ => what,
        },
        // Where the plan says more than the limit, such as a time to hold, its own words stay.
        limit: match bound.filter(|bound| bound.shown() == record.limit) {
            Some(bound) => degrees::limit(&bound, units),
            None => told(&record.limit, units),
        },
        bound: bound.filter(|bound| bound.shown() == record.limit),
        otherwise: told(&record.otherwise, units),
    }
}

fn bound(rule: &str, book: &Rulebook) -> Option<TemperatureLimit> {
    match &book.rule(rule).ok()?.requirement {
        Requirement::Temperature { limit } | Requirement::MinimumTemperature { limit, .. } => {
            Some(*limit)
        }
        _ => None,
    }
}
