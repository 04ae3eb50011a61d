//! What every answer carries: the value, the rules behind it, what was assumed, and the cautions.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::bird::{Cut, Species};
use crate::error::Error;
use crate::rules::{Case, Citation, Margin, Rule, Rulebook, Topic, Verdict};
use crate::units::{Duration, UnitSystem};

/// The standard that is used when a request names none.
pub(crate) const DEFAULT_STANDARD: &str = "us-consumer";

/// A value with its basis.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(rename = "{T}Answer")]
pub struct Answer<T> {
    /// The value.
    pub answer: T,
    /// What was assumed because the request did not say.
    pub assumed: Vec<String>,
    /// What to keep in mind.
    pub cautions: Vec<String>,
    /// The rules behind the value, with their sources.
    pub citations: Vec<Citation>,
}

impl<T> Answer<T> {
    /// The same answer with another value on the same basis.
    pub(crate) fn map<U>(self, value: impl FnOnce(T) -> U) -> Answer<U> {
        Answer {
            answer: value(self.answer),
            assumed: self.assumed,
            cautions: self.cautions,
            citations: self.citations,
        }
    }
}

/// A shortest, likely and longest time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimeEstimate {
    /// The quick case.
    pub low: Duration,
    /// The likely case.
    pub likely: Duration,
    /// The slow case.
    pub high: Duration,
}

impl TimeEstimate {
    /// The same time in every case.
    #[must_use]
    pub const fn exactly(time: Duration) -> Self {
        Self {
            low: time,
            likely: time,
            high: time,
        }
    }

    /// Both estimates one after the other.
    #[must_use]
    pub const fn then(self, next: Self) -> Self {
        Self {
            low: self.low.plus(next.low),
            likely: self.likely.plus(next.likely),
            high: self.high.plus(next.high),
        }
    }

    /// Each case multiplied by a ratio of whole numbers, rounded up.
    #[must_use]
    pub fn times_ratio(self, above: i64, below: i64) -> Self {
        Self {
            low: self.low.times_ratio(above, below),
            likely: self.likely.times_ratio(above, below),
            high: self.high.times_ratio(above, below),
        }
    }

    /// "3 h to 3 h 45 min", or one time where they are the same.
    #[must_use]
    pub fn shown(&self) -> String {
        if self.low == self.high {
            self.low.shown()
        } else {
            format!("{} to {}", self.low.shown(), self.high.shown())
        }
    }
}

/// What sort of remark a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FindingKind {
    /// A rule was applied to data.
    Verdict,
    /// Something worth doing or knowing.
    Advice,
    /// A danger.
    Caution,
}

/// One remark, with the rule it rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Finding {
    /// What sort of remark this is.
    pub kind: FindingKind,
    /// The verdict, where a rule was applied.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<Verdict>,
    /// The remark.
    pub text: String,
    /// Id of the rule it rests on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rule: Option<String>,
    /// How far from the limit; negative on the unsafe side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin: Option<Margin>,
}

impl Finding {
    pub(crate) fn verdict(
        verdict: Verdict,
        text: impl Into<String>,
        rule: &Rule,
        margin: Option<Margin>,
    ) -> Self {
        Self {
            kind: FindingKind::Verdict,
            verdict: Some(verdict),
            text: text.into(),
            rule: Some(rule.id.clone()),
            margin,
        }
    }

    pub(crate) fn advice(text: impl Into<String>, rule: Option<&Rule>) -> Self {
        let rule = rule.map(|rule| rule.id.clone());
        Self {
            kind: FindingKind::Advice,
            verdict: None,
            text: text.into(),
            rule,
            margin: None,
        }
    }

    pub(crate) fn caution(text: impl Into<String>, rule: Option<&Rule>) -> Self {
        Self {
            kind: FindingKind::Caution,
            ..Self::advice(text, rule)
        }
    }
}

/// Collects the rules, assumptions and cautions while an answer is worked out.
///
/// Every look-up goes through here, so no number reaches an answer without its citation.
pub(crate) struct Basis<'b> {
    pub(crate) book: &'b Rulebook,
    pub(crate) case: Case<'b>,
    /// Units in which sentences are written.
    pub(crate) units: UnitSystem,
    rules: Vec<&'b Rule>,
    assumed: Vec<String>,
    cautions: Vec<String>,
}

impl<'b> Basis<'b> {
    /// Starts an answer under a standard; an unknown standard is refused here.
    pub(crate) fn new(book: &'b Rulebook, case: Case<'b>) -> Result<Self, Error> {
        book.standard(case.standard)?;
        Ok(Self {
            book,
            case,
            units: customary_units(case.standard),
            rules: Vec::new(),
            assumed: Vec::new(),
            cautions: Vec::new(),
        })
    }

