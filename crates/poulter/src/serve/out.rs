//! The clock of food out of control: the usual limit, and the shorter one on a hot day.

use crate::answer::{Basis, Finding};
use crate::rules::{Requirement, Rule, TemperatureLimit, TimeLimit, Topic, Verdict};
use crate::units::{Duration, Temperature};

struct Limit<'b> {
    rule: &'b Rule,
    at_most: TimeLimit,
    then: &'b str,
}

/// The limits on the time that food stands out.
pub(crate) struct TimeOut<'b> {
    usual: Limit<'b>,
    hot_day: Option<(TemperatureLimit, Limit<'b>)>,
}

impl<'b> TimeOut<'b> {
    /// The first usual and the first hot-day limit of the topics.
    pub(crate) fn find(
        basis: &mut Basis<'b>,
        topics: &[Topic],
        ids: &mut Vec<String>,
    ) -> Option<Self> {
        let (mut usual, mut hot_day) = (None, None);
        for rule in topics.iter().flat_map(|&topic| basis.every(topic)) {
            let Requirement::Time {
                limit,
                surroundings,
                then,
                ..
            } = &rule.requirement
            else {
                continue;
            };
            let limit = Limit {
                rule,
                at_most: *limit,
                then,
            };
            match surroundings {
                None if usual.is_none() => usual = Some(limit),
                Some(air) if hot_day.is_none() => hot_day = Some((*air, limit)),
                _ => {}
            }
        }
        let found = Self {
            usual: usual?,
            hot_day,
        };
        let hot_rule = found.hot_day.as_ref().map(|(_, hot)| hot.rule);
        for rule in [Some(found.usual.rule), hot_rule].into_iter().flatten() {
            basis.note(rule);
            ids.push(rule.id.clone());
        }
        Some(found)
    }

    /// The limit for these surroundings; the usual one, as an assumption, where they are not known.
    pub(crate) fn chosen(
        &self,
        basis: &mut Basis<'_>,
        surroundings: Option<Temperature>,
    ) -> TimeLimit {
        match (&self.hot_day, surroundings) {
            (Some((air, hot)), Some(given)) if air.judge(given).0 == Verdict::Meets => hot.at_most,
            (Some((air, hot)), None) => {
                basis.assume(format!(
                    "The surroundings are not {}; there the limit is {}.",
                    air.shown(),
                    hot.at_most.shown()
                ));
                self.usual.at_most
            }
            _ => self.usual.at_most,
        }
    }

    /// Judges a time out; between the two limits and with no surroundings known, nobody can tell.
    pub(crate) fn judge(&self, taken: Duration, surroundings: Option<Temperature>) -> Finding {
        let by = |limit: &Limit<'_>| {
            let (verdict, margin) = limit.at_most.judge(taken);
            let mut text = format!(
                "Out for {}; {} is allowed.",
                taken.shown(),
                limit.at_most.shown()
            );
            if verdict == Verdict::Fails {
                text = format!("{text} {}", limit.then);
            }
            Finding::verdict(verdict, text, limit.rule, Some(margin))
        };
        match (&self.hot_day, surroundings) {
            (Some((air, hot)), Some(given)) if air.judge(given).0 == Verdict::Meets => by(hot),
            (Some((air, hot)), None) => {
                let (usual, hot_finding) = (by(&self.usual), by(hot));
                if usual.verdict == hot_finding.verdict {
                    return usual;
                }
                let text = format!(
                    "Out for {}; {} is allowed, but {} where the surroundings are {}, and they are not known.",
                    taken.shown(),
                    self.usual.at_most.shown(),
                    hot.at_most.shown(),
                    air.shown()
                );
                Finding::verdict(Verdict::CannotTell, text, hot.rule, hot_finding.margin)
            }
            _ => by(&self.usual),
        }
    }
}
