//! The rulebook: loading, checking and look-up.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::bird::{Cut, Species, State};
use crate::error::{Error, ErrorKind};
use crate::reader;

use super::files::RULE_FILES;
use super::rule::{Rule, RuleFile, RuleKind, Status};
use super::source::{Source, SourceFile};
use super::topic::Topic;

/// A set of rules of one authority for one audience.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Standard {
    /// The name in requests, such as `us-consumer`.
    pub id: String,
    /// A heading for people.
    pub title: String,
    /// Whom it speaks to.
    pub audience: String,
    /// The standard asked next where this one is silent; every answer names the standard it came from.
    #[serde(default)]
    pub falls_back_to: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StandardFile {
    standard: Vec<Standard>,
}

/// What a rule is looked up for.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    /// The standard asked for.
    pub standard: &'a str,
    /// The species.
    pub species: Species,
    /// The cut.
    pub cut: Cut,
    /// The state, where it matters.
    pub state: Option<State>,
    /// A process word, where it matters.
    pub process: Option<&'a str>,
    /// The day for which the rules are wanted; none for those that hold now.
    pub on: Option<Date>,
}

impl<'a> Case<'a> {
    /// A whole turkey under `standard`, by the rules that hold now.
    #[must_use]
    pub const fn whole_turkey(standard: &'a str) -> Self {
        Self::of(standard, Species::Turkey, Cut::Whole, None)
    }

    /// What a question of a stage looks rules up for, whatever the state and the process.
    pub(crate) const fn of(
        standard: &'a str,
        species: Species,
        cut: Cut,
        on: Option<Date>,
    ) -> Self {
        Self {
            standard,
            species,
            cut,
            state: None,
            process: None,
            on,
        }
    }

    fn fits(&self, rule: &Rule) -> bool {
        fn within<T: PartialEq>(list: &[T], asked: Option<&T>) -> bool {
            list.is_empty() || asked.is_some_and(|asked| list.contains(asked))
        }
        let applies = &rule.applies_to;
        within(&applies.species, Some(&self.species))
            && within(&applies.cut, Some(&self.cut))
            && (applies.state.is_empty()
                || self
                    .state
                    .is_none_or(|state| applies.state.contains(&state)))
            && match self.process {
                None => applies.process.is_empty(),
                Some(word) => {
                    applies.process.is_empty() || applies.process.iter().any(|p| p == word)
                }
            }
            && rule.holds_on(self.on)
    }
}

/// A rule as an answer shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Citation {
    /// Id of the rule.
    pub rule: String,
    /// Heading of the rule.
    pub title: String,
    /// How binding it is.
    pub kind: RuleKind,
    /// How the number was read.
    pub status: Status,
    /// The documents, with section.
    pub sources: Vec<String>,
    /// When the rule was last checked.
    pub last_checked: String,
    /// A conflict or a trap, in a sentence.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// True for a rule the caller added.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub added_by_caller: bool,
}

/// All standards, rules and sources.
#[derive(Clone, Debug, Default)]
pub struct Rulebook {
    standards: Vec<Standard>,
    rules: Vec<Rule>,
    sources: BTreeMap<String, Source>,
    /// The rules of each standard by topic, in the order of the standards.
    by_topic: Vec<BTreeMap<Topic, Vec<usize>>>,
    /// Whether any rule is the caller's.
    pub(super) has_callers: bool,
}

const STANDARDS: &str = include_str!("../../rules/standards.toml");
const SOURCES: &str = include_str!("../../rules/sources.toml");

