//! The book as a list: every rule that a question selects, with its words, dates and sources.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::Answer;
use crate::bird::{Cut, Species};
use crate::error::Error;

use super::rule::{Rule, RuleKind, Status};
use super::rulebook::Rulebook;
use super::topic::{Stage, Topic};

/// "What do the rules say?" Every field narrows the list; with none, the whole book is told.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RulesQuery {
    /// One rule by its id, whether it still holds or not.
    #[serde(default)]
    pub id: Option<String>,
    /// One standard; all of them when left out.
    #[serde(default)]
    pub standard: Option<String>,
    /// One question.
    #[serde(default)]
    pub topic: Option<Topic>,
    /// One stage of the job.
    #[serde(default)]
    pub stage: Option<Stage>,
    /// Rules that apply to this species.
    #[serde(default)]
    pub species: Option<Species>,
    /// Rules that apply to this cut.
    #[serde(default)]
    pub cut: Option<Cut>,
    /// Rules as binding as this. On the wire `kind` names the question.
    #[serde(default, rename = "rule_kind")]
    pub kind: Option<RuleKind>,
    /// Rules whose number was read this way.
    #[serde(default)]
    pub status: Option<Status>,
    /// Rules that held on this day; those that hold now when left out.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub on: Option<Date>,
    /// Whether rules that no longer hold are told too.
    #[serde(default)]
    pub superseded: bool,
}

/// One rule of the list.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RuleRow {
    /// Id of the rule.
    pub id: String,
    /// The standard it belongs to.
    pub standard: String,
    /// The stage of the job.
    pub stage: Stage,
    /// The topic.
    pub topic: Topic,
    /// The topic as a question.
    pub question: String,
    /// Heading of the rule.
    pub title: String,
    /// How binding it is.
    pub kind: RuleKind,
    /// How the number was read.
    pub status: Status,
    /// What it asks, in words.
    pub limit: String,
    /// Species it is for; empty for all.
    pub species: Vec<Species>,
    /// Cuts it is for; empty for all.
    pub cut: Vec<Cut>,
    /// Processes it is only for; empty for any.
    pub process: Vec<String>,
    /// First day it held; none when the source gives none.
    #[schemars(with = "Option<String>")]
    pub effective_from: Option<Date>,
    /// Last day it held; none while it holds.
    #[schemars(with = "Option<String>")]
    pub effective_to: Option<Date>,
    /// When it was last checked against its source.
    #[schemars(with = "String")]
    pub last_checked: Date,
    /// The documents, with section.
    pub sources: Vec<String>,
    /// A conflict or a trap, in a sentence.
    pub note: String,
    /// True for a rule the caller added.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub added_by_caller: bool,
}

impl RuleRow {
    pub(crate) fn of(book: &Rulebook, rule: &Rule) -> Self {
        Self {
            id: rule.id.clone(),
            standard: rule.standard().to_owned(),
            stage: rule.topic.stage(),
            topic: rule.topic,
            question: rule.topic.question().to_owned(),
            title: rule.title.clone(),
            kind: rule.kind,
            status: rule.status,
            limit: rule.requirement.words(),
            species: rule.applies_to.species.clone(),
            cut: rule.applies_to.cut.clone(),
            process: rule.applies_to.process.clone(),
            effective_from: rule.effective_from,
            effective_to: rule.effective_to,
            last_checked: rule.last_checked,
            sources: book.cite(rule).sources,
            note: rule.note.clone(),
            added_by_caller: rule.added_by_caller,
        }
    }
}

/// The rules that a question selects.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RuleList {
    /// The rules, in the order a cook meets the stages and the book holds them.
    pub rows: Vec<RuleRow>,
}

/// Lists rules by id, standard, topic, stage, species, cut, kind, status and day.
///
/// A rule without a species or cut applies to all of them and is always told. The answer carries no citations beside
/// the rows, since every row has its own sources.
///
/// Errors: an unknown standard or id.
///
/// ```
/// use poulter::rules::{Rulebook, RulesQuery, list};
/// let query: RulesQuery = serde_json::from_str(r#"{"standard": "uk", "topic": "hold.hot"}"#)?;
/// let rows = list(Rulebook::builtin(), &query)?.answer.rows;
/// assert_eq!(rows[0].limit, "at least 63 °C");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn list(book: &Rulebook, query: &RulesQuery) -> Result<Answer<RuleList>, Error> {
    if let Some(standard) = &query.standard {
        book.standard(standard)?;
    }
    if let Some(id) = &query.id {
        book.rule(id).map_err(|error| error.at("id"))?;
    }
    let mut rows: Vec<_> = book
        .rules()
        .iter()
        .filter(|rule| query.selects(rule))
        .map(|rule| RuleRow::of(book, rule))
        .collect();
    rows.sort_by_key(|row| row.topic);
    Ok(Answer {
        answer: RuleList { rows },
        assumed: Vec::new(),
        cautions: crate::answer::general_cautions(),
        citations: Vec::new(),
    })
}

