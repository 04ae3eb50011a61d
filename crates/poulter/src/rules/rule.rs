//! A rule: what it asks, of what, on whose authority, and since when.

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::bird::{Cut, Species, State};

use super::requirement::Requirement;
use super::source::Cite;
use super::topic::Topic;

/// How binding a rule is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RuleKind {
    /// Law or a code that an authority enforces.
    Requirement,
    /// Advice of an authority.
    Guidance,
    /// What the trade does; no authority behind it.
    CommonPractice,
    /// Computed here.
    Model,
}

/// How the number was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Read in the source itself or an archived copy of it.
    Read,
    /// Read in another publication that repeats it and names the source.
    Copy,
    /// Arithmetic on numbers that were read.
    Derived,
    /// From memory, not read in the source.
    Memory,
    /// A rule of the trade; there is no source.
    CommonPractice,
}

impl Status {
    /// The words a reader sees.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Read => "read in the source",
            Self::Copy => "read in a copy",
            Self::Derived => "derived from read numbers",
            Self::Memory => "from memory, not checked",
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// What a rule applies to; an empty list means all.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AppliesTo {
    /// Species.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub species: Vec<Species>,
    /// Cuts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cut: Vec<Cut>,
    /// States.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub state: Vec<State>,
    /// Process words of the source, such as "cured" or "self-service display"; matched only when asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub process: Vec<String>,
}

/// A rule of a standard.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Stable dotted id: standard, then topic, then a variant where there are several.
    pub id: String,
    /// The question it answers.
    pub topic: Topic,
    /// A heading for people.
    pub title: String,
    /// How binding it is.
    pub kind: RuleKind,
    /// What it applies to.
    #[serde(default)]
    pub applies_to: AppliesTo,
    /// What it asks.
    pub requirement: Requirement,
    /// Where it stands; empty only for common practice.
    #[serde(default)]
    pub cites: Vec<Cite>,
    /// How the number was read.
    pub status: Status,
    /// First day it held; none when the source gives none.
    #[serde(default)]
    pub effective_from: Option<Date>,
    /// Last day it held; none while it holds.
    #[serde(default)]
    pub effective_to: Option<Date>,
    /// When it was last checked against its source.
    pub last_checked: Date,
    /// A conflict between sources, or a trap, in a sentence.
    #[serde(default)]
    pub note: String,
    /// True for a rule the caller added.
    #[serde(default, skip_deserializing)]
    pub added_by_caller: bool,
}

impl Rule {
    /// The standard the rule belongs to: the first part of its id.
    #[must_use]
    pub fn standard(&self) -> &str {
        self.id.split('.').next().unwrap_or_default()
    }

    /// Whether the rule held on `day`; with no day, whether it holds now, as far as is known.
    #[must_use]
    pub fn holds_on(&self, day: Option<Date>) -> bool {
        match day {
            None => self.effective_to.is_none(),
            Some(day) => {
                self.effective_from.is_none_or(|from| from <= day)
                    && self.effective_to.is_none_or(|to| day <= to)
            }
        }
    }
}

/// One file of rules.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RuleFile {
    pub(super) rule: Vec<Rule>,
}
