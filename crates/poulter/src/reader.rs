//! Reads JSON values into types, with an error that says where and why they do not fit.
//!
//! There is one deserializer for all types, and an error gathers its path on the way out. A general one for JSON with a
//! second one round it that keeps track of the path is the same code two times over, for every type there is.

use std::fmt;

use serde::de::value::BorrowedStrDeserializer;
use serde::de::{
    self, DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Expected, MapAccess,
    SeqAccess, Unexpected, VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use serde_json::{Map, Number, Value};

use crate::error::{Error, ErrorKind};
use crate::units::decode_error;

/// Reads a value.
pub(crate) fn read<T: DeserializeOwned>(value: &Value) -> Result<T, Error> {
    T::deserialize(At(value)).map_err(|misfit| misfit.0)
}

/// A table of TOML as an object; a day is text, and so must a moment be.
pub(crate) fn from_toml(table: toml::Table) -> Result<Map<String, Value>, Error> {
    table
        .into_iter()
        .map(|(name, value)| match json(value) {
            Ok(value) => Ok((name, value)),
            Err(error) => Err(error.at(&name)),
        })
        .collect()
}

fn json(value: toml::Value) -> Result<Value, Error> {
    match value {
        toml::Value::String(text) => Ok(Value::String(text)),
        toml::Value::Integer(number) => Ok(Value::from(number)),
        toml::Value::Boolean(answer) => Ok(Value::Bool(answer)),
        toml::Value::Float(number) => Number::from_f64(number)
            .map(Value::Number)
            .ok_or_else(|| Error::new(ErrorKind::OutOfRange, number, "a finite number is needed")),
        toml::Value::Datetime(day) if day.time.is_none() => Ok(Value::String(day.to_string())),
        toml::Value::Datetime(moment) => Err(Error::new(
            ErrorKind::BadMoment,
            moment,
            "the moment as text in quotation marks is needed, with its zone",
        )),
        toml::Value::Array(items) => items.into_iter().map(json).collect(),
        toml::Value::Table(table) => from_toml(table).map(Value::Object),
    }
}

/// An error on its way out.
#[derive(Debug)]
struct Misfit(Error);

impl Misfit {
    fn wrong_type(expected: &str) -> Self {
        Self(Error::new(
            ErrorKind::WrongType,
            "",
            format!("{} is needed", in_words(expected)),
        ))
    }

    fn at(self, field: &str) -> Self {
        Self(self.0.at(field))
    }

    /// A value of the wrong type is shown as it was given, once.
    fn told_of(self, value: &Value) -> Self {
        if self.0.kind() == ErrorKind::WrongType && self.0.given().is_empty() {
            return Self(self.0.of(value));
        }
        self
    }
}

/// What a type expects, in words that name no type of this language.
fn in_words(expected: &str) -> &str {
    match expected {
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number of 0 or more",
        "i8" | "i16" | "i32" | "i64" => "a whole number",
        "f64" => "a number",
        "a boolean" => "true or false",
        "a string" => "text",
        "a sequence" => "a list",
        "a map" => "an object of named values",
        _ if expected.starts_with("struct ") => "an object of named values",
        other => other,
    }
}

fn one_of(names: &[&str], none: &str) -> String {
    let quoted: Vec<_> = names.iter().map(|name| format!("`{name}`")).collect();
    match quoted.as_slice() {
        [] => none.to_owned(),
        [only] => format!("expected {only}"),
        [first, second] => format!("expected {first} or {second}"),
        many => format!("expected one of {}", many.join(", ")),
    }
}

impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::error::Error for Misfit {}

impl de::Error for Misfit {
    fn custom<M: fmt::Display>(message: M) -> Self {
        let message = message.to_string();
        if let Some(error) = decode_error(&message) {
            return Self(error);
        }
        match message.rsplit_once("expected ") {
            Some((_, expected)) => Self::wrong_type(expected),
            None => Self(Error::new(ErrorKind::WrongType, "", message)),
        }
    }

    fn invalid_type(_: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::wrong_type(&expected.to_string())
    }

    fn invalid_value(_: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::wrong_type(&expected.to_string())
    }

    fn invalid_length(_: usize, expected: &dyn Expected) -> Self {
        Self::wrong_type(&expected.to_string())
    }

    fn unknown_variant(variant: &str, expected: &'static [&'static str]) -> Self {
        let expected = one_of(expected, "there are no variants");
        Self(Error::new(ErrorKind::UnknownValue, variant, expected))
    }

    fn unknown_field(field: &str, expected: &'static [&'static str]) -> Self {
        let expected = one_of(expected, "there are no fields");
        Self(Error::new(ErrorKind::UnknownField, field, expected))
    }

    fn missing_field(field: &'static str) -> Self {
        let expected = format!("the field `{field}` is needed");
        Self(Error::new(ErrorKind::MissingField, "", expected).at(field))
    }
}

/// A value that is read.
#[derive(Clone, Copy)]
struct At<'v>(&'v Value);

impl<'de> At<'de> {
    fn refused<V: Visitor<'de>>(self, visitor: &V) -> Misfit {
        let unexpected = Unexpected::Other("another type");
        <Misfit as de::Error>::invalid_type(unexpected, visitor).told_of(self.0)
    }
}

fn number<'de, V: Visitor<'de>>(number: &Number, visitor: V) -> Result<V::Value, Misfit> {
    if let Some(number) = number.as_u64() {
        return visitor.visit_u64(number);
    }
    if let Some(number) = number.as_i64() {
        return visitor.visit_i64(number);
    }
    visitor.visit_f64(number.as_f64().unwrap_or(f64::NAN))
}

