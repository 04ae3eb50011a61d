//! Rules as dated, cited data, and the verdicts they give.
//!
//! A rule is a row of a TOML file: what it asks, of what, where it stands, how it was read and when it was last
//! checked. The [`Rulebook`] finds the rule for a [`Topic`] and a [`Case`]; nothing is made up where no row is
//! published.

mod files;
mod house;
mod list;
mod requirement;
mod rule;
mod rulebook;
mod source;
mod table;
mod topic;
mod verdict;
mod words;

pub use list::{RuleList, RuleRow, RulesQuery, list};
pub use requirement::{
    CoolingStage, CountedFrom, Counting, HoldPoint, Keeping, MassRow, Requirement,
};
pub use rule::{AppliesTo, Rule, RuleKind, Status};
pub use rulebook::{Case, Citation, Rulebook, Standard};
pub use source::{Cite, Source};
pub use topic::{Stage, Topic};
pub use verdict::{Comparison, Margin, TemperatureLimit, TimeLimit, Verdict};
