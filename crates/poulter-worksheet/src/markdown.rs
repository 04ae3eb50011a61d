//! The sheet as `CommonMark` with tables.

use std::fmt::{self, Write as _};

use crate::document::{Block, Document, Table};
use crate::entry::Entry;
use crate::sheet::Sheet;
use crate::words::{fill, say};

pub(crate) fn write(document: &Document, sheet: &Sheet) -> String {
    let mut out = format!("# {}\n\n", escape(&document.title));
    add(&mut out, format_args!("{}\n\n", escape(document.sort)));
    for (name, value) in &document.facts {
        add(&mut out, format_args!("- **{name}:** {}\n", escape(value)));
    }
    for section in &document.sections {
        add(&mut out, format_args!("\n## {}\n\n", section.name));
        for block in &section.blocks {
            write_block(&mut out, block, sheet);
        }
    }
    out
}

fn write_block(out: &mut String, block: &Block, sheet: &Sheet) {
    let mut items = |mark: &str, texts: &[String]| {
        for text in texts {
            add(out, format_args!("{mark} {}\n", escape(text)));
        }
    };
    match block {
        Block::Say(text) => add(out, format_args!("{}\n\n", escape(text))),
        Block::Heading(text) => add(out, format_args!("\n### {}\n\n", escape(text))),
        Block::List(texts) => items("-", texts),
        Block::Numbered(texts) => items("1.", texts),
        Block::Remarks(remarks) => {
            for remark in remarks {
                add(
                    out,
                    format_args!("- **{}:** {}\n", remark.label, escape(&remark.text)),
                );
            }
        }
        Block::Table(given) => table(out, given),
        // The steps say the same in words.
        Block::Overview => {}
        Block::Steps { blanks } => {
            for day in &sheet.days {
                add(out, format_args!("\n### {}\n", escape(&day.name)));
                for entry in &day.entries {
                    step(out, entry, *blanks);
                }
            }
        }
        Block::Cards(cards) => {
            for card in cards {
                add(out, format_args!("\n### {}\n\n", escape(&card.title)));
                for (name, value) in &card.lines {
                    add(out, format_args!("- {name}: {}\n", escape(value)));
                }
                for text in &card.to_do {
                    add(out, format_args!("- [ ] {}\n", escape(text)));
                }
            }
        }
        Block::Sources => sources(out, sheet),
        Block::Sign(names) => {
            for name in names {
                add(out, format_args!("{name}: \\_\\_\\_\\_\\_\\_\\_\\_ "));
            }
            out.push_str("\n\n");
        }
    }
}

fn table(out: &mut String, table: &Table) {
    out.push('\n');
    let heads: Vec<String> = table.columns.iter().map(|name| escape(name)).collect();
    row(out, &heads);
    rule(out, heads.len());
    for cells in &table.rows {
        let cells: Vec<String> = cells.iter().map(|cell| escape(cell)).collect();
        row(out, &cells);
    }
    out.push('\n');
}

fn sources(out: &mut String, sheet: &Sheet) {
    if let Some(day) = &sheet.sources.checked {
        add(
            out,
            format_args!("{}\n\n", escape(&fill("all-checked", &[("day", day)]))),
        );
    }
    for source in &sheet.sources.rules {
        let name = format!("{} ({})", escape(&source.title), escape(&source.rule));
        let read = escape(&source.read);
        let note = if source.note.is_empty() {
            String::new()
        } else {
            format!(" {}", escape(&source.note))
        };
        add(
            out,
            format_args!("- \\[{}\\] {name}. {read}.{note}\n", source.number),
        );
    }
    add(out, format_args!("\n### {}\n\n", say("references")));
    for (letter, book) in &sheet.sources.books {
        add(out, format_args!("- **{letter}** {}\n", escape(book)));
    }
}

fn step(out: &mut String, entry: &Entry, blanks: bool) {
    add(
        out,
        format_args!(
            "\n#### {} · {}. {}\n\n",
            entry.clock,
            entry.number,
            escape(&entry.title)
        ),
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
            add(out, format_args!("- {name}: {}\n", escape(value)));
        }
    }
    for text in &entry.to_do {
        add(out, format_args!("- [ ] {}\n", escape(text)));
    }
    if let Some(repeat) = &entry.repeat {
        add(
            out,
            format_args!(
                "- {}. {}:\n",
                escape(repeat.text.trim_end_matches('.')),
                say("tick-each-time")
            ),
        );
        for time in &repeat.times {
            add(out, format_args!("  - [ ] {time}\n"));
        }
    }
    if !blanks || entry.records.is_empty() {
        return;
    }
    out.push('\n');
    let heads = [
        say("record"),
        say("limit"),
        say("otherwise"),
        say("time"),
        say("temperature"),
        say("initials"),
    ];
    row(out, &heads.map(str::to_owned));
    rule(out, heads.len());
    for record in &entry.records {
        let [what, limit, otherwise] =
            [&record.what, &record.limit, &record.otherwise].map(|text| escape(text));
        row(
            out,
            &[
                what,
                limit,
                otherwise,
                String::new(),
                String::new(),
                String::new(),
            ],
        );
    }
}

fn add(out: &mut String, text: fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = out.write_fmt(text);
}

fn row(out: &mut String, cells: &[String]) {
    add(out, format_args!("| {} |\n", cells.join(" | ")));
}

fn rule(out: &mut String, columns: usize) {
    add(out, format_args!("|{}\n", "---|".repeat(columns)));
}

/// Text that Markdown shows as it is: no markup, link, list, table cell or HTML comes out of it.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    for (index, c) in text.chars().enumerate() {
        let anywhere = matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '#' | '&'
        );
        let at_start = index == 0 && matches!(c, '-' | '+' | '=');
        let after_number = index == digits && digits > 0 && matches!(c, '.' | ')');
        // A bare web address would turn into a link.
        let in_address = c == ':' && text.chars().skip(index + 1).take(2).eq("//".chars());
        if anywhere || at_start || after_number || in_address {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_given_turns_into_markup() {
        for (given, expected) in [
            (
                "<script>alert(1)</script>",
                r"\<script\>alert(1)\</script\>",
            ),
            ("a|b", r"a\|b"),
            ("*a* _b_ `c` [d](e)", r"\*a\* \_b\_ \`c\` \[d\](e)"),
            ("- item", r"\- item"),
            ("12. item", r"12\. item"),
            ("12.5 lb", r"12\.5 lb"),
            ("https://example.org", r"https\://example.org"),
            ("at 165 °F (74 °C).", "at 165 °F (74 °C)."),
        ] {
            assert_eq!(escape(given), expected);
        }
    }
}
