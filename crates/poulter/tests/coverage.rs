//! The table of what is answered: every topic under every standard for every species, in `COVERAGE.md`.
//!
//! `POULTER_BLESS=1 cargo test -p poulter --test coverage` rewrites it.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use poulter::bird::{Cut, Species};
use poulter::rules::{Case, Rule, Rulebook, Stage, Status, Topic};

const NO_ROW: &str = "no published row";

/// The cut a topic speaks of.
fn cut(topic: Topic) -> Cut {
    match topic {
        Topic::DonenessParts | Topic::StorageRawParts => Cut::Parts,
        Topic::DonenessGround | Topic::StorageGround => Cut::Ground,
        _ => Cut::Whole,
    }
}

/// The id of the rule that answers, or of one that answers for a named process or another cut only.
fn answer(book: &Rulebook, topic: Topic, standard: &str, species: Species) -> String {
    let case = Case {
        standard,
        species,
        cut: cut(topic),
        state: None,
        process: None,
        on: None,
    };
    if let Some(rule) = book.find(topic, &case) {
        return match rule.status {
            Status::Memory | Status::CommonPractice => {
                format!("`{}` ({})", rule.id, rule.status.words())
            }
            _ => format!("`{}`", rule.id),
        };
    }
    let near = |rule: &&Rule| {
        rule.topic == topic
            && rule.standard() == standard
            && rule.effective_to.is_none()
            && (rule.applies_to.species.is_empty() || rule.applies_to.species.contains(&species))
    };
    let Some(rule) = book.rules().iter().find(near) else {
        return NO_ROW.to_owned();
    };
    let process = &rule.applies_to.process;
    let cuts: Vec<_> = rule.applies_to.cut.iter().map(|cut| cut.name()).collect();
    let only = if process.is_empty() {
        cuts.join(", ")
    } else {
        process.join(", ")
    };
    format!("{NO_ROW} in general; for {only}: `{}`", rule.id)
}

/// Species, and the answer they share.
type Shared = (String, String);

/// One row for each answer that differs, with all the standards and species that share it.
fn rows(book: &Rulebook, topic: Topic) -> Vec<(String, String, String)> {
    let mut by_species: Vec<(String, Vec<Shared>)> = Vec::new();
    for standard in book.standards() {
        let mut grouped: Vec<(String, Vec<&str>)> = Vec::new();
        for &species in Species::ALL {
            let text = answer(book, topic, &standard.id, species);
            match grouped.iter_mut().find(|(known, _)| *known == text) {
                Some((_, names)) => names.push(species.name()),
                None => grouped.push((text, vec![species.name()])),
            }
        }
        let answers = grouped
            .into_iter()
            .map(|(text, names)| {
                let names = if names.len() == Species::ALL.len() {
                    "every species".to_owned()
                } else {
                    names.join(", ")
                };
                (names, text)
            })
            .collect();
        by_species.push((standard.id.clone(), answers));
    }
    let mut rows: Vec<(Vec<String>, Vec<Shared>)> = Vec::new();
    for (standard, answers) in by_species {
        match rows.iter_mut().find(|(_, known)| *known == answers) {
            Some((standards, _)) => standards.push(standard),
            None => rows.push((vec![standard], answers)),
        }
    }
    rows.into_iter()
        .flat_map(|(standards, answers)| {
            let standards = if standards.len() == book.standards().len() {
                "every standard".to_owned()
            } else {
                standards.join(", ")
            };
            answers
                .into_iter()
                .map(move |(species, text)| (standards.clone(), species, text))
        })
        .collect()
}

fn table(book: &Rulebook) -> String {
    let mut text = String::from(
        "# What is answered\n\n\
         Every topic under every standard for every species: the rule that answers, or \"no published row\". A rule of\n\
         another standard than the one named is where that one falls back to. Written by `tests/coverage.rs`.\n\n",
    );
    text += "| standard | cited | from memory | common practice | no published row |\n|---|---|---|---|---|\n";
    for standard in book.standards() {
        let mut cells: BTreeMap<&str, usize> = BTreeMap::new();
        for &topic in Topic::ALL {
            for &species in Species::ALL {
                let answer = answer(book, topic, &standard.id, species);
                let column = match answer.strip_prefix('`') {
                    None => "none",
                    Some(id) if id.ends_with(&format!("({})", Status::Memory.words())) => "memory",
                    Some(id) if id.ends_with(')') => "practice",
                    Some(_) => "cited",
                };
                *cells.entry(column).or_default() += 1;
            }
        }
        let count = |column| cells.get(column).copied().unwrap_or_default();
        let counts =
            ["cited", "memory", "practice", "none"].map(|column| count(column).to_string());
        let _ = writeln!(text, "| {} | {} |", standard.id, counts.join(" | "));
    }
    for &stage in Stage::ALL {
        let _ = write!(
            text,
            "\n## {stage:?}\n\n| topic | standard | species | answer |\n|---|---|---|---|\n"
        );
        for &topic in Topic::ALL.iter().filter(|topic| topic.stage() == stage) {
            for (standards, species, answer) in rows(book, topic) {
                let _ = writeln!(
                    text,
                    "| {} | {standards} | {species} | {answer} |",
                    topic.name()
                );
            }
        }
    }
    text
}

#[test]
fn the_table_of_answers_is_up_to_date_and_has_no_blank_cell() {
    let table = table(Rulebook::builtin());
    for line in table.lines().filter(|line| line.starts_with('|')) {
        let cells: Vec<_> = line.trim_matches('|').split('|').map(str::trim).collect();
        assert!(cells.iter().all(|cell| !cell.is_empty()), "{line}");
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("COVERAGE.md");
    if std::env::var_os("POULTER_BLESS").is_some() {
        std::fs::write(&path, &table).expect("COVERAGE.md is writable");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == table,
        "COVERAGE.md is out of date; POULTER_BLESS=1 rewrites it"
    );
}

#[test]
fn every_topic_is_answered_somewhere() {
    let book = Rulebook::builtin();
    let silent: Vec<_> = Topic::ALL
        .iter()
        .filter(|&&topic| !book.rules().iter().any(|rule| rule.topic == topic))
        .map(|topic| topic.name())
        .collect();
    assert!(silent.is_empty(), "{silent:?}");
}
