//! The sheet as `CommonMark` with tables.

use std::fmt::{self, Write as _};

use crate::sheet::{Entry, Sheet, Way};
use crate::words;

pub(crate) fn write(sheet: &Sheet) -> String {
    let mut out = format!("# {}\n\n", escape(&sheet.title));
    for (name, value) in &sheet.facts {
        add(&mut out, format_args!("- **{name}:** {}\n", escape(value)));
    }
    if !sheet.feasible {
        add(
            &mut out,
            format_args!(
                "\n## {}\n\n{}\n",
                words::NOT_POSSIBLE,
                words::NOT_POSSIBLE_WHY
            ),
        );
        add(&mut out, format_args!("\n## {}\n\n", words::CHANGES));
        if sheet.changes.is_empty() {
            add(&mut out, format_args!("{}\n", words::NO_CHANGE));
        }
        for (index, change) in sheet.changes.iter().enumerate() {
            add(
                &mut out,
                format_args!("{}. {}\n", index + 1, escape(change)),
            );
        }
    }
    if !sheet.days.is_empty() {
        add(&mut out, format_args!("\n## {}\n", words::TIMELINE));
    }
    for day in &sheet.days {
        add(&mut out, format_args!("\n### {}\n", escape(&day.name)));
        for entry in &day.entries {
            step(&mut out, entry);
        }
    }
    if !sheet.shopping.is_empty() {
        add(&mut out, format_args!("\n## {}\n\n", words::SHOPPING));
        row(
            &mut out,
            &[words::ITEM, words::AMOUNT, words::NOTE].map(str::to_owned),
        );
        rule(&mut out, 3);
        for item in &sheet.shopping {
            row(
                &mut out,
                &[&item.item, &item.amount, &item.note].map(|text| escape(text)),
            );
        }
    }
    if !sheet.findings.is_empty() {
        add(&mut out, format_args!("\n## {}\n\n", words::FINDINGS));
        for finding in &sheet.findings {
            add(
                &mut out,
                format_args!("- **{}:** {}\n", finding.label, escape(&finding.text)),
            );
        }
    }
    if !(sheet.runners_up.is_empty() && sheet.fell_out.is_empty()) {
        add(&mut out, format_args!("\n## {}\n", sheet.ways_heading()));
        ways(&mut out, words::RUNNERS_UP, &sheet.runners_up);
        ways(&mut out, words::FELL_OUT, &sheet.fell_out);
    }
    list(&mut out, words::ASSUMED, &sheet.assumed);
    list(&mut out, words::CAUTIONS, &sheet.cautions);
    if !sheet.sources.is_empty() {
        add(&mut out, format_args!("\n## {}\n\n", words::SOURCES));
        row(
            &mut out,
            &["", words::RULE, words::SOURCE].map(str::to_owned),
        );
        rule(&mut out, 3);
        for source in &sheet.sources {
            let mut read = source
                .sources
                .iter()
                .map(|text| escape(text))
                .collect::<Vec<_>>()
                .join("; ");
            add(&mut read, format_args!(". {}.", escape(&source.read)));
            if !source.note.is_empty() {
                add(&mut read, format_args!(" {}", escape(&source.note)));
            }
            let name = format!("{} ({})", escape(&source.title), escape(&source.rule));
            row(&mut out, &[source.number.to_string(), name, read]);
        }
    }
    add(
        &mut out,
        format_args!(
            "\n{}: \\_\\_\\_\\_\\_\\_\\_\\_ {}: \\_\\_\\_\\_\n",
            words::SIGNED,
            words::DATE
        ),
    );
    out
}

fn step(out: &mut String, entry: &Entry) {
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
        (words::START, &entry.window),
        (words::TAKES, &entry.takes),
        (words::NEEDS, &entry.needs),
        (words::RULES, &entry.marks),
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
                words::TICK
            ),
        );
        for time in &repeat.times {
            add(out, format_args!("  - [ ] {time}\n"));
        }
    }
    if entry.records.is_empty() {
        return;
    }
    out.push('\n');
    let heads = [
        words::RECORD,
        words::LIMIT,
        words::OTHERWISE,
        words::TIME,
        words::TEMPERATURE,
        words::INITIALS,
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

fn ways(out: &mut String, name: &str, ways: &[Way]) {
    if ways.is_empty() {
        return;
    }
    add(out, format_args!("\n### {name}\n\n"));
    row(out, &[words::WAY, words::REASON].map(str::to_owned));
    rule(out, 2);
    for way in ways {
        row(out, &[escape(&way.shown()), escape(&way.reason)]);
    }
}

fn list(out: &mut String, name: &str, texts: &[String]) {
    if texts.is_empty() {
        return;
    }
    add(out, format_args!("\n## {name}\n\n"));
    for text in texts {
        add(out, format_args!("- {}\n", escape(text)));
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