fn items<'de, V: Visitor<'de>>(items: &'de [Value], visitor: V) -> Result<V::Value, Misfit> {
    let mut list = Items { items, next: 0 };
    let made = visitor.visit_seq(&mut list)?;
    if list.next == items.len() {
        Ok(made)
    } else {
        Err(Misfit::wrong_type("fewer elements in array"))
    }
}

fn fields<'de, V: Visitor<'de>>(
    fields: &'de Map<String, Value>,
    visitor: V,
) -> Result<V::Value, Misfit> {
    let mut object = Fields {
        rest: fields.iter(),
        now: None,
    };
    let made = visitor.visit_map(&mut object)?;
    if object.rest.len() == 0 {
        Ok(made)
    } else {
        Err(Misfit::wrong_type("fewer elements in map"))
    }
}

/// The methods of types that are a number in JSON, or are text there.
macro_rules! by_sort {
    (number: $($number:ident)+; text: $($text:ident)+) => {
        $(
            fn $number<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
                match self.0 {
                    Value::Number(value) => number(value, visitor).map_err(|misfit| misfit.told_of(self.0)),
                    _ => Err(self.refused(&visitor)),
                }
            }
        )+
        $(
            fn $text<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
                match self.0 {
                    Value::String(text) => visitor.visit_borrowed_str(text).map_err(|misfit: Misfit| misfit.told_of(self.0)),
                    _ => Err(self.refused(&visitor)),
                }
            }
        )+
    };
}

impl<'de> Deserializer<'de> for At<'de> {
    type Error = Misfit;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.0 {
            Value::Null => visitor.visit_unit(),
            Value::Bool(value) => visitor.visit_bool(*value),
            Value::Number(value) => number(value, visitor),
            Value::String(text) => visitor.visit_borrowed_str(text),
            Value::Array(values) => items(values, visitor),
            Value::Object(values) => fields(values, visitor),
        }
        .map_err(|misfit| misfit.told_of(self.0))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.0 {
            Value::Bool(value) => visitor.visit_bool(*value),
            _ => Err(self.refused(&visitor)),
        }
    }

    by_sort! {
        number: deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64 deserialize_i8 deserialize_i16
            deserialize_i32 deserialize_i64 deserialize_f32 deserialize_f64;
        text: deserialize_char deserialize_str deserialize_string deserialize_identifier
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.0 {
            Value::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.0 {
            Value::Array(values) => items(values, visitor).map_err(|misfit| misfit.told_of(self.0)),
            _ => Err(self.refused(&visitor)),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        match self.0 {
            Value::Object(values) => {
                fields(values, visitor).map_err(|misfit| misfit.told_of(self.0))
            }
            _ => Err(self.refused(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        let one = |values: &'de Map<String, Value>| {
            let (name, value) = values.iter().next()?;
            (values.len() == 1).then_some((name, Some(value)))
        };
        let found = match self.0 {
            Value::String(name) => Some((name, None)),
            Value::Object(values) => one(values),
            _ => None,
        };
        let Some((name, value)) = found else {
            return Err(Misfit::wrong_type("string or map").told_of(self.0));
        };
        let choice = Choice { name, value };
        visitor
            .visit_enum(choice)
            .map_err(|misfit| misfit.told_of(self.0))
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misfit> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! { i128 u128 bytes byte_buf unit unit_struct tuple tuple_struct }
}

struct Items<'v> {
    items: &'v [Value],
    next: usize,
}

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Misfit;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Misfit> {
        let Some(item) = self.items.get(self.next) else {
            return Ok(None);
        };
        let place = self.next;
        self.next += 1;
        let read = seed.deserialize(At(item));
        read.map(Some)
            .map_err(|misfit| misfit.at(&format!("[{place}]")))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.items.len() - self.next)
    }
}

struct Fields<'v> {
    rest: serde_json::map::Iter<'v>,
    now: Option<(&'v str, &'v Value)>,
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Misfit;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Misfit> {
        let Some((name, value)) = self.rest.next() else {
            return Ok(None);
        };
        self.now = Some((name, value));
        let read = seed.deserialize(BorrowedStrDeserializer::new(name));
        read.map(Some).map_err(|misfit: Misfit| misfit.at(name))
    }

    fn next_value_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<T::Value, Misfit> {
        let Some((name, value)) = self.now.take() else {
            return Err(Misfit::wrong_type("a name before its value"));
        };
        seed.deserialize(At(value))
            .map_err(|misfit| misfit.at(name))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.rest.len())
    }
}

/// A variant of an enum: its name alone, or with what it holds.
struct Choice<'v> {
    name: &'v str,
    value: Option<&'v Value>,
}

impl<'de> EnumAccess<'de> for Choice<'de> {
    type Error = Misfit;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Misfit> {
        let variant = seed.deserialize(BorrowedStrDeserializer::new(self.name))?;
        Ok((variant, self))
    }
}

impl<'de> Choice<'de> {
    fn held(&self) -> Result<At<'de>, Misfit> {
        let held = self.value.map(At);
        held.ok_or_else(|| Misfit::wrong_type("a variant that holds a value"))
    }
}

impl<'de> VariantAccess<'de> for Choice<'de> {
    type Error = Misfit;

    fn unit_variant(self) -> Result<(), Misfit> {
        match self.value {
            None | Some(Value::Null) => Ok(()),
            Some(value) => Err(Misfit::wrong_type("a variant without a value").told_of(value)),
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Misfit> {
        let read = seed.deserialize(self.held()?);
        read.map_err(|misfit| misfit.at(self.name))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Misfit> {
        let read = self.held()?.deserialize_seq(visitor);
        read.map_err(|misfit| misfit.at(self.name))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misfit> {
        let read = self.held()?.deserialize_map(visitor);
        read.map_err(|misfit| misfit.at(self.name))
    }
}
