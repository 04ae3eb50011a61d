//! Whether an order can be planned at all: what is given twice, missing, too much or out of order.

use std::fmt::Display;

use crate::error::{Error, ErrorKind};
use crate::units::{Duration, Mass};

use super::kitchen::Block;
use super::moment::Moment;
use super::order::{Bird, Order};
use super::progress::Doing;

/// More guests than this is an event for a licensed caterer, not a plan for one kitchen.
const MOST_GUESTS: u32 = 200;

/// Every order and oven is tried, so their number is kept small.
const MOST_LINES: usize = 4;
const MOST_DISHES: usize = 6;
const MOST_OVENS: usize = 4;
const MOST_SINKS: u32 = 4;
const MOST_BIRDS: u32 = 200;
const MOST_BIRDS_AT_A_STATION: u32 = 6;
const MOST_STATIONS: u32 = 40;

fn refuse(kind: ErrorKind, given: impl Display, expected: &str, field: &str) -> Result<(), Error> {
    Err(Error::new(kind, given, expected).at(field))
}

pub(super) fn check(order: &Order) -> Result<(), Error> {
    use ErrorKind::{BadMoment, OutOfRange};

    let guests = order.guests.adults.saturating_add(order.guests.children);
    if guests == 0 || guests > MOST_GUESTS {
        let expected = format!("from 1 to {MOST_GUESTS} guests are needed");
        return refuse(OutOfRange, guests, &expected, "guests");
    }
    let grouped = order
        .guests
        .groups
        .iter()
        .fold(0_u32, |sum, group| sum.saturating_add(group.people));
    if grouped > guests {
        return refuse(
            OutOfRange,
            grouped,
            "no more people in groups than guests are needed",
            "guests.groups",
        );
    }
    if let Some(now) = &order.now
        && *now >= order.serve_at
    {
        return Err(Error::new(
            BadMoment,
            &order.serve_at,
            format!("a moment after now ({now}) is needed"),
        )
        .at("serve_at"));
    }
    birds(order)?;
    kitchen(order)?;
    work(order)?;
    progress(order)
}

fn work(order: &Order) -> Result<(), Error> {
    use ErrorKind::{OutOfRange, UnknownField};

    if order.dishes.len() > MOST_DISHES {
        return refuse(
            OutOfRange,
            order.dishes.len(),
            "at most 6 dishes are needed",
            "dishes",
        );
    }
    for (at, dish) in order.dishes.iter().enumerate() {
        if dish.coolest > dish.hottest {
            return refuse(
                OutOfRange,
                dish.coolest,
                "no more than `hottest` is needed",
                &format!("dishes[{at}].coolest"),
            );
        }
        if dish.time == Duration::ZERO {
            return refuse(
                OutOfRange,
                dish.time,
                "a time above zero is needed",
                &format!("dishes[{at}].time"),
            );
        }
    }
    if let Some(class) = &order.class {
        if class.stations == 0 || class.stations > MOST_STATIONS {
            return refuse(
                OutOfRange,
                class.stations,
                "from 1 to 40 stations are needed",
                "class.stations",
            );
        }
        if class.students < class.stations {
            return refuse(
                OutOfRange,
                class.students,
                "a student at every station is needed",
                "class.students",
            );
        }
        blocks(&class.lessons, "class.lessons")?;
    }
    blocks(&order.cook.free, "cook.free")?;
    for step in order.cook.hands_on.keys() {
        if !["prepare", "carve"].contains(&step.as_str()) {
            return refuse(
                UnknownField,
                step,
                "prepare or carve is needed",
                "cook.hands_on",
            );
        }
    }
    Ok(())
}

fn progress(order: &Order) -> Result<(), Error> {
    use ErrorKind::{BadMoment, MissingField, UnknownValue};

    let Some(now) = &order.now else {
        if order.progress.is_empty() {
            return Ok(());
        }
        return refuse(
            MissingField,
            "",
            "the field `now` is needed beside progress",
            "now",
        );
    };
    let names: Vec<String> = order
        .lines()
        .enumerate()
        .map(|(at, bird)| bird.called(at))
        .collect();
    for (at, piece) in order.progress.iter().enumerate() {
        let field = |name: &str| format!("progress[{at}].{name}");
        if piece.at > *now {
            return refuse(
                BadMoment,
                &piece.at,
                "a moment not after now is needed",
                &field("at"),
            );
        }
        match &piece.bird {
            Some(name) if !names.contains(name) => {
                let expected = format!("one of {} is needed", names.join(", "));
                return refuse(UnknownValue, name, &expected, &field("bird"));
            }
            None if names.len() > 1 => {
                return refuse(
                    MissingField,
                    "",
                    "the name of the bird is needed",
                    &field("bird"),
                );
            }
            _ => {}
        }
        if let Some(oven) = &piece.oven {
            if piece.started != Some(Doing::Roast) {
                let expected = "`started = \"roast\"` is needed beside an oven";
                return refuse(MissingField, oven, expected, &field("started"));
            }
            if order.kitchen.oven_called(oven).is_none() {
                let ovens = order.kitchen.every_oven().len();
                let names: Vec<_> = (0..ovens).map(|at| order.kitchen.oven_name(at)).collect();
                let expected = format!("one of {}, or its number, is needed", names.join(", "));
                return refuse(UnknownValue, oven, &expected, &field("oven"));
            }
        }
    }
    Ok(())
}

