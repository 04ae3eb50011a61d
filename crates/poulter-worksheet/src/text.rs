//! The sheet as plain text of at most 80 columns.

use crate::sheet::{Entry, Sheet, Way};
use crate::words;

const COLUMNS: usize = 80;
/// Room for a clock time such as "12:30 pm" before the text of a step.
const MARGIN: usize = 10;
const BOX: &str = "[ ] ";

pub(crate) fn write(sheet: &Sheet) -> String {
    let mut out = String::new();
    line(&mut out, &words::SHEET.to_uppercase());
    wrapped(&mut out, "", &sheet.title);
    line(&mut out, &"=".repeat(COLUMNS));
    for (name, value) in &sheet.facts {
        wrapped(&mut out, &format!("{name:<MARGIN$}"), value);
    }
    if !sheet.feasible {
        heading(&mut out, words::NOT_POSSIBLE);
        wrapped(&mut out, "", words::NOT_POSSIBLE_WHY);
        heading(&mut out, words::CHANGES);
        if sheet.changes.is_empty() {
            wrapped(&mut out, "", words::NO_CHANGE);
        }
        for (index, change) in sheet.changes.iter().enumerate() {
            wrapped(&mut out, &format!("{}. ", index + 1), change);
        }
    }
    if !sheet.days.is_empty() {
        heading(&mut out, words::TIMELINE);
    }
    for day in &sheet.days {
        line(&mut out, "");
        line(&mut out, &day.name);
        line(&mut out, &"-".repeat(COLUMNS));
        for (index, entry) in day.entries.iter().enumerate() {
            if index > 0 {
                line(&mut out, "");
            }
            step(&mut out, entry);
        }
    }
    if !sheet.shopping.is_empty() {
        heading(&mut out, words::SHOPPING);
        for item in &sheet.shopping {
            let amount = if item.amount.is_empty() {
                String::new()
            } else {
                format!("{}  ", item.amount)
            };
            let note = if item.note.is_empty() {
                String::new()
            } else {
                format!(" ({})", item.note)
            };
            wrapped(&mut out, BOX, &format!("{amount}{}{note}", item.item));
        }
    }
    if !sheet.findings.is_empty() {
        heading(&mut out, words::FINDINGS);
        for finding in &sheet.findings {
            wrapped(
                &mut out,
                "- ",
                &format!("{}: {}", finding.label, finding.text),
            );
        }
    }
    if !(sheet.runners_up.is_empty() && sheet.fell_out.is_empty()) {
        heading(&mut out, sheet.ways_heading());
        ways(&mut out, words::RUNNERS_UP, &sheet.runners_up);
        ways(&mut out, words::FELL_OUT, &sheet.fell_out);
    }
    list(&mut out, words::ASSUMED, &sheet.assumed);
    list(&mut out, words::CAUTIONS, &sheet.cautions);
    if !sheet.sources.is_empty() {
        heading(&mut out, words::SOURCES);
        for source in &sheet.sources {
            let number = format!("[{}] ", source.number);
            wrapped(
                &mut out,
                &number,
                &format!("{} ({})", source.title, source.rule),
            );
            let indent = " ".repeat(number.len());
            for name in &source.sources {
                wrapped(&mut out, &indent, name);
            }
            wrapped(&mut out, &indent, &source.read);
            if !source.note.is_empty() {
                wrapped(&mut out, &indent, &source.note);
            }
        }
    }
    line(&mut out, "");
    line(
        &mut out,
        &format!(
            "{} ______________________________   {} ______________",
            words::SIGNED,
            words::DATE
        ),
    );
    out
}

fn step(out: &mut String, entry: &Entry) {
    let indent = " ".repeat(MARGIN);
    wrapped(
        out,
        &format!("{:<MARGIN$}", entry.clock),
        &format!("{}. {}", entry.number, entry.title),
    );
    for (name, value) in [
        (words::START, &entry.window),
        (words::TAKES, &entry.takes),
        (words::NEEDS, &entry.needs),
        (words::RULES, &entry.marks),
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
            &format!("{}. {}:", repeat.text.trim_end_matches('.'), words::TICK),
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
    if !entry.records.is_empty() {
        line(out, &format!("{indent}{}:", words::RECORD));
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
                &format!("{indent}  {}: ", words::OTHERWISE),
                &record.otherwise,
            );
        }
        let blanks = [words::TIME, words::TEMPERATURE, words::INITIALS]
            .map(|name| format!("{} ________", name.to_lowercase()));
        line(out, &format!("{indent}    {}", blanks.join("   ")));
    }
}

fn ways(out: &mut String, name: &str, ways: &[Way]) {
    if ways.is_empty() {
        return;
    }
    line(out, &format!("{name}:"));
    for way in ways {
        wrapped(out, "- ", &format!("{}: {}", way.shown(), way.reason));
    }
}

fn list(out: &mut String, name: &str, texts: &[String]) {
    if texts.is_empty() {
        return;
    }
    heading(out, name);
    for text in texts {
        wrapped(out, "- ", text);
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
