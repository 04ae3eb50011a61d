//! Sheets as text and Markdown, as a reader sees them.

mod common;

use common::{SUPPER, TOO_LATE, planned, sheet, small};
use poulter_worksheet::Format;

/// Only the letters and digits: line breaks and escapes differ by format, the words must be there all the same.
fn words(text: &str) -> String {
    let text = text.replace("\r\n ", "").replace("\\n", " ");
    let text = ["&#39;", "&quot;", "&lt;", "&gt;", "&amp;"]
        .iter()
        .fold(text, |text, entity| text.replace(entity, ""));
    text.to_lowercase()
        .chars()
        .filter(|c| c.is_alphanumeric())
        .collect()
}

/// The formats that are text, all but the table.
const TEXTS: [Format; 4] = [
    Format::Text,
    Format::Markdown,
    Format::Html,
    Format::Icalendar,
];

#[test]
fn a_small_plan_as_text() {
    insta::assert_snapshot!(sheet(&small(), Format::Text));
}

#[test]
fn a_small_plan_as_markdown() {
    insta::assert_snapshot!(sheet(&small(), Format::Markdown));
}

#[test]
fn text_fits_80_columns() {
    for order in [SUPPER, TOO_LATE] {
        let text = sheet(&planned(order), Format::Text);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

#[test]
fn every_step_record_rule_and_caution_is_on_every_readable_sheet() {
    // In the source's own units the sentences stay as the plan has them.
    let plan = planned(&SUPPER.replace("\"metric\"", "\"us-customary\""));
    for format in [Format::Text, Format::Markdown, Format::Html] {
        let written = words(&sheet(&plan, format));
        let has = |text: &str| assert!(written.contains(&words(text)), "{}: {text}", format.name());
        has(&plan.answer.title);
        for step in &plan.answer.steps {
            has(&step.title);
            // 82 °C is 179.6 °F; the rule prints Celsius alone.
            let own =
                |text: &String| text.replace("82 °C to 95 °C", "180 °F to 203 °F (82 °C to 95 °C)");
            step.to_do.iter().for_each(|text| has(&own(text)));
            step.record.iter().for_each(|record| has(&record.limit));
        }
        plan.answer
            .findings
            .iter()
            .for_each(|finding| has(&finding.text));
        plan.answer
            .chains
            .iter()
            .skip(1)
            .for_each(|chain| has(&chain.reason));
        plan.answer.shopping.iter().for_each(|line| has(&line.item));
        plan.assumed
            .iter()
            .chain(&plan.cautions)
            .for_each(|text| has(text));
        for citation in &plan.citations {
            has(&citation.rule);
            has(citation.status.words());
            citation.sources.iter().for_each(|source| has(source));
        }
    }
}

#[test]
fn what_is_not_possible_is_said_first_with_the_reasons_and_the_changes() {
    let plan = planned(TOO_LATE);
    assert!(!plan.answer.feasible);
    for format in TEXTS {
        let written = words(&sheet(&plan, format));
        let no = if format == Format::Icalendar {
            "No safe plan"
        } else {
            "Not possible as asked"
        };
        let said = written
            .find(&words(no))
            .unwrap_or_else(|| panic!("{}", format.name()));
        for change in &plan.answer.changes {
            let at = written
                .find(&words(&change.change))
                .unwrap_or_else(|| panic!("{}", change.change));
            assert!(said < at, "{}", format.name());
        }
        for chain in &plan.answer.chains {
            let reason = words(&chain.reason);
            assert!(written.contains(&reason), "{}: {reason}", format.name());
        }
        assert!(!written.contains(&words("Timeline")), "{}", format.name());
    }
}

#[test]
fn steps_name_their_bird_and_their_oven_and_nothing_is_certain() {
    let order = r#"
        serve_at = "2026-12-19T18:30[Europe/Lisbon]"
        now = "2026-12-19T08:00[Europe/Lisbon]"
        units = "metric"
        guests = { adults = 20 }
        [[birds]]
        name = "the large one"
        species = "turkey"
        mass = "6 kg"
        state = "thawed"
        [[birds]]
        name = "the pair"
        species = "chicken"
        count = 2
        mass = "1.8 kg"
        state = "thawed"
        [methods]
        brine = "none"
        [kitchen]
        ovens = [{ name = "left oven" }, { name = "right oven" }]
    "#;
    let plan = planned(order);
    assert!(plan.answer.feasible);
    let text = sheet(&plan, Format::Text);
    for bird in ["the large one", "the pair"] {
        assert!(text.contains(&format!("Put the bird into the oven: {bird}")));
    }
    for oven in ["left oven", "right oven"] {
        assert!(text.contains(&format!("Needs  {oven}")), "{oven}");
    }
    // FSIS prints 325 °F beside 163 °C; 162.8 °C on a dial would be below it.
    assert!(text.contains("Set the oven to 163 °C"));

    let certain = poulter::units::Fraction::parse("100 %").unwrap();
    let mut plan = plan;
    plan.answer.on_time.as_mut().unwrap().probability = certain;
    let text = sheet(&plan, Format::Text);
    assert!(text.contains("over 99 % within 15 min") && !text.contains("100 %"));
}
