//! Quantities as text and as `{"value", "unit"}`.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{self, MapAccess, Visitor};
use serde::ser::SerializeStruct;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::{Error, ErrorKind};

use super::decimal::Decimal;
use super::quantity::Quantity;
use super::{Duration, Fraction, Length, Mass, Temperature, TemperatureDifference, Volume};

/// Longest text a quantity may have; anything longer is not a quantity.
const LONGEST_TEXT: usize = 64;

pub(super) fn parse_text<Q: Quantity>(text: &str) -> Result<Q, Error> {
    let unreadable = || {
        Error::new(
            ErrorKind::Malformed,
            text,
            format!("a number with a unit is needed, such as {}", Q::EXAMPLE),
        )
    };
    if text.len() > LONGEST_TEXT {
        return Err(unreadable());
    }
    let mut rest = text.trim();
    let mut total: Option<Q> = None;
    loop {
        let Some((value, after)) = Decimal::read(rest) else {
            return Err(not_a_number(rest).unwrap_or_else(unreadable));
        };
        let after = after.trim_start();
        let end = after
            .char_indices()
            .find(|&(at, c)| {
                c.is_ascii_digit() && at > 0 || matches!(c, '½' | '¼' | '¾' | '⅓' | '⅔')
            })
            .map_or(after.len(), |(at, _)| at);
        let unit = after[..end].trim().trim_end_matches(',');
        if after.starts_with(',') {
            return Err(Error::new(
                ErrorKind::Malformed,
                text,
                "write the decimal with a point, such as 1.5 kg",
            ));
        }
        if unit.is_empty() {
            return Err(Error::new(
                ErrorKind::UnitMissing,
                text,
                format!("a number with a unit is needed, such as {}", Q::EXAMPLE),
            ));
        }
        let part = Q::build(value, unit, true)?;
        total = Some(match total {
            None => part,
            Some(sum) => sum.join(part).ok_or_else(unreadable)?,
        });
        rest = after[end..].trim_start();
        if rest.is_empty() {
            return total.ok_or_else(unreadable);
        }
    }
}

fn not_a_number(text: &str) -> Option<Error> {
    let word = text.split_whitespace().next()?.to_lowercase();
    matches!(
        word.trim_start_matches(['-', '+']),
        "nan" | "inf" | "infinity"
    )
    .then(|| Error::new(ErrorKind::OutOfRange, text, "a finite number is needed"))
}

impl Decimal {
    /// The number with its unit, for an error message.
    pub(super) fn shown(self, unit: &str) -> String {
        format!("{} {unit}", self.approximate())
    }
}

struct QuantityVisitor<Q>(PhantomData<Q>);

