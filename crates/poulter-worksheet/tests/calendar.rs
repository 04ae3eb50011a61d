//! The calendar, by the rules of RFC 5545.

mod common;

use common::{SUPPER, TOO_LATE, planned, sheet, small};
use poulter::units::Duration;
use poulter_worksheet::Format;

fn unfolded(calendar: &str) -> Vec<String> {
    calendar
        .replace("\r\n ", "")
        .lines()
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_small_plan_line_by_line() {
    // Clocks in Lisbon go forward at 1:00 on 29 March 2026; 22:00 the evening before is 22:00 UTC, 18:30 is 17:30.
    let calendar = sheet(&small(), Format::Icalendar);
    assert_eq!(
        unfolded(&calendar)[..44],
        [
            "BEGIN:VCALENDAR",
            "VERSION:2.0",
            "PRODID:-//Poulter//Worksheet//EN",
            "CALSCALE:GREGORIAN",
            r#"NAME:Supper for "two" & <b>more</b>"#,
            r#"X-WR-CALNAME:Supper for "two" & <b>more</b>"#,
            "BEGIN:VEVENT",
            "UID:20260329T173000Z-duck-whole-thaw@poulter",
            "DTSTAMP:20260328T220000Z",
            "DTSTART:20260328T220000Z",
            r"SUMMARY:Thaw <script>alert(1)</script> in cold water\, covered\; then check",
            "DTEND:20260329T020000Z",
            r"DESCRIPTION:Start: any time from 8:00 pm to Sun 29 Mar 2026\, 12:30 am\nTakes: 3 h to 5 h\, likely 4 h\nNeeds: sink or tub\, a cook\nIt may be over at Sun 29 Mar 2026\, 2:00 am or last until Sun 29 Mar 2026\, 4:00 am\; this entry ends at the likely time.\n- Keep the bird | under *water*.\n- Every 30 min: change the water\nWrite down: Water\, core: at most 70 °F\nIf not: add ice",
            "CATEGORIES:Thaw",
            "TRANSP:OPAQUE",
            "BEGIN:VALARM",
            "ACTION:DISPLAY",
            r"DESCRIPTION:Begins now: Thaw <script>alert(1)</script> in cold water\, covered\; then check",
            "TRIGGER:PT0S",
            "END:VALARM",
            "BEGIN:VALARM",
            "ACTION:DISPLAY",
            "DESCRIPTION:change the water",
            "TRIGGER:PT30M",
            "REPEAT:8",
            "DURATION:PT30M",
            "END:VALARM",
            "END:VEVENT",
            "BEGIN:VEVENT",
            "UID:20260329T173000Z-duck-whole-thaw-check@poulter",
            "DTSTAMP:20260328T220000Z",
            "DTSTART:20260328T220000Z",
            r"SUMMARY:Check and write down: Water\, core",
            r"DESCRIPTION:Write down: Water\, core: at most 70 °F\nIf not: add ice",
            "CATEGORIES:Temperature record",
            "TRANSP:TRANSPARENT",
            "BEGIN:VALARM",
            "ACTION:DISPLAY",
            r"DESCRIPTION:Check now: Water\, core\, at most 70 °F",
            "TRIGGER:PT0S",
            "END:VALARM",
            "END:VEVENT",
            "BEGIN:VEVENT",
            "UID:20260329T173000Z-duck-whole-serving@poulter",
        ]
    );
}

#[test]
fn water_changes_fall_inside_the_step() {
    // In 5 h, at 30 min each, the water is changed nine times: the alarm and `again` more.
    for (high, again) in [
        ("30 min", None),
        ("31 min", Some(0)),
        ("60 min", Some(0)),
        ("61 min", Some(1)),
        ("5 h", Some(8)),
    ] {
        let mut plan = small();
        let duration = &mut plan.answer.steps[0].duration;
        duration.high = Duration::parse(high).unwrap();
        let calendar = sheet(&plan, Format::Icalendar);
        assert_eq!(
            calendar.contains("TRIGGER:PT30M"),
            again.is_some(),
            "{high}"
        );
        let repeats = again.filter(|again| *again > 0);
        let expected = repeats.map(|again| format!("REPEAT:{again}\r\n"));
        assert_eq!(calendar.contains("REPEAT:"), expected.is_some(), "{high}");
        assert!(
            expected.is_none_or(|line| calendar.contains(&line)),
            "{high}"
        );
    }
}

#[test]
fn lines_end_as_they_must_and_are_short() {
    // RFC 5545, section 3.1.
    for plan in [planned(SUPPER), planned(TOO_LATE), small()] {
        let calendar = sheet(&plan, Format::Icalendar);
        assert_eq!(
            calendar.matches('\n').count(),
            calendar.matches("\r\n").count()
        );
        assert!(calendar.ends_with("END:VCALENDAR\r\n"));
        assert!(calendar.split("\r\n").all(|line| line.len() <= 75));
    }
}

#[test]
fn blocks_are_closed_and_entries_have_what_they_must() {
    // RFC 5545, sections 3.6.1 and 3.6.6.
    for plan in [planned(SUPPER), planned(TOO_LATE), small()] {
        let mut open = Vec::new();
        let mut uids = Vec::new();
        for line in unfolded(&sheet(&plan, Format::Icalendar)) {
            if let Some(name) = line.strip_prefix("BEGIN:") {
                open.push(name.to_owned());
            } else if let Some(name) = line.strip_prefix("END:") {
                assert_eq!(open.pop().as_deref(), Some(name));
            } else if let Some(uid) = line.strip_prefix("UID:") {
                assert!(!uids.contains(&uid.to_owned()), "{uid}");
                uids.push(uid.to_owned());
            }
        }
        assert!(open.is_empty());
        assert!(!uids.is_empty());
        let lines = unfolded(&sheet(&plan, Format::Icalendar));
        for name in ["DTSTAMP:", "DTSTART:"] {
            assert_eq!(
                lines.iter().filter(|line| line.starts_with(name)).count(),
                uids.len()
            );
        }
    }
}

#[test]
fn a_plan_made_anew_keeps_the_names_of_its_entries() {
    let uids = |plan| -> Vec<String> {
        let lines = unfolded(&sheet(plan, Format::Icalendar));
        lines
            .into_iter()
            .filter(|line| line.starts_with("UID:"))
            .collect()
    };
    let mut later = small();
    let window = &mut later.answer.steps[0].window;
    window.planned = window.latest.clone();
    assert_eq!(uids(&small()), uids(&later));
}