fn birds(order: &Order) -> Result<(), Error> {
    use ErrorKind::{MissingField, OutOfRange, UnknownField, UnknownValue};

    if order.bird.is_some() && !order.birds.is_empty() {
        return refuse(
            UnknownField,
            "birds",
            "either `bird` or `birds` is needed, not both",
            "birds",
        );
    }
    if order.lines().next().is_none() {
        return refuse(MissingField, "", "the field `bird` is needed", "bird");
    }
    if order.birds.len() > MOST_LINES {
        return refuse(
            OutOfRange,
            order.birds.len(),
            "at most 4 lines of birds are needed",
            "birds",
        );
    }
    let mut names = Vec::new();
    for (at, bird) in order.lines().enumerate() {
        let field = |name: &str| format!("{}.{name}", order.line_field(at));
        if bird.mass.is_some_and(|mass| mass == Mass::ZERO) {
            return refuse(
                OutOfRange,
                "0",
                "a mass above zero is needed",
                &field("mass"),
            );
        }
        let counted = bird.count.is_some()
            || order.birds.len() > 1
            || order.class.is_some()
            || order.kit.is_some();
        if counted && bird.mass.is_none() {
            return refuse(
                MissingField,
                "",
                "the mass of each bird is needed beside a count, other birds, a class or a kit",
                &field("mass"),
            );
        }
        if bird.count.is_some() && order.class.is_some() {
            return refuse(
                UnknownField,
                "count",
                "a class counts by `class.birds_per_station`",
                &field("count"),
            );
        }
        if bird
            .count
            .is_some_and(|count| count == 0 || count > MOST_BIRDS)
        {
            return refuse(
                OutOfRange,
                bird.count.unwrap_or(0),
                "from 1 to 200 birds in a line are needed",
                &field("count"),
            );
        }
        let name = bird.called(at);
        if names.contains(&name) {
            return refuse(
                UnknownValue,
                name,
                "a name of its own is needed",
                &field("name"),
            );
        }
        names.push(name);
    }
    let per_station = order
        .class
        .as_ref()
        .and_then(|class| class.birds_per_station);
    if per_station.is_some_and(|count| count == 0 || count > MOST_BIRDS_AT_A_STATION) {
        return refuse(
            OutOfRange,
            per_station.unwrap_or(0),
            "from 1 to 6 birds at a station are needed",
            "class.birds_per_station",
        );
    }
    Ok(())
}

fn kitchen(order: &Order) -> Result<(), Error> {
    use ErrorKind::{OutOfRange, UnknownField};

    let kitchen = &order.kitchen;
    if kitchen.ovens.len() > MOST_OVENS {
        return refuse(
            OutOfRange,
            kitchen.ovens.len(),
            "at most 4 ovens are needed",
            "kitchen.ovens",
        );
    }
    if !kitchen.ovens.is_empty() && kitchen.oven != crate::roast::Oven::default() {
        return refuse(
            UnknownField,
            "ovens",
            "either `oven` or `ovens` is needed, not both",
            "kitchen.ovens",
        );
    }
    for (at, oven) in kitchen.ovens.iter().enumerate() {
        if oven.birds_at_once == Some(0) && oven.dishes_at_once == Some(0) {
            return refuse(
                OutOfRange,
                0,
                "an oven that holds something is needed",
                &format!("kitchen.ovens[{at}]"),
            );
        }
    }
    if kitchen.sinks.is_some_and(|sinks| sinks > MOST_SINKS) {
        return refuse(
            OutOfRange,
            kitchen.sinks.unwrap_or(0),
            "at most 4 sinks are needed",
            "kitchen.sinks",
        );
    }
    Ok(())
}

fn blocks(blocks: &[Block], field: &str) -> Result<(), Error> {
    for (at, block) in blocks.iter().enumerate() {
        if ends_first(&block.from, &block.to) {
            return refuse(
                ErrorKind::BadMoment,
                &block.to,
                "a moment after `from` is needed",
                &format!("{field}[{at}].to"),
            );
        }
    }
    Ok(())
}

fn ends_first(from: &Moment, to: &Moment) -> bool {
    to <= from
}

impl Bird {
    /// Its name, or species, cut and number.
    pub(super) fn called(&self, at: usize) -> String {
        self.name
            .clone()
            .unwrap_or_else(|| format!("{} {} {}", self.species.name(), self.cut.name(), at + 1))
    }
}