    /// The rule that answers a topic, noted as a basis.
    pub(crate) fn find(&mut self, topic: Topic) -> Option<&'b Rule> {
        let rule = self.book.find(topic, &self.case)?;
        self.note(rule);
        Some(rule)
    }

    /// Works with the rules of one process, and puts the case back.
    pub(crate) fn under<T>(&mut self, process: &'b str, work: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.case.process.replace(process);
        let found = work(self);
        self.case.process = before;
        found
    }

    /// As [`find`](Self::find), refusing where no row is published.
    pub(crate) fn require(&mut self, topic: Topic) -> Result<&'b Rule, Error> {
        let rule = self.book.require(topic, &self.case)?;
        self.note(rule);
        Ok(rule)
    }

    /// Every rule for a topic, of the standard asked for and of those it falls back to. None is noted yet.
    ///
    /// The first one decides; the others are what a reader should see where sources disagree.
    pub(crate) fn every(&self, topic: Topic) -> Vec<&'b Rule> {
        let mut rules = self.book.chain(topic, &self.case);
        // A looser rule of the caller's is shown, but stands last, where it does not decide.
        rules.sort_by_key(|rule| self.book.loosened_by(rule, &self.case).is_some());
        rules
    }

    /// The rules that judge a topic, noted as a basis: those of the caller's, looser or not, and the standard's own.
    ///
    /// The worst verdict counts, so a rule of the caller's can make a judgement stricter and never kinder.
    pub(crate) fn judging(&mut self, topic: Topic) -> Vec<&'b Rule> {
        let every = self.book.chain(topic, &self.case);
        let own = every.iter().position(|rule| !rule.added_by_caller);
        let rules: Vec<_> = every
            .into_iter()
            .enumerate()
            .filter(|(place, rule)| rule.added_by_caller || Some(*place) == own)
            .map(|(_, rule)| rule)
            .collect();
        for rule in &rules {
            self.note(rule);
        }
        rules
    }

    /// As [`judging`](Self::judging), refusing where no row is published.
    pub(crate) fn must_judge(&mut self, topic: Topic) -> Result<Vec<&'b Rule>, Error> {
        let deciding = self.require(topic)?;
        if deciding.standard() != self.case.standard {
            self.assume(format!(
                "{} publishes no row for \"{}\"; {} judges.",
                self.case.standard,
                topic.question(),
                deciding.standard()
            ));
        }
        Ok(self.judging(topic))
    }

    /// Says which rules of the caller's are looser than the standard's.
    fn tell_looser(&mut self) {
        let mut topics: Vec<Topic> = self.rules.iter().map(|rule| rule.topic).collect();
        topics.sort_unstable();
        topics.dedup();
        for topic in topics {
            for (rule, base) in self.book.callers(topic, &self.case) {
                let Some(base) = base else { continue };
                self.caution(format!(
                    "Your rule {} ({}) is looser than {} ({}); it is shown and never decides.",
                    rule.id,
                    rule.requirement.words(),
                    base.id,
                    base.requirement.words()
                ));
                self.note(rule);
                self.note(base);
            }
        }
    }

    pub(crate) fn note(&mut self, rule: &'b Rule) {
        if !self.rules.iter().any(|known| known.id == rule.id) {
            self.rules.push(rule);
        }
    }

    /// Takes over the rules, assumptions and cautions of a part that was worked out apart.
    pub(crate) fn absorb(&mut self, mut part: Self) {
        part.tell_looser();
        for rule in part.rules {
            self.note(rule);
        }
        part.assumed.into_iter().for_each(|text| self.assume(text));
        part.cautions
            .into_iter()
            .for_each(|text| self.caution(text));
    }

    pub(crate) fn assume(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.assumed.contains(&text) {
            self.assumed.push(text);
        }
    }

    pub(crate) fn caution(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.cautions.contains(&text) {
            self.cautions.push(text);
        }
    }

    pub(crate) fn finish<T>(mut self, answer: T) -> Answer<T> {
        self.tell_looser();
        let mut cautions = self.cautions;
        cautions.extend(general_cautions());
        let citations = self
            .rules
            .into_iter()
            .map(|rule| self.book.cite(rule))
            .collect();
        Answer {
            answer,
            assumed: self.assumed,
            cautions,
            citations,
        }
    }
}

/// What goes with every answer.
pub(crate) const GENERAL_CAUTIONS: [&str; 3] = [
    "Guidance, not a guarantee: times are estimates, and a thermometer decides.",
    "Follow your local food code and, in a business, your own approved procedures.",
    "Cook with extra care for pregnant people, children under 5, adults of 65 and over, and anyone whose immunity is weak.",
];

pub(crate) fn general_cautions() -> Vec<String> {
    GENERAL_CAUTIONS.map(str::to_owned).into()
}

/// The units that a standard's readers expect where a request does not choose.
pub(crate) fn customary_units(standard: &str) -> UnitSystem {
    if standard.starts_with("us-") {
        UnitSystem::UsCustomary
    } else {
        UnitSystem::Metric
    }
}

/// Defaults that requests share.
pub(crate) mod default {
    use super::{Cut, DEFAULT_STANDARD, Species};

    pub(crate) fn standard() -> String {
        DEFAULT_STANDARD.to_owned()
    }

    pub(crate) const fn species() -> Species {
        Species::Turkey
    }

    pub(crate) const fn cut() -> Cut {
        Cut::Whole
    }
}
