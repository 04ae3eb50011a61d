//! The questions of the class sheet, and their answers.

use poulter::plan::Step;
use poulter::rules::{Comparison, Stage, TemperatureLimit};
use poulter::units::{ExactTemperature, Temperature, TemperatureUnit, UnitSystem};

use crate::class::checks;
use crate::degrees;
use crate::document::{Block, Document, Section, Table};
use crate::entry::Entry;
use crate::kinds;
use crate::sheet::{Job, Sheet};
use crate::sources::marks;
use crate::words::{fill, say};

struct Question {
    asked: &'static str,
    answer: String,
    rules: String,
}

fn questions(job: &Job<'_>, sheet: &Sheet) -> Vec<Question> {
    let plan = &job.plan.answer;
    let mut all = Vec::new();
    let mut ask = |key, answer: String, rules: &str| {
        all.push(Question {
            asked: say(key),
            answer,
            rules: rules.to_owned(),
        });
    };
    if plan.birds.is_empty() && job.guests() > 0 {
        let total = plan.bird.mass.times_ratio(i64::from(plan.bird.count), 1);
        let each = total.times_ratio(1, i64::from(job.guests()));
        let answer = fill(
            "answer-each",
            &[
                ("mass", &plan.units.mass(each)),
                ("total", &plan.units.mass(total)),
                ("guests", &job.guests()),
            ],
        );
        let citations = &job.plan.citations;
        let ids = citations.iter().map(|it| it.rule.as_str());
        let bought = marks(ids.filter(|id| id.contains(".purchase.mass")), citations);
        ask("ask-each", answer, &bought);
    }
    let first = |stage: Stage| sheet.entries().find(|entry| entry.stage == stage);
    let by = |entry: &Entry| entry.latest.shown(sheet.clock);
    if let Some(thaw) = first(Stage::Thaw) {
        let answer = fill(
            "answer-time",
            &[("range", &thaw.duration.shown()), ("when", &by(thaw))],
        );
        ask("ask-thaw", answer, &thaw.marks);
    }
    if let Some(brine) = first(Stage::Brine)
        && let Some(blank) = brine.records.first()
    {
        let answer = fill(
            "answer-from-to",
            &[("range", &brine.duration.shown()), ("limit", &blank.limit)],
        );
        ask("ask-brine", answer, &brine.marks);
    }
    if let (Some(roast), Some(measure)) = (first(Stage::Roast), first(Stage::Doneness)) {
        let when = measure.start.shown(sheet.clock);
        let answer = fill(
            "answer-roast",
            &[("range", &roast.duration.shown()), ("when", &when)],
        );
        ask("ask-roast", answer, &roast.marks);
        let places: Vec<String> = measure
            .records
            .iter()
            .map(|blank| {
                fill(
                    "answer-limit",
                    &[("what", &blank.what), ("limit", &blank.limit)],
                )
            })
            .collect();
        ask("ask-places", places.join("; "), &measure.marks);
        if let Some(blank) = measure.records.first() {
            let answer = fill("answer-low", &[("action", &blank.otherwise)]);
            ask("ask-low", answer, &measure.marks);
        }
    }
    if let Some(serve) = sheet
        .entries()
        .find(|entry| entry.stage == Stage::Serve && !entry.records.is_empty())
    {
        ask("ask-hold", serve.records[0].limit.clone(), &serve.marks);
    }
    for (key, id) in [("ask-chill", "chill"), ("ask-keep", "use-up")] {
        if let Some(entry) = sheet.entries().find(|entry| entry.id.starts_with(id)) {
            ask(
                key,
                fill("answer-by", &[("when", &by(entry))]),
                &entry.marks,
            );
        }
    }
    all
}

/// The questions with lines for the answers.
pub(crate) fn add(document: &mut Document, job: &Job<'_>, sheet: &Sheet) {
    let rows = questions(job, sheet)
        .into_iter()
        .enumerate()
        .map(|(index, it)| vec![(index + 1).to_string(), it.asked.to_owned(), String::new()]);
    let table = Table {
        class: "questions",
        columns: vec![say("number"), say("question"), say("answer")],
        rows: rows.collect(),
        boxes: false,
    };
    let blocks = vec![Block::Table(table)];
    document.add(Section::new("questions", say("questions"), blocks).on_new_page());
}

