//! A reduction or growth counted in powers of ten.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::SerializeStruct;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use crate::error::{Error, ErrorKind};

/// A reduction in powers of ten: 7 log10 leaves one in ten million. Finite.
///
/// On the wire it is `{"value": 7, "unit": "log10"}`.
///
/// ```
/// use poulter::lethality::LogReduction;
/// let seven = LogReduction::from_log10(7.0)?;
/// assert_eq!(LogReduction::from_log10(6.99)?.shown_against(seven), "6.9 log10");
/// assert_eq!(LogReduction::from_log10(31.0)?.shown_against(seven), "at least 7 log10");
/// # Ok::<(), poulter::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct LogReduction(f64);

const EXPECTED: &str = "a finite number of log10 is needed";

impl LogReduction {
    /// No reduction.
    pub const ZERO: Self = Self(0.0);

    /// From powers of ten.
    pub fn from_log10(value: f64) -> Result<Self, Error> {
        if value.is_finite() {
            Ok(Self(value))
        } else {
            Err(Error::new(ErrorKind::OutOfRange, value, EXPECTED))
        }
    }

    pub(crate) const fn of(value: f64) -> Self {
        Self(value)
    }

    /// Powers of ten.
    #[must_use]
    pub const fn as_log10(self) -> f64 {
        self.0
    }

    /// The figure for a reader: never more than the target, and cut rather than rounded below it.
    #[must_use]
    pub fn shown_against(self, target: Self) -> String {
        // The sums that lead here carry rounding of at most this share.
        if self.0 >= target.0 * (1.0 - 1e-12) {
            format!("at least {} log10", target.0)
        } else {
            format!("{:.1} log10", ((self.0 * 10.0).floor() / 10.0).max(0.0))
        }
    }
}

impl fmt::Display for LogReduction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.2} log10", self.0)
    }
}

impl Serialize for LogReduction {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_struct("LogReduction", 2)?;
        map.serialize_field("value", &self.0)?;
        map.serialize_field("unit", "log10")?;
        map.end()
    }
}

impl<'de> Deserialize<'de> for LogReduction {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        enum Unit {
            #[serde(rename = "log10")]
            Log10,
        }
        #[derive(Deserialize)]
        #[serde(
            deny_unknown_fields,
            expecting = "powers of ten, such as {\"value\": 7, \"unit\": \"log10\"}"
        )]
        struct Wire {
            value: f64,
            unit: Unit,
        }
        let Wire {
            value,
            unit: Unit::Log10,
        } = Wire::deserialize(deserializer)?;
        Self::from_log10(value).map_err(|_| de::Error::custom(EXPECTED))
    }
}

impl JsonSchema for LogReduction {
    fn schema_name() -> Cow<'static, str> {
        "LogReduction".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "object",
            "properties": { "value": { "type": "number" }, "unit": { "const": "log10" } },
            "required": ["value", "unit"],
            "additionalProperties": false
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_tested_under_at_and_over_its_target() {
        let seven = LogReduction::of(7.0);
        for (value, shown) in [
            (6.999_999, "6.9 log10"),
            (7.0, "at least 7 log10"),
            (7.000_001, "at least 7 log10"),
            (0.0, "0.0 log10"),
        ] {
            assert_eq!(LogReduction::of(value).shown_against(seven), shown);
        }
    }

    #[test]
    fn the_wire_carries_the_unit() {
        let text = r#"{"value":6.5,"unit":"log10"}"#;
        let read: LogReduction = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::to_string(&read).unwrap(), text);
        for bad in [
            "7",
            r#"{"value":7,"unit":"ln"}"#,
            r#"{"value":7,"unit":"log10","x":1}"#,
        ] {
            assert!(serde_json::from_str::<LogReduction>(bad).is_err(), "{bad}");
        }
        let error = serde_json::from_str::<LogReduction>("7").unwrap_err();
        assert!(
            error
                .to_string()
                .contains(r#"such as {"value": 7, "unit": "log10"}"#)
        );
        assert!(LogReduction::from_log10(f64::NAN).is_err());
    }
}
