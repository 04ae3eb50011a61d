//! Rules in words, for the lists of things to do.

use super::requirement::Requirement;
use super::rule::Rule;

impl Rule {
    /// The rule as a sentence, where it says what to do, what never to do, or a plain limit.
    ///
    /// ```
    /// use poulter::rules::{Case, Rulebook, Topic};
    /// let mine = r#"
    /// [[rule]]
    /// id = "us-consumer.serve.carve"
    /// topic = "serve.carve"
    /// title = "Carving"
    /// kind = "common-practice"
    /// status = "common-practice"
    /// last_checked = "2026-11-25"
    /// requirement = { type = "do", text = "Carve across the grain." }
    /// "#;
    /// let book = Rulebook::builtin().with_rules(mine)?;
    /// let rule = book.require(Topic::ServeCarve, &Case::whole_turkey("us-consumer"))?;
    /// assert_eq!(rule.said().as_deref(), Some("Carve across the grain."));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn said(&self) -> Option<String> {
        match &self.requirement {
            Requirement::Do { text } => Some(text.clone()),
            Requirement::Never { text, why } => {
                let joint = if text.ends_with('.') { "" } else { ":" };
                Some(format!("{text}{joint} {why}"))
            }
            Requirement::Temperature { limit } | Requirement::MinimumTemperature { limit, .. } => {
                Some(format!("{}: {}", self.title, limit.shown()))
            }
            Requirement::Time { limit, then, .. } => {
                Some(format!("{}: {}; {then}", self.title, limit.shown()))
            }
            Requirement::Keep { low, high, .. } | Requirement::TimeRange { low, high, .. } => {
                let (low, high) = (low.shown(), high.shown());
                let range = if low == high {
                    low
                } else {
                    format!("{low} to {high}")
                };
                Some(format!("{}: {range}", self.title))
            }
            _ => None,
        }
    }
}
