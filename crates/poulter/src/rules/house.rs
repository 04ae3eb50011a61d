//! Rules of the caller's own beside those of the standard: a looser one is told, but never decides.

use crate::units::Duration;

use super::requirement::{CoolingStage, Counting, Requirement};
use super::rule::Rule;
use super::rulebook::{Case, Rulebook};
use super::topic::Topic;
use super::verdict::{Comparison, TemperatureLimit, TimeLimit};

impl Requirement {
    /// Whether this requirement allows anything that `base` does not.
    ///
    /// Limits are compared part by part: the temperature, the hold, the places, the time, the stages. A part that is
    /// missing, or runs in the other direction, counts as looser, since it cannot be shown to be as strict. Amounts and
    /// instructions of the base may be replaced freely; its prohibitions may not.
    ///
    /// ```
    /// use poulter::rules::Rulebook;
    /// let book = Rulebook::builtin();
    /// let law = &book.rule("uk.hold.cold")?.requirement;
    /// let advice = &book.rule("uk.hold.cold.advice")?.requirement;
    /// assert!(law.loosens(advice) && !advice.loosens(law));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn loosens(&self, base: &Self) -> bool {
        match (self, base) {
            (
                Self::MinimumTemperature {
                    places,
                    limit,
                    hold,
                    equivalents,
                },
                Self::MinimumTemperature {
                    places: base_places,
                    limit: base_limit,
                    hold: base_hold,
                    equivalents: base_equivalents,
                },
            ) => {
                let holds_less = base_hold.is_some_and(|base| {
                    hold.is_none_or(|hold| looser(hold.is, &hold.duration, base.is, &base.duration))
                });
                temperature_looser(limit, base_limit)
                    || holds_less
                    || equivalents
                        .iter()
                        .any(|point| !base_equivalents.contains(point))
                    || base_places.iter().any(|place| !places.contains(place))
            }
            (Self::Temperature { limit }, Self::Temperature { limit: base }) => {
                temperature_looser(limit, base)
            }
            (
                Self::Time {
                    limit,
                    surroundings,
                    counting,
                    ..
                },
                Self::Time {
                    limit: base,
                    surroundings: base_surroundings,
                    counting: base_counting,
                    ..
                },
            ) => {
                time_looser(limit, base)
                    || (surroundings.is_some() && surroundings != base_surroundings)
                    || rank(*counting) < rank(*base_counting)
            }
            (
                Self::TimeAsControl {
                    start,
                    ceiling,
                    limit,
                },
                Self::TimeAsControl {
                    start: base_start,
                    ceiling: base_ceiling,
                    limit: base,
                },
            ) => {
                let warmer = base_ceiling.is_some_and(|base| {
                    ceiling.is_none_or(|ceiling| temperature_looser(&ceiling, &base))
                });
                time_looser(limit, base) || temperature_looser(start, base_start) || warmer
            }
            (Self::StagedCooling { stages }, Self::StagedCooling { stages: base }) => {
                stages.len() != base.len()
                    || stages
                        .iter()
                        .zip(base)
                        .any(|(stage, base)| stage_looser(stage, base))
            }
            (
                Self::Keep { keeping, high, .. },
                Self::Keep {
                    keeping: base_keeping,
                    high: base_high,
                    ..
                },
            ) => keeping == base_keeping && high > base_high,
            (Self::DepthLimit { to }, Self::DepthLimit { to: base }) => to > base,
            (Self::MassLimit { to, .. }, Self::MassLimit { to: base, .. }) => to > base,
            (Self::Never { .. }, Self::Never { .. }) => false,
            (_, base) => base.is_limit(),
        }
    }

    /// Whether food can break it: a limit or a prohibition, not an amount or an instruction.
    const fn is_limit(&self) -> bool {
        matches!(
            self,
            Self::MinimumTemperature { .. }
                | Self::Temperature { .. }
                | Self::Time { .. }
                | Self::TimeAsControl { .. }
                | Self::StagedCooling { .. }
                | Self::Keep { .. }
                | Self::DepthLimit { .. }
                | Self::MassLimit { .. }
                | Self::Never { .. }
        )
    }
}

/// Whether `is limit` admits a value that `base_is base` refuses.
fn looser<T: PartialOrd>(is: Comparison, limit: &T, base_is: Comparison, base: &T) -> bool {
    use Comparison::{Above, AtLeast, AtMost, Below};
    match (is, base_is) {
        (AtMost, Below) => limit >= base,
        (AtMost | Below, AtMost) | (Below, Below) => limit > base,
        (AtLeast, Above) => limit <= base,
        (AtLeast | Above, AtLeast) | (Above, Above) => limit < base,
        _ => true,
    }
}

