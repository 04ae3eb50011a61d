//! The sheet as plain text of at most 80 columns.

use crate::document::{Block, Card, Document, Table};
use crate::entry::Entry;
use crate::sheet::Sheet;
use crate::words::{fill, say};

const COLUMNS: usize = 80;
/// Room for a clock time such as "12:30 pm" before the text of a step.
const MARGIN: usize = 10;
const BLANK: &str = "________";
const BOX: &str = "[ ] ";

pub(crate) fn write(document: &Document, sheet: &Sheet) -> String {
    let mut out = String::new();
    line(&mut out, &document.sort.to_uppercase());
    wrapped(&mut out, "", &document.title);
    line(&mut out, &"=".repeat(COLUMNS));
    for (name, value) in &document.facts {
        wrapped(&mut out, &format!("{name:<MARGIN$}"), value);
    }
    for section in &document.sections {
        heading(&mut out, section.name);
        for block in &section.blocks {
            write_block(&mut out, block, sheet);
        }
    }
    out
}

fn write_block(out: &mut String, block: &Block, sheet: &Sheet) {
    match block {
        Block::Say(text) => wrapped(out, "", text),
        Block::Heading(text) => wrapped(out, "", &format!("{text}:")),
        Block::List(texts) => texts.iter().for_each(|text| wrapped(out, "- ", text)),
        Block::Numbered(texts) => {
            for (index, text) in texts.iter().enumerate() {
                wrapped(out, &format!("{}. ", index + 1), text);
            }
        }
        Block::Remarks(remarks) => {
            for remark in remarks {
                wrapped(out, "- ", &format!("{}: {}", remark.label, remark.text));
            }
        }
        Block::Table(table) => rows(out, table),
        // The steps say the same in words.
        Block::Overview => {}
        Block::Steps { blanks } => days(out, sheet, *blanks),
        Block::Cards(cards) => cards.iter().for_each(|it| card(out, it)),
        Block::Sources => sources(out, sheet),
        Block::Sign(names) => {
            line(out, "");
            let lines = names
                .iter()
                .map(|name| format!("{name} ____________________"));
            line(out, &lines.collect::<Vec<_>>().join("   "));
        }
    }
}

fn days(out: &mut String, sheet: &Sheet, blanks: bool) {
    for day in &sheet.days {
        line(out, "");
        line(out, &day.name);
        line(out, &"-".repeat(COLUMNS));
        for (index, entry) in day.entries.iter().enumerate() {
            if index > 0 {
                line(out, "");
            }
            step(out, entry, blanks);
        }
    }
}

/// A row of a table as a line: its first cell, then the others by name. Blanks become lines to write on.
fn rows(out: &mut String, table: &Table) {
    for row in &table.rows {
        let mark = if table.boxes { BOX } else { "- " };
        let mut text = row.first().cloned().unwrap_or_default();
        if table.class == "shopping" {
            let (amount, note) = (&row[1], &row[2]);
            if !amount.is_empty() {
                text = format!("{amount}  {text}");
            }
            if !note.is_empty() {
                text = format!("{text} ({note})");
            }
            wrapped(out, mark, &text);
            continue;
        }
        if matches!(table.class, "questions" | "answers") {
            wrapped(out, &format!("{text}. "), &row[1]);
            for (name, cell) in filled(table, row).skip(2) {
                let shown = if cell.is_empty() { BLANK } else { cell };
                wrapped(out, &format!("   {name}: "), shown);
            }
            continue;
        }
        if table.class == "ways" {
            wrapped(out, mark, &format!("{text}: {}", row[1]));
            continue;
        }
        for (name, cell) in filled(table, row).skip(1) {
            let shown = if cell.is_empty() { BLANK } else { cell };
            text = format!("{text} | {}: {shown}", name.to_lowercase());
        }
        wrapped(out, mark, &text);
    }
}

/// The cells of a row with their names, without those that say nothing.
fn filled<'t>(
    table: &'t Table,
    row: &'t [String],
) -> impl Iterator<Item = (&'static str, &'t String)> {
    let cells = table.columns.iter().copied().zip(row);
    cells.filter(|(_, cell)| table.has_blanks() || !cell.is_empty())
}

fn card(out: &mut String, card: &Card) {
    line(out, &"-".repeat(COLUMNS));
    wrapped(out, "", &card.title);
    for (name, value) in &card.lines {
        wrapped(out, &format!("  {name:<20} "), value);
    }
    for text in &card.to_do {
        wrapped(out, &format!("  {BOX}"), text);
    }
    line(out, &"-".repeat(COLUMNS));
}