impl Rulebook {
    /// The rules that come with the library.
    #[must_use]
    pub fn builtin() -> &'static Self {
        static BUILTIN: LazyLock<Rulebook> = LazyLock::new(|| {
            // A broken built-in file is caught by the tests; at run time an empty book answers "no published row".
            Rulebook::load().unwrap_or_default()
        });
        &BUILTIN
    }

    /// Reads and checks the built-in files.
    fn load() -> Result<Self, Error> {
        let mut book = Self {
            standards: read::<StandardFile>("standards.toml", STANDARDS)?.standard,
            ..Self::default()
        };
        for source in read::<SourceFile>("sources.toml", SOURCES)?.source {
            book.sources.insert(source.key.clone(), source);
        }
        for (name, text) in RULE_FILES {
            for rule in read::<RuleFile>(name, text)?.rule {
                book.add(rule).map_err(|error| error.at(name))?;
            }
        }
        Ok(book)
    }

    /// This book with rules of the caller's own, in the same TOML schema.
    ///
    /// They are marked as the caller's in every answer, and come before the built-in ones of the same standard and
    /// topic.
    pub fn with_rules(&self, toml: &str) -> Result<Self, Error> {
        let mut book = self.clone();
        for mut rule in read::<RuleFile>("rules", toml)?.rule {
            rule.added_by_caller = true;
            book.add(rule)?;
        }
        Ok(book)
    }

    fn add(&mut self, rule: Rule) -> Result<(), Error> {
        let invalid = |what: &str| Error::new(ErrorKind::RuleInvalid, &rule.id, what).at(&rule.id);
        let Some((standard, rest)) = rule.id.split_once('.') else {
            return Err(invalid("an id of the form standard.topic is needed"));
        };
        let Some(place) = self.place(standard) else {
            return Err(invalid("the id must start with a known standard"));
        };
        let name = rule.topic.name();
        if rest != name
            && !rest
                .strip_prefix(name)
                .is_some_and(|variant| variant.starts_with('.'))
        {
            return Err(invalid("the id must continue with the rule's topic"));
        }
        if self.rules.iter().any(|known| known.id == rule.id) {
            return Err(invalid("an id not yet taken is needed"));
        }
        if rule.cites.is_empty() && !(rule.status == Status::CommonPractice || rule.added_by_caller)
        {
            return Err(invalid(
                "a source is needed unless the status is common-practice",
            ));
        }
        if let Some(cite) = rule
            .cites
            .iter()
            .find(|cite| !self.sources.contains_key(&cite.source))
            && !rule.added_by_caller
        {
            return Err(invalid(&format!(
                "the source \"{}\" is not in the bibliography",
                cite.source
            )));
        }
        if self.by_topic.len() <= place {
            self.by_topic.resize_with(place + 1, BTreeMap::new);
        }
        self.has_callers |= rule.added_by_caller;
        let list = self.by_topic[place].entry(rule.topic).or_default();
        if rule.added_by_caller {
            list.insert(0, self.rules.len());
        } else {
            list.push(self.rules.len());
        }
        self.rules.push(rule);
        Ok(())
    }

    /// Every standard.
    #[must_use]
    pub fn standards(&self) -> &[Standard] {
        &self.standards
    }

    /// Every rule, in the order of the files.
    #[must_use]
    pub fn rules(&self) -> &[Rule] {
        &self.rules
    }

    /// Every source.
    pub fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sources.values()
    }

    fn place(&self, standard: &str) -> Option<usize> {
        self.standards.iter().position(|known| known.id == standard)
    }

    /// The standard of this name.
    pub fn standard(&self, name: &str) -> Result<&Standard, Error> {
        self.standards
            .iter()
            .find(|standard| standard.id == name)
            .ok_or_else(|| {
                let names: Vec<_> = self
                    .standards
                    .iter()
                    .map(|standard| standard.id.as_str())
                    .collect();
                Error::new(
                    ErrorKind::RuleUnknown,
                    name,
                    format!("one of {} is needed", names.join(", ")),
                )
                .at("standard")
            })
    }

    /// The rule of this id.
    pub fn rule(&self, id: &str) -> Result<&Rule, Error> {
        self.rules
            .iter()
            .find(|rule| rule.id == id)
            .ok_or_else(|| Error::new(ErrorKind::RuleUnknown, id, "the id of a rule is needed"))
    }

    /// Every rule of the case's own standard for a topic, the caller's first.
    pub fn all<'b>(
        &'b self,
        topic: Topic,
        case: &Case<'b>,
    ) -> impl Iterator<Item = &'b Rule> + use<'b> {
        self.all_of(case.standard, topic, *case)
    }

    fn all_of<'b>(
        &'b self,
        standard: &str,
        topic: Topic,
        case: Case<'b>,
    ) -> impl Iterator<Item = &'b Rule> + use<'b> {
        self.place(standard)
            .and_then(|place| self.by_topic.get(place)?.get(&topic))
            .into_iter()
            .flatten()
            .filter_map(|&index| self.rules.get(index))
            .filter(move |rule| case.fits(rule))
    }

    /// Every rule for a topic, of the standard asked for and then of those it falls back to.
    pub(crate) fn chain<'b>(&'b self, topic: Topic, case: &Case<'b>) -> Vec<&'b Rule> {
        self.fallbacks(case.standard)
            .flat_map(|standard| self.all_of(standard, topic, *case))
            .collect()
    }

    /// The rule that answers a topic: of the standard asked for, or of the one it falls back to.
    ///
    /// A rule of the caller's comes first, unless it is looser than the one it would replace.
    #[must_use]
    pub fn find<'b>(&'b self, topic: Topic, case: &Case<'b>) -> Option<&'b Rule> {
        self.fallbacks(case.standard)
            .flat_map(|standard| self.all_of(standard, topic, *case))
            .find(|rule| self.loosened_by(rule, case).is_none())
    }

    /// A standard and those it falls back to; the count guards against a loop in the data.
    fn fallbacks<'b>(&'b self, standard: &'b str) -> impl Iterator<Item = &'b str> + use<'b> {
        std::iter::successors(Some(standard), |name| {
            self.standard(name).ok()?.falls_back_to.as_deref()
        })
        .take(self.standards.len())
    }

    /// As [`find`](Self::find), with an error that says no row is published.
    pub fn require<'b>(&'b self, topic: Topic, case: &Case<'b>) -> Result<&'b Rule, Error> {
        self.standard(case.standard)?;
        self.find(topic, case).ok_or_else(|| {
            Error::new(
                ErrorKind::NoPublishedRow,
                format!(
                    "{}, {}, {}",
                    case.standard,
                    case.species.name(),
                    case.cut.name()
                ),
                format!("no published row answers \"{}\"", topic.question()),
            )
        })
    }

    /// A rule as an answer shows it.
    #[must_use]
    pub fn cite(&self, rule: &Rule) -> Citation {
        let sources = rule
            .cites
            .iter()
            .map(|cite| {
                let name = match self.sources.get(&cite.source) {
                    Some(source) if source.edition.is_empty() => {
                        format!("{}, {}", source.publisher, source.title)
                    }
                    Some(source) => format!(
                        "{}, {} ({})",
                        source.publisher, source.title, source.edition
                    ),
                    None => cite.source.clone(),
                };
                if cite.section.is_empty() {
                    name
                } else {
                    format!("{name}, {}", cite.section)
                }
            })
            .collect();
        Citation {
            rule: rule.id.clone(),
            title: rule.title.clone(),
            kind: rule.kind,
            status: rule.status,
            sources,
            last_checked: rule.last_checked.to_string(),
            note: rule.note.clone(),
            added_by_caller: rule.added_by_caller,
        }
    }
}

fn read<T: DeserializeOwned>(name: &str, text: &str) -> Result<T, Error> {
    let table = text.parse().map_err(|error: toml::de::Error| {
        Error::new(ErrorKind::RuleInvalid, "", error.message().to_owned())
    });
    let fields = table.and_then(reader::from_toml);
    let read = fields.and_then(|fields| reader::read(&Value::Object(fields)));
    read.map_err(|error| {
        let misshapen = matches!(
            error.kind(),
            ErrorKind::UnknownField
                | ErrorKind::MissingField
                | ErrorKind::WrongType
                | ErrorKind::UnknownValue
        );
        if misshapen {
            let error = Error::new(ErrorKind::RuleInvalid, error.given(), error.expected())
                .at(error.field());
            return error.at(name);
        }
        error.at(name)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_built_in_files_load() {
        let book = Rulebook::load().unwrap_or_else(|error| panic!("{error}"));
        assert!(!book.rules().is_empty());
        for standard in book.standards() {
            if let Some(next) = &standard.falls_back_to {
                assert!(book.standard(next).is_ok(), "{next}");
            }
        }
    }
}
