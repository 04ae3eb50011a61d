//! The built-in rules against their sources: citations, tables, limits and the days on which they hold.

use std::collections::BTreeSet;

use poulter::bird::{Cut, Species};
use poulter::rules::{
    Case, Comparison, MassRow, Requirement, Rule, RuleKind, Rulebook, Status, TemperatureLimit,
    TimeLimit, Topic, Verdict,
};
use poulter::units::{Duration, Mass, Temperature, TemperatureUnit};

fn book() -> &'static Rulebook {
    let book = Rulebook::builtin();
    assert!(!book.rules().is_empty(), "the built-in files do not load");
    book
}

fn case_of(rule: &Rule) -> Case<'_> {
    Case {
        standard: rule.standard(),
        species: *rule.applies_to.species.first().unwrap_or(&Species::Turkey),
        cut: *rule.applies_to.cut.first().unwrap_or(&Cut::Whole),
        state: rule.applies_to.state.first().copied(),
        process: rule.applies_to.process.first().map(String::as_str),
        on: rule.effective_to,
    }
}

#[test]
fn every_rule_says_where_it_stands_and_how_it_was_read() {
    let keys: BTreeSet<_> = book().sources().map(|source| source.key.as_str()).collect();
    for rule in book().rules() {
        let custom = rule.kind == RuleKind::CommonPractice;
        assert_eq!(custom, rule.status == Status::CommonPractice, "{}", rule.id);
        assert_eq!(custom, rule.cites.is_empty(), "{}", rule.id);
        assert_eq!(custom, rule.standard() == "kitchen-practice", "{}", rule.id);
        for cite in &rule.cites {
            assert!(
                keys.contains(cite.source.as_str()),
                "{}: {}",
                rule.id,
                cite.source
            );
        }
        assert!(rule.last_checked.year() >= 2026, "{}", rule.id);
        assert!(!rule.title.is_empty(), "{}", rule.id);
        assert!(!book().cite(rule).last_checked.is_empty(), "{}", rule.id);
    }
}

#[test]
fn every_source_is_cited_and_named() {
    let cited: BTreeSet<_> = (book().rules().iter())
        .flat_map(|rule| rule.cites.iter().map(|cite| cite.source.as_str()))
        .collect();
    for source in book().sources() {
        assert!(
            cited.contains(source.key.as_str()),
            "{} is never cited",
            source.key
        );
        assert!(
            !source.publisher.is_empty() && !source.title.is_empty(),
            "{}",
            source.key
        );
    }
}

#[test]
fn every_rule_with_the_plain_id_or_a_process_word_is_the_one_found() {
    for rule in book().rules() {
        let plain = rule.id == format!("{}.{}", rule.standard(), rule.topic.name());
        // Of two rows for one process the first is used, and the other kept to show the conflict.
        let first = (book().rules().iter())
            .find(|other| {
                (other.standard(), other.topic) == (rule.standard(), rule.topic)
                    && other.applies_to == rule.applies_to
            })
            .is_some_and(|other| other.id == rule.id);
        if plain || first && !rule.applies_to.process.is_empty() {
            let found = book()
                .find(rule.topic, &case_of(rule))
                .map(|found| &found.id);
            assert_eq!(found, Some(&rule.id));
        }
    }
}

#[test]
fn two_numbers_for_one_question_come_with_a_sentence() {
    for rule in book().rules() {
        let plain = format!("{}.{}", rule.standard(), rule.topic.name());
        let Ok(first) = book().rule(&plain) else {
            continue;
        };
        let (one, two) = (&first.requirement, &rule.requirement);
        let same_shape = match (one, two) {
            (Requirement::Do { .. } | Requirement::Never { .. }, _) => false,
            (Requirement::Keep { keeping: a, .. }, Requirement::Keep { keeping: b, .. }) => a == b,
            _ => std::mem::discriminant(one) == std::mem::discriminant(two),
        };
        if same_shape && one != two && first.applies_to == rule.applies_to {
            assert!(
                !first.note.is_empty() || !rule.note.is_empty(),
                "{plain} and {} differ without a word",
                rule.id
            );
        }
    }
}

#[test]
fn a_whole_turkey_has_an_answer_to_every_question_but_those_without_a_published_row() {
    let silent: Vec<_> = (Topic::ALL.iter())
        .filter(|&&topic| {
            let case = Case::whole_turkey("us-food-code-2022");
            book().find(topic, &case).is_none()
        })
        .map(|topic| topic.name())
        .collect();
    // No official or customary row for simmering a whole turkey; the refusals of methods and of brining name the
    // process that they are for.
    assert_eq!(
        silent,
        [
            "brine.salted-bird",
            "simmer.time",
            "cook.cut",
            "cook.stuffed",
            "cook.frozen"
        ]
    );
}

