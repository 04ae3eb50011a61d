//! One minimum temperature, and the judgement of one place by it.

use crate::answer::Finding;
use crate::bird::Place;
use crate::error::{Error, ErrorKind};
use crate::rules::{HoldPoint, Requirement, Rule, TemperatureLimit, TimeLimit, Verdict};
use crate::units::{Duration, Temperature, TemperatureDifference};

/// Refuses a thermometer that is better than right.
pub(crate) fn refuse_negative(accuracy: Option<TemperatureDifference>) -> Result<(), Error> {
    match accuracy {
        Some(accuracy) if accuracy < TemperatureDifference::ZERO => Err(Error::new(
            ErrorKind::OutOfRange,
            accuracy,
            "an accuracy of zero or more is needed",
        )
        .at("accuracy")),
        _ => Ok(()),
    }
}

/// A minimum temperature with its hold and the pairs that count as the same.
pub(crate) struct Minimum<'b> {
    rule: &'b Rule,
    limit: &'b TemperatureLimit,
    hold: Option<&'b TimeLimit>,
    equivalents: &'b [HoldPoint],
}

impl<'b> Minimum<'b> {
    /// The minimum of a rule with the places it names; `None` where the rule names no temperature.
    pub(crate) fn of(rule: &'b Rule) -> Option<(Self, &'b [Place])> {
        match &rule.requirement {
            Requirement::MinimumTemperature {
                places,
                limit,
                hold,
                equivalents,
            } => Some((
                Self {
                    rule,
                    limit,
                    hold: hold.as_ref(),
                    equivalents,
                },
                places,
            )),
            _ => None,
        }
    }

    /// Judges one place.
    pub(crate) fn judge(
        &self,
        place: Place,
        reading: Option<Temperature>,
        held: Option<Duration>,
        accuracy: Option<TemperatureDifference>,
    ) -> Finding {
        let Some(given) = reading else {
            let text = format!(
                "{}: no reading; {} is needed",
                place.name(),
                self.limit.shown()
            );
            return Finding::verdict(Verdict::CannotTell, text, self.rule, None);
        };
        let sure = match accuracy {
            Some(accuracy) => given.raised_by(TemperatureDifference::ZERO.minus(accuracy)),
            None => given,
        };
        let (at_limit, margin) = self.limit.judge(sure);
        let held_for = held.unwrap_or(Duration::ZERO);
        let by_equivalent = self
            .equivalents
            .iter()
            .any(|point| sure >= point.temperature && held_for >= point.hold);
        let verdict = match (at_limit, self.hold) {
            _ if by_equivalent => Verdict::Meets,
            (Verdict::Meets, Some(hold)) => match held {
                Some(held) => hold.judge(held).0,
                None => Verdict::CannotTell,
            },
            (verdict, _) => verdict,
        };
        let text = self.say(place, given, verdict, by_equivalent, accuracy);
        Finding::verdict(verdict, text, self.rule, Some(margin))
    }

    fn say(
        &self,
        place: Place,
        given: Temperature,
        verdict: Verdict,
        by_equivalent: bool,
        accuracy: Option<TemperatureDifference>,
    ) -> String {
        let mut text = format!("{}: {given}", place.name());
        if let Some(accuracy) = accuracy {
            text = format!("{text} less {} for the thermometer", accuracy.shown());
        }
        if by_equivalent && self.limit.judge(given).0 == Verdict::Fails {
            return text + " for the time held counts as the same by the standard's list";
        }
        text += match verdict {
            Verdict::Meets => ", meets ",
            Verdict::Fails => ", fails ",
            Verdict::CannotTell => ", but how long it held is not known; the rule is ",
        };
        text += &self.limit.shown();
        if let Some(hold) = self.hold {
            text = format!("{text} for {}", hold.shown());
        }
        text
    }
}