fn temperature_looser(limit: &TemperatureLimit, base: &TemperatureLimit) -> bool {
    looser(limit.is, &limit.temperature, base.is, &base.temperature)
}

fn time_looser(limit: &TimeLimit, base: &TimeLimit) -> bool {
    looser::<Duration>(limit.is, &limit.duration, base.is, &base.duration)
}

/// A clock that starts at a lower temperature starts later.
fn stage_looser(stage: &CoolingStage, base: &CoolingStage) -> bool {
    time_looser(&stage.within, &base.within)
        || temperature_looser(&stage.to, &base.to)
        || stage.from < base.from
        || stage.counted_from != base.counted_from
}

/// The stricter way of counting has the higher rank.
const fn rank(counting: Counting) -> u8 {
    match counting {
        Counting::Single => 0,
        Counting::Cumulative => 1,
        Counting::Once => 2,
    }
}

impl Rulebook {
    /// The rule of the standard that a rule of the caller's would loosen in this case; `None` where it is as strict, or
    /// is not the caller's.
    #[must_use]
    pub fn loosened_by<'b>(&'b self, rule: &Rule, case: &Case<'b>) -> Option<&'b Rule> {
        if !rule.added_by_caller {
            return None;
        }
        let own: Vec<&'b Rule> = self
            .chain(rule.topic, case)
            .into_iter()
            .filter(|base| !base.added_by_caller)
            .collect();
        // Of several rows the one of the same kind is the one that is replaced: cold storage by cold storage.
        let base = own
            .iter()
            .find(|base| alike(&rule.requirement, &base.requirement))
            .or(own.first())?;
        rule.requirement.loosens(&base.requirement).then_some(*base)
    }

    /// The caller's rules for a topic and case, each with the rule of the standard that it loosens.
    pub(crate) fn callers<'b>(
        &'b self,
        topic: Topic,
        case: &Case<'b>,
    ) -> Vec<(&'b Rule, Option<&'b Rule>)> {
        if !self.has_callers {
            return Vec::new();
        }
        self.chain(topic, case)
            .into_iter()
            .filter(|rule| rule.added_by_caller)
            .map(|rule| (rule, self.loosened_by(rule, case)))
            .collect()
    }
}

