//! The class sheet: what to learn, what to lay out, what to do when, and what to measure, station by station.

use poulter::plan::{Amount, ShoppingItem};
use poulter::rules::Stage;
use poulter::units::UnitSystem;

use crate::document::{Block, Document, Section, Table};
use crate::entry::Blank;
use crate::kinds;
use crate::questions;
use crate::sheet::{Job, Sheet};
use crate::wording::{clean, shown, told};
use crate::words::{fill, say};

/// Equipment of one station, with how many of each: common practice, no source.
pub(crate) const EQUIPMENT: [(&str, u32); 9] = [
    ("equipment-thermometer", 1),
    ("equipment-raw-board", 1),
    ("equipment-clean-board", 1),
    ("equipment-pan", 1),
    ("equipment-tray", 1),
    ("equipment-towels", 1),
    ("equipment-sanitiser", 1),
    ("equipment-soap", 1),
    ("equipment-labels", 1),
];

pub(crate) fn add(document: &mut Document, job: &Job<'_>, sheet: &Sheet) {
    let (stations, birds) = job.stations();
    let key = if stations == 1 {
        "stations-one"
    } else {
        "stations-many"
    };
    let shared = fill(key, &[("stations", &stations), ("birds", &birds)]);
    document.facts.push((say("stations"), shared));
    if sheet.days.is_empty() {
        document.add(kinds::cautions(sheet));
        document.add(kinds::sources(sheet));
        return;
    }
    let goals = vec![Block::List(objectives(sheet))];
    document.add(Section::new("objectives", say("objectives"), goals));
    document.add(Section::new("blocks", say("blocks"), lessons(job, sheet)));
    let who = (1..=stations)
        .map(|number| {
            vec![
                fill("station", &[("number", &number.to_string())]),
                String::new(),
            ]
        })
        .collect();
    let people = Block::Table(Table {
        class: "who",
        columns: vec![say("station-head"), say("who")],
        rows: who,
        boxes: false,
    });
    let note = Block::Say(fill("mise-note", &[("stations", &stations)]));
    let mise = Block::Table(mise(job, sheet));
    document.add(Section::new("mise", say("mise"), vec![people, note, mise]));
    let steps = vec![Block::Overview, Block::Steps { blanks: false }];
    document.add(Section::new("timeline", say("timeline"), steps).on_new_page());
    document
        .add(Section::new("record", say("record-sheet"), record(sheet, stations)).on_new_page());
    let note = Block::Say(say("corrective-note").to_owned());
    let table = Block::Table(corrective(sheet));
    document.add(Section::new("corrective", say("corrective"), vec![note, table]).on_new_page());
    questions::add(document, job, sheet);
    document.add(kinds::cautions(sheet));
    let sign = [
        Block::Say(say("sign-text").to_owned()),
        Block::Sign(vec![say("signed-lead"), say("date")]),
        Block::Sign(vec![say("signed-teacher"), say("date")]),
    ];
    document.add(Section::new("sign", say("sign-off"), sign.into()));
    document.add(kinds::sources(sheet));
}

/// One objective for each stage that the plan has.
fn objectives(sheet: &Sheet) -> Vec<String> {
    let has = |stages: &[Stage]| sheet.entries().any(|entry| stages.contains(&entry.stage));
    [
        ("objective-plan", true),
        ("objective-thaw", has(&[Stage::Thaw])),
        ("objective-brine", has(&[Stage::Brine])),
        ("objective-clean", has(&[Stage::Prepare])),
        ("objective-doneness", has(&[Stage::Doneness])),
        ("objective-hold", has(&[Stage::Serve])),
        ("objective-gravy", has(&[Stage::Gravy])),
        ("objective-leftovers", has(&[Stage::Leftovers])),
    ]
    .into_iter()
    .filter(|goal| goal.1)
    .map(|(key, _)| say(key).to_owned())
    .collect()
}

fn lessons(job: &Job<'_>, sheet: &Sheet) -> Vec<Block> {
    let Some(class) = &job.order.class else {
        return Vec::new();
    };
    let blocks = class.lessons.iter().map(|lesson| {
        let (first, last) = (lesson.from.shown(sheet.clock), lesson.to.clock(sheet.clock));
        fill("days", &[("first", &first), ("last", &last)])
    });
    vec![Block::List(blocks.collect())]
}