impl RulesQuery {
    /// Whether the question asks for this rule.
    #[must_use]
    pub fn selects(&self, rule: &Rule) -> bool {
        fn within<T: PartialEq>(list: &[T], asked: Option<T>) -> bool {
            asked.is_none_or(|asked| list.is_empty() || list.contains(&asked))
        }
        self.id.as_deref().is_none_or(|id| rule.id == id)
            && self
                .standard
                .as_deref()
                .is_none_or(|name| rule.standard() == name)
            && self.topic.is_none_or(|topic| rule.topic == topic)
            && self.stage.is_none_or(|stage| rule.topic.stage() == stage)
            && within(&rule.applies_to.species, self.species)
            && within(&rule.applies_to.cut, self.cut)
            && self.kind.is_none_or(|kind| rule.kind == kind)
            && self.status.is_none_or(|status| rule.status == status)
            && (self.superseded || self.id.is_some() || rule.holds_on(self.on))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(query: &str) -> Vec<RuleRow> {
        let query = serde_json::from_str(query).unwrap();
        list(Rulebook::builtin(), &query).unwrap().answer.rows
    }

    #[test]
    fn the_whole_book_is_told_and_no_row_is_bare() {
        let all = rows(r#"{"superseded": true}"#);
        assert_eq!(all.len(), Rulebook::builtin().rules().len());
        for row in &all {
            assert!(!row.limit.is_empty() && !row.question.is_empty() && !row.title.is_empty());
            assert!(
                !row.sources.is_empty() || row.status == Status::CommonPractice,
                "{}",
                row.id
            );
        }
    }

    #[test]
    fn a_day_tells_the_rules_of_that_day_and_an_id_one_rule_of_any_day() {
        // FSIS: 180 °F to 5 April 2006, 165 °F since.
        for (day, limit) in [
            ("2006-04-04", "180 °F"),
            ("2006-04-05", "180 °F"),
            ("2006-04-06", "165 °F"),
        ] {
            let query = format!(
                r#"{{"standard": "us-consumer", "topic": "doneness.bird", "on": "{day}"}}"#
            );
            assert!(rows(&query)[0].limit.contains(limit), "{day}");
        }
        let old = rows(r#"{"topic": "doneness.bird", "superseded": true}"#)
            .into_iter()
            .find(|row| row.effective_to.is_some())
            .unwrap();
        let one = rows(&format!(r#"{{"id": "{}"}}"#, old.id));
        assert_eq!(one.len(), 1);
        assert_eq!(one[0].id, old.id);
    }

    #[test]
    fn every_field_narrows() {
        // FSIS gave 180 °F in the thigh until 2006; since then 165 °F everywhere.
        let now = rows(r#"{"standard": "us-consumer", "topic": "doneness.bird"}"#);
        let ever =
            rows(r#"{"standard": "us-consumer", "topic": "doneness.bird", "superseded": true}"#);
        assert!(ever.len() > now.len());
        assert!(
            ever.iter()
                .any(|row| row.limit.contains("180 °F") && row.effective_to.is_some())
        );
        assert!(now.iter().all(|row| row.effective_to.is_none()));
        let duck = rows(r#"{"stage": "roast", "species": "duck"}"#);
        assert!(
            duck.iter()
                .all(|row| row.species.is_empty() || row.species.contains(&Species::Duck))
        );
        assert!(duck.iter().all(|row| row.stage == Stage::Roast));
        let ground = rows(r#"{"topic": "doneness.bird", "cut": "ground"}"#);
        assert!(
            ground
                .iter()
                .all(|row| row.cut.is_empty() || row.cut.contains(&Cut::Ground))
        );
        let memory = rows(r#"{"status": "memory"}"#);
        assert!(!memory.is_empty() && memory.iter().all(|row| row.status == Status::Memory));
        let law = rows(r#"{"rule_kind": "requirement"}"#);
        assert!(!law.is_empty() && law.iter().all(|row| row.kind == RuleKind::Requirement));
        for (query, field) in [
            (r#"{"standard": "mars"}"#, "standard"),
            (r#"{"id": "us-consumer.mars"}"#, "id"),
        ] {
            let query = serde_json::from_str(query).unwrap();
            let error = list(Rulebook::builtin(), &query).unwrap_err();
            assert_eq!(error.field(), field);
        }
    }
}
