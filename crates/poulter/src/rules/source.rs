//! The bibliography.

use serde::{Deserialize, Serialize};

/// A published document that rules cite.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// The key rules use, such as `fsis-turkey-safe-thawing`.
    pub key: String,
    /// Who published it.
    pub publisher: String,
    /// Title of the document.
    pub title: String,
    /// Edition, year or revision, as printed; empty when the page carries none.
    #[serde(default)]
    pub edition: String,
    /// What should be known of the copy that was read.
    #[serde(default)]
    pub note: String,
}

/// Where in a source a rule stands.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cite {
    /// Key into the bibliography.
    pub source: String,
    /// Section, paragraph or table.
    #[serde(default)]
    pub section: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SourceFile {
    pub(super) source: Vec<Source>,
}
