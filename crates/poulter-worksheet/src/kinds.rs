//! What stands on each kind of sheet.

use crate::cards;
use crate::document::{Block, Document, Section, Table};
use crate::labels;
use crate::questions;
use crate::sheet::{Job, Sheet};
use crate::ways::Way;
use crate::wording::Remark;
use crate::words::{fill, say};
use crate::{Kind, class};

pub(crate) fn compose(job: &Job<'_>, sheet: &Sheet, kind: Kind) -> Document {
    let mut document = Document {
        sort: kind.heading(),
        title: sheet.title.clone(),
        facts: sheet.facts.clone(),
        sections: Vec::new(),
    };
    if !sheet.feasible {
        impossible(&mut document, sheet);
    }
    abandoned(&mut document, sheet);
    match kind {
        Kind::Host => host(&mut document, sheet),
        Kind::Class => class::add(&mut document, job, sheet),
        Kind::Key => questions::add_key(&mut document, job, sheet),
        Kind::Shopping => document.add(shopping(sheet)),
        Kind::Labels => labels::add(&mut document, job, sheet),
        Kind::Cards => cards::add(&mut document, job, sheet),
    }
    document
}

fn impossible(document: &mut Document, sheet: &Sheet) {
    document.add(Section::new(
        "answer",
        say("not-possible"),
        vec![
            Block::Say(say("not-possible-why").to_owned()),
            Block::Heading(say("changes").to_owned()),
            if sheet.changes.is_empty() {
                Block::Say(say("no-change").to_owned())
            } else {
                Block::Numbered(sheet.changes.clone())
            },
        ],
    ));
}

/// What must not be eaten stands first on every kind of sheet.
fn abandoned(document: &mut Document, sheet: &Sheet) {
    let lost = sheet.abandoned.iter().map(Remark::copy).collect();
    document.add(Section::new(
        "abandoned",
        say("abandoned"),
        vec![Block::Remarks(lost)],
    ));
}

fn host(document: &mut Document, sheet: &Sheet) {
    let news = vec![Block::List(sheet.news.clone())];
    document.add(Section::new("news", say("news"), news));
    if !sheet.days.is_empty() {
        let blocks = vec![Block::Overview, Block::Steps { blanks: true }];
        document.add(Section::new("timeline", say("timeline"), blocks));
    }
    document.add(shopping(sheet).on_new_page());
    document.add(findings(sheet));
    document.add(Section::new(
        "ways",
        sheet.ways_heading(),
        [
            ways(say("runners-up"), &sheet.runners_up),
            ways(say("fell-out"), &sheet.fell_out),
        ]
        .into_iter()
        .flatten()
        .collect(),
    ));
    let assumed = vec![Block::List(sheet.assumed.clone())];
    document.add(Section::new("assumed", say("assumed"), assumed));
    document.add(cautions(sheet));
    let lines = vec![Block::Sign(vec![say("signed"), say("date")])];
    document.add(Section::new("sign", say("sign-off"), lines));
    document.add(sources(sheet));
}

pub(crate) fn shopping(sheet: &Sheet) -> Section {
    let rows = sheet.shopping.iter();
    let table = Table {
        class: "shopping",
        columns: vec![say("item"), say("amount"), say("note")],
        rows: rows
            .map(|line| vec![line.item.clone(), line.amount.clone(), line.note.clone()])
            .collect(),
        boxes: true,
    };
    Section::new("shopping", say("shopping"), vec![Block::Table(table)])
}

fn findings(sheet: &Sheet) -> Section {
    let remarks = sheet.findings.iter().map(Remark::copy).collect();
    Section::new("findings", say("findings"), vec![Block::Remarks(remarks)])
}

pub(crate) fn cautions(sheet: &Sheet) -> Section {
    let blocks = vec![Block::List(sheet.cautions.clone())];
    Section::new("cautions", say("cautions"), blocks)
}

pub(crate) fn sources(sheet: &Sheet) -> Section {
    let there = !sheet.sources.rules.is_empty();
    let blocks = if there {
        vec![Block::Sources]
    } else {
        Vec::new()
    };
    Section::new("sources", say("sources"), blocks)
}

fn ways(name: &str, ways: &[Way]) -> Vec<Block> {
    if ways.is_empty() {
        return Vec::new();
    }
    let table = Table {
        class: "ways",
        columns: vec![say("way"), say("reason")],
        rows: ways
            .iter()
            .map(|way| vec![way.shown(), way.reason.clone()])
            .collect(),
        boxes: false,
    };
    vec![Block::Heading(name.to_owned()), Block::Table(table)]
}

/// The sheet as one table for a program to read: a row for each step, line, answer or label.
pub(crate) fn table(job: &Job<'_>, sheet: &Sheet, kind: Kind) -> Table {
    if !sheet.feasible {
        return refused(sheet);
    }
    match kind {
        Kind::Host | Kind::Class => steps(sheet),
        Kind::Key => questions::table(job, sheet),
        Kind::Shopping => {
            let columns = vec![say("item"), say("amount"), say("note")];
            let rows = sheet.shopping.iter();
            Table {
                class: "",
                columns,
                rows: rows
                    .map(|line| vec![line.item.clone(), line.amount.clone(), line.note.clone()])
                    .collect(),
                boxes: false,
            }
        }
        Kind::Labels => labels::table(job, sheet),
        Kind::Cards => cards::table(job, sheet),
    }
}

/// Why there is no plan, and what would do.
fn refused(sheet: &Sheet) -> Table {
    let row = |name: &str, text: &str| vec![name.to_owned(), text.to_owned()];
    let mut rows = vec![row(say("not-possible"), say("not-possible-why"))];
    rows.extend(
        sheet
            .changes
            .iter()
            .map(|change| row(say("changes"), change)),
    );
    let fell_out = sheet.fell_out.iter();
    rows.extend(fell_out.map(|way| row(&way.shown(), &way.reason)));
    Table {
        class: "",
        columns: vec![say("item"), say("reason")],
        rows,
        boxes: false,
    }
}

fn steps(sheet: &Sheet) -> Table {
    let rows = sheet.entries().map(|entry| {
        let checks: Vec<String> = entry
            .records
            .iter()
            .map(|record| {
                fill(
                    "answer-limit",
                    &[("what", &record.what), ("limit", &record.limit)],
                )
            })
            .collect();
        let date =
            |moment: &poulter::plan::Moment| moment.zoned().strftime("%Y-%m-%d %H:%M").to_string();
        vec![
            entry.number.to_string(),
            date(&entry.start),
            date(&entry.earliest),
            date(&entry.latest),
            entry.title.clone(),
            entry.duration.low.shown(),
            entry.duration.likely.shown(),
            entry.duration.high.shown(),
            entry.needs.clone(),
            entry.by.to_owned(),
            entry.to_do.join(" "),
            checks.join("; "),
        ]
    });
    Table {
        class: "",
        columns: [
            "number", "start", "earliest", "latest", "step", "low", "likely", "high", "needs",
            "by", "to-do", "record",
        ]
        .map(say)
        .to_vec(),
        rows: rows.collect(),
        boxes: false,
    }
}