/// The answers, what a record should show, and the rules behind both.
pub(crate) fn add_key(document: &mut Document, job: &Job<'_>, sheet: &Sheet) {
    let answers = vec![Block::Table(table(job, sheet))];
    document.add(Section::new("questions", say("answers"), answers));
    let rows = checks(sheet).map(|(_, blank)| {
        let (misses, meets) = blank
            .bound
            .map_or_else(Default::default, |bound| edges(&bound, sheet.units));
        vec![
            blank.what.clone(),
            blank.limit.clone(),
            meets,
            misses,
            blank.otherwise.clone(),
        ]
    });
    let table = Table {
        class: "key",
        columns: [
            "check",
            "limit",
            "just-meets",
            "just-misses",
            "when-it-fails",
        ]
        .map(say)
        .to_vec(),
        rows: rows.collect(),
        boxes: false,
    };
    let blocks = vec![Block::Say(say("key-note").to_owned()), Block::Table(table)];
    if sheet.feasible {
        document.add(Section::new("record", say("key-record"), blocks).on_new_page());
    }
    document.add(kinds::cautions(sheet));
    document.add(kinds::sources(sheet));
}

pub(crate) fn table(job: &Job<'_>, sheet: &Sheet) -> Table {
    let rows = questions(job, sheet)
        .into_iter()
        .enumerate()
        .map(|(index, it)| {
            vec![
                (index + 1).to_string(),
                it.asked.to_owned(),
                it.answer,
                it.rules,
            ]
        });
    Table {
        class: "answers",
        columns: vec![say("number"), say("question"), say("answer"), say("rules")],
        rows: rows.collect(),
        boxes: false,
    }
}

/// The readings to a tenth of a degree on both sides of a limit: the last that fails and the first that meets.
fn edges(limit: &TemperatureLimit, units: UnitSystem) -> (String, String) {
    let unit = degrees::unit(units);
    let tenth = |tenths: i64| {
        let exact = match unit {
            TemperatureUnit::Celsius => ExactTemperature::from_millicelsius(tenths * 100),
            _ => ExactTemperature::from_millifahrenheit(tenths * 100),
        };
        Temperature::from_exact(exact, unit)
    };
    let value = match unit {
        TemperatureUnit::Celsius => limit.temperature.as_celsius(),
        _ => limit.temperature.as_fahrenheit(),
    };
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a limit is some hundred degrees"
    )]
    let near = (value * 10.0).round() as i64;
    let meets = |tenths: i64| limit.is.holds(&tenth(tenths), &limit.temperature);
    let towards_fail = match limit.is {
        Comparison::AtLeast | Comparison::Above => -1,
        Comparison::AtMost | Comparison::Below => 1,
    };
    let Some(last) = (-2..=2)
        .map(|step| near - step * towards_fail)
        .rfind(|tenths| meets(*tenths) && !meets(*tenths + towards_fail))
    else {
        return Default::default();
    };
    let shown = |tenths| units.temperature(tenth(tenths));
    (shown(last + towards_fail), shown(last))
}

/// Steps whose id begins so; the plan of several birds tells them apart by what follows.
pub(crate) fn step<'s>(steps: &'s [Step], id: &str) -> Option<&'s Step> {
    steps.iter().find(|step| step.id.starts_with(id))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_edges_are_the_last_miss_and_the_first_hit() {
        // 165 °F is 73.88… °C, so 73.9 °C meets and 73.8 °C misses; 40 °F is 4.44… °C.
        for (is, limit, units, expected) in [
            (
                Comparison::AtLeast,
                "165 °F",
                UnitSystem::UsCustomary,
                ("164.9 °F", "165 °F"),
            ),
            (
                Comparison::AtLeast,
                "165 °F",
                UnitSystem::Metric,
                ("73.8 °C", "73.9 °C"),
            ),
            (
                Comparison::AtMost,
                "40 °F",
                UnitSystem::UsCustomary,
                ("40.1 °F", "40 °F"),
            ),
            (
                Comparison::AtMost,
                "40 °F",
                UnitSystem::Metric,
                ("4.5 °C", "4.4 °C"),
            ),
            (
                Comparison::Below,
                "5 °C",
                UnitSystem::Metric,
                ("5 °C", "4.9 °C"),
            ),
            (
                Comparison::Above,
                "63 °C",
                UnitSystem::Metric,
                ("63 °C", "63.1 °C"),
            ),
        ] {
            let limit = TemperatureLimit {
                is,
                temperature: Temperature::parse(limit).unwrap(),
                also_printed: None,
            };
            let (misses, meets) = edges(&limit, units);
            assert_eq!((misses.as_str(), meets.as_str()), expected);
        }
    }
}
