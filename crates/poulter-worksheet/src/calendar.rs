//! The sheet as a calendar (RFC 5545), written so that the same plan gives the same bytes.
//!
//! Times are in UTC, which every calendar shows in the reader's own zone and which needs no table of clock changes.
//! A `UID` is made of the serving time, the bird and the step, so a plan made anew replaces its own entries. `DTSTAMP`
//! is the start of the first step: a plan made anew part-way starts later, and so counts as newer.

use poulter::plan::Moment;
use poulter::units::Duration;

use crate::Kind;
use crate::entry::{Blank, Entry};
use crate::labels;
use crate::sheet::{Job, Sheet};
use crate::words::{self, fill, say};

/// RFC 5545 section 3.1: lines should not be longer than 75 octets, without the line break.
const LONGEST_LINE: usize = 75;

pub(crate) fn write(job: &Job<'_>, sheet: &Sheet, kind: Kind) -> String {
    let stamp = sheet
        .entries()
        .map(|entry| &entry.start)
        .min()
        .unwrap_or(&sheet.serve_at);
    let mut calendar = Calendar {
        out: String::new(),
        stamp: utc(stamp),
    };
    for (name, value) in [
        ("BEGIN", "VCALENDAR"),
        ("VERSION", "2.0"),
        ("PRODID", "-//Poulter//Worksheet//EN"),
        ("CALSCALE", "GREGORIAN"),
    ] {
        calendar.line(name, value);
    }
    // RFC 7986 section 5.1 names a calendar so; many programs read the older property.
    calendar.text("NAME", &sheet.title);
    calendar.text("X-WR-CALNAME", &sheet.title);
    let uid = |part: &str| format!("{}-{}-{part}@poulter", utc(&sheet.serve_at), sheet.subject);
    if kind == Kind::Labels {
        for label in labels::labels(job, sheet) {
            let until = [
                ("eat", &label.eat_by, labels::eat(&label)),
                ("discard", &label.discard_after, labels::discard(&label)),
            ];
            for (part, at, text) in until {
                calendar.keep(&uid(&format!("{part}-{}", label.id)), at, &text);
            }
        }
        if !sheet.feasible {
            calendar.serving(sheet, &uid("serving"));
        }
    } else {
        for entry in sheet.entries() {
            calendar.step(entry, sheet, &uid(&entry.id));
            calendar.check(entry, &uid(&format!("{}-check", entry.id)));
        }
        calendar.serving(sheet, &uid("serving"));
    }
    calendar.line("END", "VCALENDAR");
    calendar.out
}

struct Calendar {
    out: String,
    stamp: String,
}

impl Calendar {
    fn step(&mut self, entry: &Entry, sheet: &Sheet, uid: &str) {
        self.begin(uid, &entry.start, &entry.title);
        // An entry must end after it starts (RFC 5545 section 3.6.1); one without an end is a moment.
        if entry.duration.likely > Duration::ZERO {
            self.line("DTEND", &utc(&entry.start.after(entry.duration.likely)));
        }
        self.text("DESCRIPTION", &description(entry, sheet));
        self.text("CATEGORIES", words::stage(entry.stage));
        self.line(
            "TRANSP",
            if entry.needs_cook {
                "OPAQUE"
            } else {
                "TRANSPARENT"
            },
        );
        let begins = format!("{}: {}", say("begins"), entry.title);
        self.alarm(Duration::ZERO, None, &begins);
        if let Some(repeat) = &entry.repeat {
            self.alarm(repeat.every, Some(repeat.count - 1), &repeat.what);
        }
        self.line("END", "VEVENT");
    }

    /// The temperature checks of a step as an entry of its own, with an alarm.
    fn check(&mut self, entry: &Entry, uid: &str) {
        if entry.records.is_empty() {
            return;
        }
        let mut what: Vec<&str> = Vec::new();
        for record in &entry.records {
            if !what.contains(&record.what.as_str()) {
                what.push(&record.what);
            }
        }
        let title = fill("check-event", &[("what", &what.join("; "))]);
        self.begin(uid, &entry.start, &title);
        let lines: Vec<String> = entry.records.iter().map(with_action).collect();
        self.text("DESCRIPTION", &lines.join("\n"));
        self.text("CATEGORIES", say("record-sheet"));
        self.line("TRANSP", "TRANSPARENT");
        let now: Vec<String> = entry.records.iter().map(check_now).collect();
        self.alarm(Duration::ZERO, None, &now.join("\n"));
        self.line("END", "VEVENT");
    }

    /// A date on a label.
    fn keep(&mut self, uid: &str, at: &Moment, text: &str) {
        self.begin(uid, at, text);
        self.text("DESCRIPTION", say("labels-note"));
        self.line("TRANSP", "TRANSPARENT");
        self.alarm(Duration::ZERO, None, text);
        self.line("END", "VEVENT");
    }

    fn serving(&mut self, sheet: &Sheet, uid: &str) {
        if !sheet.feasible {
            let mut lines = vec![
                say("not-possible-why").to_owned(),
                format!("{}:", say("changes")),
            ];
            if sheet.changes.is_empty() {
                lines.push(say("no-change").to_owned());
            }
            lines.extend(sheet.changes.iter().map(|change| format!("- {change}")));
            lines.push(format!("{}:", say("why-not")));
            lines.extend(
                sheet
                    .fell_out
                    .iter()
                    .map(|way| format!("- {}: {}", way.shown(), way.reason)),
            );
            self.begin(
                uid,
                &sheet.serve_at,
                &fill("no-safe-plan", &[("title", &sheet.title)]),
            );
            self.text("DESCRIPTION", &lines.join("\n"));
        } else if sheet.entries().all(|entry| entry.start != sheet.serve_at) {
            self.begin(
                uid,
                &sheet.serve_at,
                &format!("{}: {}", say("serve"), sheet.title),
            );
            self.text("DESCRIPTION", &sheet.cautions.join("\n"));
            self.alarm(Duration::ZERO, None, say("serve"));
        } else {
            return;
        }
        self.line("TRANSP", "TRANSPARENT");
        self.line("END", "VEVENT");
    }