fn sources(out: &mut String, sheet: &Sheet) {
    if let Some(day) = &sheet.sources.checked {
        wrapped(out, "", &fill("all-checked", &[("day", day)]));
    }
    for source in &sheet.sources.rules {
        let mut text = format!("{} ({}). {}.", source.title, source.rule, source.read);
        if !source.note.is_empty() {
            text = format!("{text} {}", source.note);
        }
        wrapped(out, &format!("[{}] ", source.number), &text);
    }
    line(out, "");
    for (letter, book) in &sheet.sources.books {
        wrapped(out, &format!("{letter}. "), book);
    }
}

fn step(out: &mut String, entry: &Entry, blanks: bool) {
    let indent = " ".repeat(MARGIN);
    wrapped(
        out,
        &format!("{:<MARGIN$}", entry.clock),
        &format!("{}. {}", entry.number, entry.title),
    );
    for (name, value) in [
        (say("start"), &entry.window),
        (say("takes"), &entry.takes),
        (say("needs"), &entry.needs),
        (say("slack"), &entry.slack),
        (say("by"), &entry.by.to_owned()),
        (say("rules"), &entry.marks),
    ] {
        if !value.is_empty() {
            wrapped(out, &format!("{indent}{name:<7}"), value);
        }
    }
    for text in &entry.to_do {
        wrapped(out, &format!("{indent}{BOX}"), text);
    }
    if let Some(repeat) = &entry.repeat {
        wrapped(
            out,
            &indent,
            &format!(
                "{}. {}:",
                repeat.text.trim_end_matches('.'),
                say("tick-each-time")
            ),
        );
        // A no-break space keeps each box with its time.
        let boxes: Vec<String> = repeat
            .times
            .iter()
            .map(|time| format!("[ ] {time}").replace(' ', "\u{a0}"))
            .collect();
        let mut ticks = String::new();
        wrapped(&mut ticks, &format!("{indent}  "), &boxes.join("  "));
        out.push_str(&ticks.replace('\u{a0}', " "));
    }
    if !blanks {
        return;
    }
    if !entry.records.is_empty() {
        line(out, &format!("{indent}{}:", say("record")));
    }
    for record in &entry.records {
        wrapped(
            out,
            &format!("{indent}  "),
            &format!("{}: {}", record.what, record.limit),
        );
        if !record.otherwise.is_empty() {
            wrapped(
                out,
                &format!("{indent}  {}: ", say("otherwise")),
                &record.otherwise,
            );
        }
        let blanks = [say("time"), say("temperature"), say("initials")]
            .map(|name| format!("{} ________", name.to_lowercase()));
        line(out, &format!("{indent}    {}", blanks.join("   ")));
    }
}

fn heading(out: &mut String, name: &str) {
    line(out, "");
    line(out, &name.to_uppercase());
}

fn line(out: &mut String, text: &str) {
    out.push_str(text.trim_end());
    out.push('\n');
}

/// Writes text in lines of at most 80 columns; the first begins with `prefix`, the others stand under its end.
fn wrapped(out: &mut String, prefix: &str, text: &str) {
    let indent = " ".repeat(prefix.chars().count());
    let mut current = prefix.to_owned();
    let mut width = indent.len();
    let mut empty = true;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let length = word.chars().count();
        if !empty && width + 1 + length > COLUMNS {
            line(out, &current);
            current.clone_from(&indent);
            width = indent.len();
            empty = true;
        }
        if !empty {
            current.push(' ');
            width += 1;
        }
        current.push_str(word);
        width += length;
        empty = false;
    }
    line(out, &current);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_at_the_last_column_and_not_before() {
        for (last, lines) in [(79 - 41, 1), (80 - 41, 1), (81 - 41, 2)] {
            let mut out = String::new();
            wrapped(
                &mut out,
                "",
                &format!("{} {}", "é".repeat(40), "x".repeat(last)),
            );
            assert_eq!(out.lines().count(), lines, "{out}");
        }
    }

    #[test]
    fn a_word_longer_than_the_page_is_kept_whole() {
        let mut out = String::new();
        wrapped(&mut out, "- ", &"x".repeat(100));
        assert_eq!(out.trim_end(), format!("- {}", "x".repeat(100)));
    }
}
