//! Verdicts: three-valued, and failing on the safe side.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::{Duration, DurationUnit, Temperature, TemperatureDifference};

/// The answer to "does this meet the rule?".
///
/// The order runs from worst to best, so the worst of several verdicts is their minimum.
///
/// ```
/// use poulter::rules::Verdict;
/// assert_eq!(Verdict::worst([Verdict::Meets, Verdict::CannotTell]), Verdict::CannotTell);
/// assert_eq!(Verdict::worst([Verdict::Fails, Verdict::CannotTell]), Verdict::Fails);
/// assert_eq!(Verdict::worst([]), Verdict::CannotTell);
/// ```
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The rule is broken.
    Fails,
    /// Data are missing or cannot be trusted; treat the food as if the rule were broken.
    CannotTell,
    /// The rule is met by the data given.
    Meets,
}

impl Verdict {
    /// The worst of several verdicts; nothing to judge is `CannotTell`.
    pub fn worst(verdicts: impl IntoIterator<Item = Self>) -> Self {
        verdicts.into_iter().min().unwrap_or(Self::CannotTell)
    }

    /// The name on the wire.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Meets => "meets",
            Self::Fails => "fails",
            Self::CannotTell => "cannot-tell",
        }
    }

    /// The word a reader sees.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Meets => "meets",
            Self::Fails => "fails",
            Self::CannotTell => "cannot tell",
        }
    }
}

/// How far a reading lies on the safe side of a limit; negative when it lies on the unsafe side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Margin {
    /// A margin of temperature.
    Temperature(TemperatureDifference),
    /// A margin of time.
    Duration(Duration),
}

/// How a value is compared with its limit. The sources differ, so the operator is part of the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Comparison {
    /// Below the limit.
    #[serde(rename = "<")]
    Below,
    /// At the limit or below.
    #[serde(rename = "<=")]
    AtMost,
    /// At the limit or above.
    #[serde(rename = ">=")]
    AtLeast,
    /// Above the limit.
    #[serde(rename = ">")]
    Above,
}

impl Comparison {
    /// Whether `value` stands on the right side of `limit`.
    #[must_use]
    pub fn holds<T: PartialOrd>(self, value: &T, limit: &T) -> bool {
        match self {
            Self::Below => value < limit,
            Self::AtMost => value <= limit,
            Self::AtLeast => value >= limit,
            Self::Above => value > limit,
        }
    }

    /// The words a reader sees before the limit.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Below => "below",
            Self::AtMost => "at most",
            Self::AtLeast => "at least",
            Self::Above => "above",
        }
    }

    const fn wants_more(self) -> bool {
        matches!(self, Self::AtLeast | Self::Above)
    }
}

/// A temperature limit with its operator.
///
/// Where a source prints two units that differ, `temperature` is the binding one and `also_printed` the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TemperatureLimit {
    /// The operator.
    pub is: Comparison,
    /// The binding value in the source's own unit.
    pub temperature: Temperature,
    /// The value the source prints beside it, where it differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub also_printed: Option<Temperature>,
}

impl TemperatureLimit {
    /// Judges one reading.
    ///
    /// ```
    /// use poulter::rules::{Comparison, TemperatureLimit, Verdict};
    /// use poulter::units::Temperature;
    /// let limit = TemperatureLimit {
    ///     is: Comparison::AtLeast,
    ///     temperature: Temperature::parse("165 °F")?,
    ///     also_printed: Some(Temperature::parse("74 °C")?),
    /// };
    /// assert_eq!(limit.judge(Temperature::parse("165 °F")?).0, Verdict::Meets);
    /// assert_eq!(limit.judge(Temperature::parse("164.999 °F")?).0, Verdict::Fails);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    #[must_use]
    pub fn judge(&self, reading: Temperature) -> (Verdict, Margin) {
        let verdict = if self.is.holds(&reading, &self.temperature) {
            Verdict::Meets
        } else {
            Verdict::Fails
        };
        let margin = if self.is.wants_more() {
            reading
                .in_unit(self.temperature.unit())
                .above(self.temperature)
        } else {
            self.temperature.above(reading)
        };
        (verdict, Margin::Temperature(margin))
    }

    /// Whether a higher temperature is the safer one.
    #[must_use]
    pub const fn wants_more(&self) -> bool {
        self.is.wants_more()
    }

    /// "at least 165 °F (74 °C)".
    #[must_use]
    pub fn shown(&self) -> String {
        match self.also_printed {
            Some(other) => format!("{} {} ({other})", self.is.words(), self.temperature),
            None => format!("{} {}", self.is.words(), self.temperature),
        }
    }
}

/// A time limit with its operator.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimeLimit {
    /// The operator.
    pub is: Comparison,
    /// The limit.
    pub duration: Duration,
}

impl TimeLimit {
    /// Judges one duration.
    #[must_use]
    pub fn judge(&self, taken: Duration) -> (Verdict, Margin) {
        let verdict = if self.is.holds(&taken, &self.duration) {
            Verdict::Meets
        } else {
            Verdict::Fails
        };
        let left = self.duration.steps() - taken.steps();
        let left = if self.is.wants_more() { -left } else { left };
        (
            verdict,
            Margin::Duration(Duration::from_steps(left, DurationUnit::Minute)),
        )
    }

    /// "at most 2 h".
    #[must_use]
    pub fn shown(&self) -> String {
        format!("{} {}", self.is.words(), self.duration.shown())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_operator_has_its_three_cases() {
        for (is, under, at, over) in [
            (Comparison::Below, true, false, false),
            (Comparison::AtMost, true, true, false),
            (Comparison::AtLeast, false, true, true),
            (Comparison::Above, false, false, true),
        ] {
            assert_eq!(
                (is.holds(&1, &2), is.holds(&2, &2), is.holds(&3, &2)),
                (under, at, over)
            );
        }
    }

    #[test]
    fn a_margin_is_negative_on_the_unsafe_side() {
        let cold = TemperatureLimit {
            is: Comparison::AtMost,
            temperature: Temperature::parse("40 °F").unwrap(),
            also_printed: None,
        };
        let (verdict, margin) = cold.judge(Temperature::parse("43 °F").unwrap());
        assert_eq!(verdict, Verdict::Fails);
        let three = TemperatureDifference::parse("-3 delta_degF").unwrap();
        assert_eq!(margin, Margin::Temperature(three));
    }
}