fn rows_of(rule: &Rule) -> &[MassRow] {
    match &rule.requirement {
        Requirement::TimeByMass { rows, .. } => rows,
        _ => &[],
    }
}

#[test]
fn rows_ascend_without_overlap_and_keep_low_below_high() {
    for rule in book().rules() {
        let rows = rows_of(rule);
        for row in rows {
            assert!(row.from <= row.to && row.low <= row.high, "{}", rule.id);
        }
        for pair in rows.windows(2) {
            assert!(pair[0].to <= pair[1].from, "{}", rule.id);
        }
    }
}

#[test]
fn ranges_run_upwards() {
    for rule in book().rules() {
        let upwards = match &rule.requirement {
            Requirement::TimeRange {
                low,
                high,
                setting,
                setting_high,
            } => {
                low <= high && setting_high.is_none_or(|high| setting.is_some_and(|low| low < high))
            }
            Requirement::Keep { low, high, .. } => low <= high,
            Requirement::TimePerMass {
                time,
                time_high,
                from,
                to,
                ..
            } => {
                time_high.is_none_or(|high| *time < high)
                    && to.is_none_or(|to| from.is_none_or(|from| from < to))
            }
            Requirement::MassPerPerson { low, high } => low <= high,
            Requirement::VolumePerPerson { low, high } => low <= high,
            Requirement::Share { low, high } => low <= high,
            Requirement::MassLimit { from, to } => from.is_none_or(|from| from < *to),
            Requirement::StagedCooling { stages } => {
                stages.iter().all(|stage| stage.from > stage.to.temperature)
                    && stages
                        .windows(2)
                        .all(|pair| pair[0].to.temperature == pair[1].from)
            }
            Requirement::MinimumTemperature { equivalents, .. } => {
                equivalents.windows(2).all(|pair| {
                    pair[0].temperature < pair[1].temperature && pair[0].hold >= pair[1].hold
                })
            }
            _ => true,
        };
        assert!(upwards, "{}", rule.id);
        if let (Some(from), Some(to)) = (rule.effective_from, rule.effective_to) {
            assert!(from <= to, "{}", rule.id);
        }
    }
}

/// Pounds from, pounds to, shorter and longer time in `unit`.
fn assert_table(id: &str, unit: &str, cells: &[(f64, f64, f64, f64)]) {
    let rule = book().rule(id).unwrap_or_else(|error| panic!("{error}"));
    let rows = rows_of(rule);
    assert_eq!(rows.len(), cells.len(), "{id}");
    for (row, &(from, to, low, high)) in rows.iter().zip(cells) {
        let mass = |pounds: f64| Mass::from_pounds(pounds).unwrap();
        let time = |value: f64| Duration::parse(&format!("{value} {unit}")).unwrap();
        assert_eq!((row.from, row.to), (mass(from), mass(to)), "{id}");
        assert_eq!(
            (row.low, row.high),
            (time(low), time(high)),
            "{id}, from {from} lb"
        );
    }
}

#[test]
fn thawing_cells_are_those_of_the_agency() {
    // FSIS, Turkey Basics: Safe Thawing, whole turkey: refrigerator (days), cold water (hours).
    assert_table(
        "us-consumer.thaw.refrigerator",
        "d",
        &[
            (4.0, 12.0, 1.0, 3.0),
            (12.0, 16.0, 3.0, 4.0),
            (16.0, 20.0, 4.0, 5.0),
            (20.0, 24.0, 5.0, 6.0),
        ],
    );
    assert_table(
        "us-consumer.thaw.cold-water",
        "h",
        &[
            (4.0, 12.0, 2.0, 6.0),
            (12.0, 16.0, 6.0, 8.0),
            (16.0, 20.0, 8.0, 10.0),
            (20.0, 24.0, 10.0, 12.0),
        ],
    );
}

#[test]
fn thawing_tables_meet_the_rules_by_the_pound_at_every_edge() {
    // The same page prints 24 h for each 4 (to 5) lb and 30 min a pound.
    for (table, rate) in [
        (
            "us-consumer.thaw.refrigerator",
            "us-consumer.thaw.refrigerator.per-mass",
        ),
        (
            "us-consumer.thaw.cold-water",
            "us-consumer.thaw.cold-water.per-mass",
        ),
    ] {
        let Requirement::TimePerMass { time, per, .. } = book().rule(rate).unwrap().requirement
        else {
            panic!("{rate} is no rate");
        };
        let at = |mass: Mass| time.times_ratio(mass.steps(), per.steps());
        for row in rows_of(book().rule(table).unwrap()) {
            assert_eq!((row.low, row.high), (at(row.from), at(row.to)), "{table}");
        }
    }
}