    fn begin(&mut self, uid: &str, start: &Moment, summary: &str) {
        self.line("BEGIN", "VEVENT");
        self.text("UID", uid);
        let stamp = self.stamp.clone();
        self.line("DTSTAMP", &stamp);
        self.line("DTSTART", &utc(start));
        self.text("SUMMARY", summary);
    }

    /// An alarm some time after the start, and `again` times more at the same distance.
    fn alarm(&mut self, after_start: Duration, again: Option<i64>, text: &str) {
        self.line("BEGIN", "VALARM");
        self.line("ACTION", "DISPLAY");
        self.text("DESCRIPTION", text);
        self.line("TRIGGER", &period(after_start));
        if let Some(again) = again.filter(|again| *again > 0) {
            self.line("REPEAT", &again.to_string());
            self.line("DURATION", &period(after_start));
        }
        self.line("END", "VALARM");
    }

    fn text(&mut self, name: &str, text: &str) {
        self.line(name, &escape(text));
    }

    fn line(&mut self, name: &str, value: &str) {
        fold(&mut self.out, &format!("{name}:{value}"));
    }
}

fn description(entry: &Entry, sheet: &Sheet) -> String {
    let mut lines = Vec::new();
    for (name, value) in [
        (say("start"), &entry.window),
        (say("takes"), &entry.takes),
        (say("needs"), &entry.needs),
    ] {
        if !value.is_empty() {
            lines.push(format!("{name}: {value}"));
        }
    }
    if entry.duration.low < entry.duration.high {
        let over = |time| entry.start.after(time).shown(sheet.clock);
        let (low, high) = (over(entry.duration.low), over(entry.duration.high));
        lines.push(fill("range-alarm", &[("low", &low), ("high", &high)]));
    }
    lines.extend(entry.to_do.iter().map(|text| format!("- {text}")));
    lines.extend(
        entry
            .repeat
            .iter()
            .map(|repeat| format!("- {}", repeat.text)),
    );
    lines.extend(entry.records.iter().map(with_action));
    lines.join("\n")
}

fn with_action(record: &Blank) -> String {
    let text = format!("{}: {}: {}", say("record"), record.what, record.limit);
    if record.otherwise.is_empty() {
        return text;
    }
    format!("{text}\n{}: {}", say("otherwise"), record.otherwise)
}

fn check_now(record: &Blank) -> String {
    fill(
        "check-now",
        &[("what", &record.what), ("limit", &record.limit)],
    )
}

fn utc(moment: &Moment) -> String {
    moment
        .zoned()
        .timestamp()
        .strftime("%Y%m%dT%H%M%SZ")
        .to_string()
}

/// A duration as RFC 5545 section 3.3.6 has it.
fn period(duration: Duration) -> String {
    let milliseconds = duration.steps();
    if milliseconds % 60_000 == 0 && milliseconds > 0 {
        format!("PT{}M", milliseconds / 60_000)
    } else {
        format!("PT{}S", milliseconds / 1000)
    }
}

/// RFC 5545 section 3.3.11.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            _ => out.push(c),
        }
    }
    out
}

/// Writes a content line, broken so that no part is longer than 75 octets and no character is split.
fn fold(out: &mut String, line: &str) {
    let mut width = 0;
    for c in line.chars() {
        if width + c.len_utf8() > LONGEST_LINE {
            out.push_str("\r\n ");
            width = 1;
        }
        out.push(c);
        width += c.len_utf8();
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folded(line: &str) -> String {
        let mut out = String::new();
        fold(&mut out, line);
        out
    }

    #[test]
    fn lines_fold_after_75_octets() {
        for (length, lines) in [(74, 1), (75, 1), (76, 2), (75 + 74, 2), (75 + 75, 3)] {
            let line = "x".repeat(length);
            let out = folded(&line);
            assert_eq!(out.matches("\r\n").count(), lines, "{length}");
            assert_eq!(out.replace("\r\n ", "").trim_end(), line);
        }
    }

    #[test]
    fn folding_splits_no_character() {
        // "°" is two octets: at 74 it would straddle the edge, so it moves to the next line whole.
        for (before, first) in [(73, 75), (74, 74), (75, 75)] {
            let line = format!("{}°C", "x".repeat(before));
            let out = folded(&line);
            assert_eq!(
                out.split("\r\n").next().map(str::len),
                Some(first),
                "{before}"
            );
            assert_eq!(out.replace("\r\n ", "").trim_end(), line);
        }
    }

    #[test]
    fn text_is_escaped() {
        assert_eq!(escape("a, b; c\\d\ne: f"), "a\\, b\\; c\\\\d\\ne: f");
    }

    #[test]
    fn periods_are_whole_minutes_where_they_can_be() {
        for (given, expected) in [
            ("0 s", "PT0S"),
            ("90 s", "PT90S"),
            ("30 min", "PT30M"),
            ("3 d", "PT4320M"),
        ] {
            assert_eq!(period(Duration::parse(given).unwrap()), expected);
        }
    }
}