impl<'de, Q: Quantity> Visitor<'de> for QuantityVisitor<Q> {
    type Value = Q;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a quantity such as {}", Q::EXAMPLE)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Q, E> {
        parse_text(text).map_err(|error| encode_error(&error))
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<Q, E> {
        Err(bare_number::<Q, E>(value))
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> Result<Q, E> {
        Err(bare_number::<Q, E>(value))
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<Q, E> {
        Err(bare_number::<Q, E>(value))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Q, A::Error> {
        let (mut value, mut unit) = (None::<f64>, None::<String>);
        while let Some(key) = map.next_key::<String>()? {
            match key.as_str() {
                "value" => value = Some(map.next_value()?),
                "unit" => unit = Some(map.next_value()?),
                _ => return Err(de::Error::unknown_field(&key, &["value", "unit"])),
            }
        }
        let value = value.ok_or_else(|| de::Error::missing_field("value"))?;
        let unit = unit.ok_or_else(|| de::Error::missing_field("unit"))?;
        Decimal::from_f64(value)
            .and_then(|value| Q::build(value, &unit, false))
            .map_err(|error| encode_error(&error))
    }
}

fn bare_number<Q: Quantity, E: de::Error>(value: impl fmt::Display) -> E {
    encode_error(&Error::new(
        ErrorKind::UnitMissing,
        value,
        format!("a number with a unit is needed, such as {}", Q::EXAMPLE),
    ))
}

/// Serde carries only text. The parts of an error travel inside it and are taken apart again at the door.
pub(crate) fn encode_error<E: de::Error>(error: &Error) -> E {
    E::custom(format_args!(
        "\u{1}{}\u{1f}{}\u{1f}{}\u{1}",
        error.code(),
        error.given(),
        error.expected()
    ))
}

/// The error inside a serde message, if one of ours is in there.
pub(crate) fn decode_error(message: &str) -> Option<Error> {
    let inside = message.split('\u{1}').nth(1)?;
    let mut parts = inside.split('\u{1f}');
    let kind = ErrorKind::from_code(parts.next()?.parse().ok()?)?;
    let given = parts.next()?;
    Some(Error::new(kind, given, parts.next()?))
}

macro_rules! on_the_wire {
    ($($name:ident)+) => { $(
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut map = serializer.serialize_struct(stringify!($name), 2)?;
                map.serialize_field("value", &self.wire_value())?;
                map.serialize_field("unit", self.wire_unit())?;
                map.end()
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                deserializer.deserialize_any(QuantityVisitor::<Self>(PhantomData))
            }
        }

        impl std::str::FromStr for $name {
            type Err = Error;

            fn from_str(text: &str) -> Result<Self, Error> {
                parse_text(text)
            }
        }

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "description": format!("A quantity such as {}", <$name as Quantity>::EXAMPLE),
                    "anyOf": [
                        { "type": "string" },
                        {
                            "type": "object",
                            "properties": {
                                "value": { "type": "number" },
                                "unit": { "enum": <$name as Quantity>::UNITS }
                            },
                            "required": ["value", "unit"],
                            "additionalProperties": false
                        }
                    ]
                })
            }
        }
    )+ };
}

on_the_wire! { Temperature TemperatureDifference Duration Mass Volume Length Fraction }

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_read_as_people_write_it() {
        for (text, kilograms) in [
            ("14 lb", 6.350_293_18),
            ("4 lb 8 oz", 2.041_165_665),
            ("6.35 kg", 6.35),
            ("14lb", 6.350_293_18),
        ] {
            assert_eq!(
                Mass::parse(text).unwrap().as_kilograms(),
                kilograms,
                "{text}"
            );
        }
        for (text, minutes) in [
            ("5 h 30 min", 330.0),
            ("4½ h", 270.0),
            ("1 hour 15 minutes", 75.0),
            ("2h30min", 150.0),
        ] {
            assert_eq!(
                Duration::parse(text).unwrap().as_minutes(),
                minutes,
                "{text}"
            );
        }
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        for (text, kind) in [
            ("400", ErrorKind::UnitMissing),
            ("14 stone", ErrorKind::UnitUnknown),
            ("8 oz 4 lb", ErrorKind::Malformed),
            ("1,5 kg", ErrorKind::Malformed),
            ("NaN kg", ErrorKind::OutOfRange),
            ("-inf kg", ErrorKind::OutOfRange),
            ("heavy", ErrorKind::Malformed),
            ("", ErrorKind::Malformed),
        ] {
            assert_eq!(Mass::parse(text).unwrap_err().kind(), kind, "{text}");
        }
        for text in ["165 F", "74 C", "74 c"] {
            let error = Temperature::parse(text).unwrap_err();
            assert_eq!(error.kind(), ErrorKind::UnitUnknown);
            assert!(error.expected().contains("degC or degF"), "{error}");
        }
    }

    #[test]
    fn the_wire_is_strict_and_the_round_trip_exact() {
        let mass: Mass = serde_json::from_str(r#"{"value":14,"unit":"lb"}"#).unwrap();
        assert_eq!(
            serde_json::to_string(&mass).unwrap(),
            r#"{"value":14.0,"unit":"lb"}"#
        );
        for bad in [
            r#"{"value":14,"unit":"LB"}"#,
            r#"{"value":14,"unit":"pounds"}"#,
            r#"{"value":14}"#,
            r#"{"value":14,"unit":"lb","x":1}"#,
            "14",
        ] {
            assert!(serde_json::from_str::<Mass>(bad).is_err(), "{bad}");
        }
    }
}