#[test]
fn the_quick_end_of_the_rule_by_the_pound_is_shorter_than_the_table() {
    // The same page, 24 h for each 5 lb: 19.2, 38.4, 57.6, 76.8, 96 and 115.2 h.
    let quick = "us-consumer.thaw.refrigerator.per-mass.quick";
    for (pounds, hours) in [
        (4.0, 19.2),
        (8.0, 38.4),
        (12.0, 57.6),
        (16.0, 76.8),
        (20.0, 96.0),
        (24.0, 115.2),
    ] {
        let mass = Mass::from_pounds(pounds).unwrap();
        let quick = book().rule(quick).unwrap();
        let time = quick.requirement.time_for(mass).unwrap();
        assert_eq!(time.likely.as_hours(), hours, "{pounds} lb");
        let table = book().rule("us-consumer.thaw.refrigerator").unwrap();
        assert!(time.high < table.requirement.time_for(mass).unwrap().high);
    }
}

#[test]
fn roasting_cells_are_those_of_the_agency() {
    // FSIS, Turkey Basics: Safe Cooking, 325 °F, hours; 2¾ is 2.75.
    let unstuffed = [
        (8.0, 12.0, 2.75, 3.0),
        (12.0, 14.0, 3.0, 3.75),
        (14.0, 18.0, 3.75, 4.25),
        (18.0, 20.0, 4.25, 4.5),
        (20.0, 24.0, 4.5, 5.0),
    ];
    assert_table("us-consumer.roast.time-unstuffed", "h", &unstuffed);
    assert_table("us-consumer.roaster-oven.time", "h", &unstuffed);
    let stuffed = [
        (8.0, 12.0, 3.0, 3.5),
        (12.0, 14.0, 3.5, 4.0),
        (14.0, 18.0, 4.0, 4.25),
        (18.0, 20.0, 4.25, 4.75),
        (20.0, 24.0, 4.75, 5.25),
    ];
    assert_table("us-consumer.roast.time-stuffed", "h", &stuffed);
    assert_table("us-consumer.roaster-oven.time.stuffed", "h", &stuffed);
    assert_table(
        "us-consumer.roast.time-unstuffed.breast",
        "h",
        &[(4.0, 6.0, 1.5, 2.25), (6.0, 8.0, 2.25, 3.25)],
    );
    assert_table(
        "us-consumer.roast.time-stuffed.breast",
        "h",
        &[(6.0, 8.0, 2.5, 3.5)],
    );
}

#[test]
fn superseded_end_points_answer_for_their_own_days() {
    // 180 °F thigh and 170 °F breast to 5 April 2006 (FSIS, Safe Cooking, revised September 2003), 165 °F since.
    for (day, expected) in [
        ("2006-04-04", "180 °F"),
        ("2006-04-05", "180 °F"),
        ("2006-04-06", "165 °F"),
        ("2026-11-25", "165 °F"),
    ] {
        let case = Case {
            on: Some(day.parse().unwrap()),
            ..Case::whole_turkey("us-consumer")
        };
        let rule = book().require(Topic::DonenessBird, &case).unwrap();
        let Requirement::MinimumTemperature { limit, .. } = &rule.requirement else {
            panic!("{} sets no temperature", rule.id);
        };
        assert_eq!(
            limit.temperature,
            Temperature::parse(expected).unwrap(),
            "{day}"
        );
    }
}

#[test]
fn a_superseded_row_ends_the_day_before_the_next_one_starts() {
    let mut pairs = 0;
    for old in book().rules() {
        let plain = format!("{}.{}", old.standard(), old.topic.name());
        let (Some(end), Ok(now)) = (old.effective_to, book().rule(&plain)) else {
            continue;
        };
        assert_ne!(old.id, plain, "the row in use has an end");
        let Some(start) = now.effective_from else {
            continue;
        };
        assert_eq!(end.tomorrow().unwrap(), start, "{} and {plain}", old.id);
        let on = |day| {
            book().find(
                old.topic,
                &Case {
                    on: Some(day),
                    ..case_of(old)
                },
            )
        };
        let before = on(end).unwrap();
        assert_eq!(before.effective_to, Some(end), "{}", before.id);
        assert_eq!(on(start).map(|rule| &rule.id), Some(&plain));
        pairs += 1;
    }
    assert!(pairs >= 10, "only {pairs} pairs were reached");
}

fn limits_of(requirement: &Requirement) -> (Vec<TemperatureLimit>, Vec<TimeLimit>) {
    let (mut temperatures, mut times) = (Vec::new(), Vec::new());
    match requirement {
        Requirement::MinimumTemperature { limit, hold, .. } => {
            temperatures.push(*limit);
            times.extend(*hold);
        }
        Requirement::Temperature { limit } => temperatures.push(*limit),
        Requirement::Time {
            limit,
            surroundings,
            ..
        } => {
            times.push(*limit);
            temperatures.extend(*surroundings);
        }
        Requirement::TimeAsControl {
            start,
            ceiling,
            limit,
        } => {
            temperatures.push(*start);
            temperatures.extend(*ceiling);
            times.push(*limit);
        }
        Requirement::StagedCooling { stages } => {
            temperatures.extend(stages.iter().map(|stage| stage.to));
            times.extend(stages.iter().map(|stage| stage.within));
        }
        _ => {}
    }
    (temperatures, times)
}

