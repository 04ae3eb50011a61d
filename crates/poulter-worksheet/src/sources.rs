//! Rules and sources, and the marks that lead to them.

use poulter::rules::{Citation, RuleKind, Status};

use crate::wording::clean;
use crate::words::{self, fill, say};

/// A rule as the list of sources shows it.
pub(crate) struct SourceLine {
    pub(crate) number: usize,
    pub(crate) title: String,
    pub(crate) rule: String,
    /// Letters of the sources, kind of rule and how it was read, such as "a, c; guidance; read".
    pub(crate) read: String,
    pub(crate) note: String,
}

/// The rules of an answer, and every source once.
#[derive(Default)]
pub(crate) struct Sources {
    pub(crate) rules: Vec<SourceLine>,
    pub(crate) books: Vec<(String, String)>,
    /// The day on which every rule was last checked, where it is one and the same.
    pub(crate) checked: Option<String>,
}

impl Sources {
    pub(crate) fn of(citations: &[Citation]) -> Self {
        let mut sources = Self::default();
        let day = citations.first().map(|first| first.last_checked.clone());
        sources.checked = day.filter(|day| citations.iter().all(|it| it.last_checked == *day));
        for (index, citation) in citations.iter().enumerate() {
            let letters: Vec<String> = citation
                .sources
                .iter()
                .map(|text| sources.letter(&clean(text)))
                .collect();
            // "common practice, no source" says kind, status and the lack of a source at once.
            let custom = citation.kind == RuleKind::CommonPractice
                && citation.status == Status::CommonPractice;
            let mut read = Vec::new();
            match letters.as_slice() {
                [] if custom => {}
                [] => read.push(say("no-source").to_owned()),
                all => read.push(all.join(", ")),
            }
            if !custom {
                read.push(words::kind(citation.kind).to_owned());
            }
            read.push(citation.status.words().to_owned());
            if sources.checked.is_none() {
                read.push(fill("checked", &[("day", &citation.last_checked)]));
            }
            if citation.added_by_caller {
                read.push(say("own-rule").to_owned());
            }
            sources.rules.push(SourceLine {
                number: index + 1,
                title: clean(&citation.title),
                rule: clean(&citation.rule),
                read: read.join("; "),
                note: clean(&citation.note),
            });
        }
        sources
    }

    fn letter(&mut self, text: &str) -> String {
        if let Some((letter, _)) = self.books.iter().find(|known| known.1 == text) {
            return letter.clone();
        }
        let letter = letters(self.books.len());
        self.books.push((letter.clone(), text.to_owned()));
        letter
    }
}

/// a, b, … z, aa, ab, …
fn letters(index: usize) -> String {
    let last = char::from(b'a' + u8::try_from(index % 26).unwrap_or(0));
    match index / 26 {
        0 => last.to_string(),
        more => letters(more - 1) + &last.to_string(),
    }
}

/// "[2] [5]": where the rules stand in the list of sources; the id itself where a rule is not listed.
pub(crate) fn marks<'r>(rules: impl Iterator<Item = &'r str>, citations: &[Citation]) -> String {
    let mut marks: Vec<String> = Vec::new();
    for rule in rules {
        let number = citations.iter().position(|citation| citation.rule == rule);
        let mark = number.map_or_else(
            || format!("[{}]", clean(rule)),
            |index| format!("[{}]", index + 1),
        );
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    marks.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        for (index, expected) in [(0, "a"), (25, "z"), (26, "aa"), (51, "az"), (52, "ba")] {
            assert_eq!(letters(index), expected);
        }
    }
}