/// What a station has of a line: its share of a sum, or as many pieces as it has birds.
pub(crate) fn at_each(
    line: &ShoppingItem,
    stations: u32,
    birds: u32,
) -> Option<(Option<u32>, Amount)> {
    let amount = line.amount.as_ref()?;
    Some(match line.pieces {
        Some(_) => (Some(birds), amount.clone()),
        None => (None, share(amount, stations)),
    })
}

fn share(amount: &Amount, stations: u32) -> Amount {
    let below = i64::from(stations.max(1));
    match amount {
        Amount::Mass(mass) => Amount::Mass(mass.times_ratio(1, below)),
        Amount::Volume(volume) => Amount::Volume(volume.times_ratio(1, below)),
        Amount::Count { count } => Amount::Count {
            count: count.div_ceil(stations.max(1)),
        },
    }
}

/// "6 × 1.69 gal", or the amount alone.
fn several(pieces: Option<u32>, amount: &Amount, units: UnitSystem) -> String {
    let amount = shown(amount, units);
    match pieces {
        Some(count) if count > 1 => format!("{count} × {amount}"),
        _ => amount,
    }
}

fn mise(job: &Job<'_>, sheet: &Sheet) -> Table {
    let (stations, birds) = job.stations();
    let plan = &job.plan.answer;
    let mut rows = vec![vec![
        say("birds-item").to_owned(),
        birds.to_string(),
        job.birds().to_string(),
    ]];
    for (key, each) in EQUIPMENT {
        let all = each * stations;
        rows.push(vec![say(key).to_owned(), each.to_string(), all.to_string()]);
    }
    for line in &plan.shopping {
        let (Some(all), Some((pieces, each))) = (&line.amount, at_each(line, stations, birds))
        else {
            continue;
        };
        // A count of things to buy is no amount to share out.
        if matches!(all, Amount::Count { .. }) {
            continue;
        }
        rows.push(vec![
            clean(&line.item),
            several(pieces, &each, sheet.units),
            several(line.pieces, all, sheet.units),
        ]);
    }
    Table {
        class: "mise",
        columns: vec![say("item"), say("each-station"), say("all-stations")],
        rows,
        boxes: true,
    }
}

/// Every blank of the plan with the step it belongs to.
pub(crate) fn checks(sheet: &Sheet) -> impl Iterator<Item = (&crate::entry::Entry, &Blank)> {
    sheet
        .entries()
        .flat_map(|entry| entry.records.iter().map(move |record| (entry, record)))
}

fn record(sheet: &Sheet, stations: u32) -> Vec<Block> {
    let mut blocks = vec![Block::Say(say("record-note").to_owned())];
    for (entry, blank) in checks(sheet) {
        let when = entry.start.shown(sheet.clock);
        let head = fill(
            "record-head",
            &[
                ("number", &entry.number),
                ("what", &blank.what),
                ("when", &when),
            ],
        );
        blocks.push(Block::Heading(head));
        let rows = (1..=stations).map(|station| {
            let mut row = vec![station.to_string(), blank.limit.clone()];
            row.extend([String::new(), String::new()]);
            row.push(say("meets-or-fails").to_owned());
            row.push(String::new());
            row
        });
        blocks.push(Block::Table(Table {
            class: "record",
            columns: [
                "station-head",
                "limit",
                "time",
                "temperature",
                "verdict",
                "initials",
            ]
            .map(say)
            .to_vec(),
            rows: rows.collect(),
            boxes: false,
        }));
    }
    blocks
}

fn corrective(sheet: &Sheet) -> Table {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (_, blank) in checks(sheet) {
        let action = told(&blank.otherwise, sheet.units);
        // Checks that share limit and action stand in one row.
        match rows
            .iter_mut()
            .find(|row| row[1] == blank.limit && row[2] == action)
        {
            Some(row) => row[0] = format!("{}; {}", row[0], blank.what),
            None => rows.push(vec![
                blank.what.clone(),
                blank.limit.clone(),
                action,
                String::new(),
                String::new(),
            ]),
        }
    }
    Table {
        class: "corrective",
        columns: ["check", "limit", "when-it-fails", "what-was-done", "again"]
            .map(say)
            .to_vec(),
        rows,
        boxes: false,
    }
}