/// What the operator says for a value under, at and over its limit.
fn expected(is: Comparison) -> [Verdict; 3] {
    let (m, f) = (Verdict::Meets, Verdict::Fails);
    match is {
        Comparison::Below => [m, f, f],
        Comparison::AtMost => [m, m, f],
        Comparison::AtLeast => [f, m, m],
        Comparison::Above => [f, f, m],
    }
}

/// The nearest thousandths of a degree on the other scale under and over a whole number of thousandths, and the
/// exact one where there is one: C = (F - 32)·5/9.
fn other_scale(thousandths: i64, from: TemperatureUnit) -> (i64, Option<i64>, i64) {
    let (above, below) = match from {
        TemperatureUnit::Fahrenheit => ((thousandths - 32_000) * 5, 9),
        _ => (thousandths * 9 + 32_000 * 5, 5),
    };
    let floor = above.div_euclid(below);
    if above.rem_euclid(below) == 0 {
        (floor - 1, Some(floor), floor + 1)
    } else {
        (floor, None, floor + 1)
    }
}

#[test]
fn every_temperature_limit_holds_under_at_and_over_in_both_units() {
    let mut seen = 0;
    for rule in book().rules() {
        for limit in limits_of(&rule.requirement).0 {
            let [under, at, over] = expected(limit.is);
            let unit = limit.temperature.unit();
            let read = |thousandths: i64, unit: TemperatureUnit| {
                let text = format!("{} {}", thousandths as f64 / 1000.0, unit.name());
                limit.judge(Temperature::parse(&text).unwrap()).0
            };
            // Thousandths of a degree: ninths of a millikelvin over 9 or, for °F, over 5.
            let ninths = limit.temperature.exact().ninths_of_millikelvin();
            let (line, other) = match unit {
                TemperatureUnit::Fahrenheit => (ninths / 5 - 459_670, TemperatureUnit::Celsius),
                _ => (ninths / 9 - 273_150, TemperatureUnit::Fahrenheit),
            };
            assert_eq!(
                [line - 1, line, line + 1].map(|value| read(value, unit)),
                [under, at, over],
                "{}: {}",
                rule.id,
                limit.shown()
            );
            let (below, exact, above) = other_scale(line, unit);
            assert_eq!(read(below, other), under, "{}: {}", rule.id, limit.shown());
            assert_eq!(read(above, other), over, "{}: {}", rule.id, limit.shown());
            if let Some(exact) = exact {
                assert_eq!(read(exact, other), at, "{}: {}", rule.id, limit.shown());
            }
            seen += 1;
        }
    }
    assert!(seen > 40, "only {seen} limits were reached");
}

#[test]
fn every_time_limit_holds_under_at_and_over_in_both_units() {
    let mut seen = 0;
    for rule in book().rules() {
        for limit in limits_of(&rule.requirement).1 {
            let wanted = expected(limit.is);
            let own = limit.duration.to_string();
            let (value, unit) = own.split_once(' ').unwrap();
            let value: f64 = value.parse().unwrap();
            let read = |value: f64, unit: &str| {
                limit
                    .judge(Duration::parse(&format!("{value:.3} {unit}")).unwrap())
                    .0
            };
            let around = |value: f64, unit: &str| {
                [value - 0.001, value, value + 0.001].map(|value| read(value, unit))
            };
            assert_eq!(
                around(value, unit),
                wanted,
                "{}: {}",
                rule.id,
                limit.shown()
            );
            let seconds = limit.duration.as_seconds();
            assert_eq!(
                around(seconds, "s"),
                wanted,
                "{}: {}",
                rule.id,
                limit.shown()
            );
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} limits were reached");
}

#[test]
fn the_printed_pair_is_near_the_binding_value() {
    // A pair more than 1 °C apart is a slip of the pen, not a rounding.
    for rule in book().rules() {
        for limit in limits_of(&rule.requirement).0 {
            if let Some(other) = limit.also_printed {
                let apart = (other.as_celsius() - limit.temperature.as_celsius()).abs();
                assert!(apart <= 1.0, "{}: {}", rule.id, limit.shown());
                assert_ne!(other.unit(), limit.temperature.unit(), "{}", rule.id);
                assert_ne!(
                    other, limit.temperature,
                    "{} prints one value twice",
                    rule.id
                );
            }
        }
    }
}
