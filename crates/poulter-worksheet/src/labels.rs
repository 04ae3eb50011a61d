//! Labels for leftovers: what it is, when it was cooked, and until when it keeps.

use poulter::plan::Moment;
use poulter::rules::{Keeping, Requirement};
use poulter::units::Duration;

use crate::document::{Block, Card, Document, Section, Table};
use crate::entry::Entry;
use crate::kinds;
use crate::sheet::{Job, Sheet};
use crate::wording::clean;
use crate::words::{fill, say};

/// One food that is kept.
pub(crate) struct Label {
    /// The rule's id without its dots, for the names of calendar entries.
    pub(crate) id: String,
    pub(crate) food: String,
    pub(crate) made: Moment,
    /// How long it keeps at the least and at the most.
    pub(crate) low: Duration,
    pub(crate) high: Duration,
    pub(crate) eat_by: Moment,
    pub(crate) discard_after: Moment,
    reheat: String,
    cold: String,
}

/// A label for each keeping time that the plan's last step names.
pub(crate) fn labels(job: &Job<'_>, sheet: &Sheet) -> Vec<Label> {
    let plan = &job.plan.answer;
    let mut labels: Vec<Label> = Vec::new();
    for step in &plan.steps {
        if !step.id.starts_with("use-up") {
            continue;
        }
        let reheat = limit_of(sheet, |entry| entry.id == step.id);
        let cold = limit_of(sheet, |entry| entry.id.starts_with("chill"));
        for id in &step.rules {
            let Ok(rule) = job.book.rule(id) else {
                continue;
            };
            let Requirement::Keep {
                keeping: Keeping::Refrigerator,
                low,
                high,
                ..
            } = rule.requirement
            else {
                continue;
            };
            if labels.iter().any(|known| known.food == rule.title) {
                continue;
            }
            labels.push(Label {
                id: clean(id).replace('.', "-"),
                food: clean(&rule.title),
                made: plan.serve_at.clone(),
                low,
                high,
                eat_by: plan.serve_at.after(low),
                discard_after: plan.serve_at.after(high),
                reheat: reheat.clone(),
                cold: cold.clone(),
            });
        }
    }
    labels
}

fn limit_of(sheet: &Sheet, is: impl Fn(&Entry) -> bool) -> String {
    sheet
        .entries()
        .find(|entry| is(entry))
        .and_then(|entry| entry.records.first())
        .map_or_else(String::new, |blank| blank.limit.clone())
}

impl Label {
    fn lines(&self, sheet: &Sheet) -> Vec<(&'static str, String)> {
        let when = |moment: &Moment| moment.shown(sheet.clock);
        [
            (say("label-made"), when(&self.made)),
            (say("label-eat"), when(&self.eat_by)),
            (say("label-discard"), when(&self.discard_after)),
            (say("label-keep"), self.cold.clone()),
            (say("label-reheat"), self.reheat.clone()),
        ]
        .into_iter()
        .filter(|line| !line.1.is_empty())
        .collect()
    }
}

pub(crate) fn add(document: &mut Document, job: &Job<'_>, sheet: &Sheet) {
    let cards = labels(job, sheet)
        .iter()
        .map(|label| Card {
            title: label.food.clone(),
            lines: label.lines(sheet),
            to_do: Vec::new(),
        })
        .collect();
    let blocks = vec![
        Block::Cards(cards),
        Block::Say(say("labels-note").to_owned()),
    ];
    if sheet.feasible {
        document.add(Section::new("labels", say("kind-labels"), blocks));
    }
    document.add(kinds::cautions(sheet));
}

pub(crate) fn table(job: &Job<'_>, sheet: &Sheet) -> Table {
    let date = |moment: &Moment| moment.zoned().strftime("%Y-%m-%d %H:%M").to_string();
    let rows = labels(job, sheet).into_iter().map(|label| {
        vec![
            label.food,
            date(&label.made),
            date(&label.eat_by),
            date(&label.discard_after),
            label.cold,
            label.reheat,
        ]
    });
    Table {
        class: "",
        columns: [
            "item",
            "label-made",
            "label-eat",
            "label-discard",
            "label-keep",
            "label-reheat",
        ]
        .map(say)
        .to_vec(),
        rows: rows.collect(),
        boxes: false,
    }
}

/// What a calendar says when a label's day has come.
pub(crate) fn eat(label: &Label) -> String {
    fill("label-event", &[("what", &label.food)])
}

/// What a calendar says when the last day is over.
pub(crate) fn discard(label: &Label) -> String {
    fill("label-last", &[("what", &label.food)])
}