fn alike(one: &Requirement, other: &Requirement) -> bool {
    let same_shape = std::mem::discriminant(one) == std::mem::discriminant(other);
    same_shape
        && match (one, other) {
            (
                Requirement::Keep { keeping, .. },
                Requirement::Keep {
                    keeping: other_keeping,
                    ..
                },
            ) => keeping == other_keeping,
            (
                Requirement::Time { surroundings, .. },
                Requirement::Time {
                    surroundings: other_surroundings,
                    ..
                },
            ) => surroundings.is_some() == other_surroundings.is_some(),
            _ => true,
        }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pair_of_operators_is_judged_under_at_and_over() {
        use Comparison::{Above, AtLeast, AtMost, Below};
        for (is, base, expected) in [
            (AtMost, AtMost, [false, false, true]),
            (Below, AtMost, [false, false, true]),
            (AtMost, Below, [false, true, true]),
            (Below, Below, [false, false, true]),
            (AtLeast, AtLeast, [true, false, false]),
            (Above, AtLeast, [true, false, false]),
            (AtLeast, Above, [true, true, false]),
            (Above, Above, [true, false, false]),
            (AtLeast, AtMost, [true, true, true]),
        ] {
            let found = [1, 2, 3].map(|limit| looser(is, &limit, base, &2));
            assert_eq!(found, expected, "{is:?} against {base:?}");
        }
    }

    fn requirement(text: &str) -> Requirement {
        serde_json::from_str(text).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    #[test]
    fn every_part_of_every_limit_is_compared_under_at_and_over() {
        let hold = r#"{"type": "minimum-temperature", "places": ["breast"], "limit": {"is": ">=", "temperature": "70 °C"},
            "hold": {"is": ">=", "duration": "2 min"}, "equivalents": [{"temperature": "75 °C", "hold": "30 s"}]}"#;
        let cold = r#"{"type": "temperature", "limit": {"is": "<=", "temperature": "5 °C"}}"#;
        let out = r#"{"type": "time", "limit": {"is": "<=", "duration": "2 h"}, "counting": "cumulative", "then": ""}"#;
        let control = r#"{"type": "time-as-control", "start": {"is": "<=", "temperature": "41 °F"},
            "ceiling": {"is": "<=", "temperature": "70 °F"}, "limit": {"is": "<=", "duration": "6 h"}}"#;
        let cooling = r#"{"type": "staged-cooling", "stages": [{"from": "60 °C", "to": {"is": "<=", "temperature":
            "21 °C"}, "within": {"is": "<=", "duration": "2 h"}, "counted_from": "this-stage"}]}"#;
        let keep = r#"{"type": "keep", "keeping": "refrigerator", "low": "1 d", "high": "2 d", "quality_only": false}"#;
        let depth = r#"{"type": "depth-limit", "to": "2 in"}"#;
        let mass = r#"{"type": "mass-limit", "to": "12 lb"}"#;
        for (base, from, [looser, same, stricter]) in [
            (hold, "70 °C", ["69.999 °C", "70 °C", "70.001 °C"]),
            (hold, "2 min", ["119 s", "2 min", "121 s"]),
            (hold, "75 °C", ["74.999 °C", "75 °C", "75 °C"]),
            (
                hold,
                r#""breast""#,
                [r#""thigh""#, r#""breast""#, r#""breast", "thigh""#],
            ),
            (cold, "5 °C", ["5.001 °C", "41 °F", "4.999 °C"]),
            (out, "2 h", ["2 h 1 s", "120 min", "1 h 59 min"]),
            (out, "cumulative", ["single", "cumulative", "once"]),
            (control, "41 °F", ["41.001 °F", "5 °C", "40.999 °F"]),
            (control, "70 °F", ["70.001 °F", "70 °F", "69.999 °F"]),
            (control, "6 h", ["6 h 1 s", "6 h", "5 h 59 min"]),
            (cooling, "60 °C", ["59.999 °C", "140 °F", "60.001 °C"]),
            (cooling, "21 °C", ["21.001 °C", "21 °C", "20.999 °C"]),
            (cooling, "2 h", ["2 h 1 s", "2 h", "1 h 59 min"]),
            (
                cooling,
                "this-stage",
                ["first-stage", "this-stage", "this-stage"],
            ),
            (keep, r#""2 d""#, [r#""49 h""#, r#""48 h""#, r#""47 h""#]),
            (depth, "2 in", ["2.001 in", "50.8 mm", "1.999 in"]),
            (mass, "12 lb", ["12.001 lb", "192 oz", "11.999 lb"]),
        ] {
            assert!(base.contains(from), "{from} in {base}");
            let found = [looser, same, stricter]
                .map(|to| requirement(&base.replacen(from, to, 1)).loosens(&requirement(base)));
            assert_eq!(found, [true, false, false], "{from} in {base}");
        }
    }

    #[test]
    fn what_is_left_out_or_of_another_shape_is_looser() {
        let hold = r#"{"type": "minimum-temperature", "limit": {"is": ">=", "temperature": "70 °C"},
            "hold": {"is": ">=", "duration": "2 min"}}"#;
        let bare =
            r#"{"type": "minimum-temperature", "limit": {"is": ">=", "temperature": "70 °C"}}"#;
        let listed = r#"{"type": "minimum-temperature", "limit": {"is": ">=", "temperature": "70 °C"},
            "hold": {"is": ">=", "duration": "2 min"}, "equivalents": [{"temperature": "60 °C", "hold": "1 s"}]}"#;
        let out = r#"{"type": "time", "limit": {"is": "<=", "duration": "2 h"}, "counting": "single", "then": ""}"#;
        let hot_day = out.replace(
            r#""counting""#,
            r#""surroundings": {"is": ">", "temperature": "90 °F"}, "counting""#,
        );
        let freezer = r#"{"type": "keep", "keeping": "freezer", "low": "1 d", "high": "9 d", "quality_only": true}"#;
        let chilled = r#"{"type": "keep", "keeping": "refrigerator", "low": "1 d", "high": "2 d", "quality_only": false}"#;
        let instruction = r#"{"type": "do", "text": "Wash it."}"#;
        let never = r#"{"type": "never", "text": "Do not wash it.", "why": "It spreads."}"#;
        for (house, base, expected) in [
            (bare, hold, true),
            (hold, bare, false),
            (listed, hold, true),
            (hold, listed, false),
            (hot_day.as_str(), out, true),
            (out, hot_day.as_str(), false),
            (freezer, chilled, false),
            (instruction, never, true),
            (never, never, false),
            (never, instruction, false),
            (instruction, instruction, false),
            (instruction, hold, true),
            (out, hold, true),
        ] {
            let found = requirement(house).loosens(&requirement(base));
            assert_eq!(found, expected, "{house} against {base}");
        }
    }
}
