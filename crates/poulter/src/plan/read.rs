//! Reading an order from TOML or JSON text.

use serde_json::{Map, Value};

use crate::error::{Error, ErrorKind};
use crate::evaluate::{LARGEST_REQUEST, read};
use crate::reader::from_toml;

use super::order::Order;

impl Order {
    /// Reads an order from text: JSON when it begins with a brace, else TOML.
    ///
    /// Errors: text that is too large or not well-formed, a field that does not fit (named by its path), a quantity
    /// without a unit, or a moment without a zone.
    ///
    /// ```
    /// use poulter::plan::Order;
    /// let order = Order::from_text(
    ///     r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 4}, "bird": {"species": "duck"}}"#,
    /// )?;
    /// assert_eq!(order.guests.adults, 4);
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn from_text(text: &str) -> Result<Self, Error> {
        let text = text.trim_start_matches('\u{feff}');
        if !text.trim_start().starts_with('{') {
            return Self::from_toml(text);
        }
        refuse_large(text)?;
        let fields: Map<String, Value> = serde_json::from_str(text).map_err(|error| {
            Error::new(
                ErrorKind::Malformed,
                text,
                format!("JSON is needed: {error}"),
            )
        })?;
        read(fields)
    }

    /// Reads an order from TOML.
    ///
    /// A moment is text here too: a TOML date and time has no place for the zone.
    ///
    /// Errors: as [`from_text`](Self::from_text).
    ///
    /// ```
    /// use poulter::plan::Order;
    /// let text = r#"
    /// serve_at = "2026-12-19T18:30[Europe/Lisbon]"
    /// guests = { adults = 11, children = 3 }
    /// [bird]
    /// species = "turkey"
    /// mass = "6.8 kg"
    /// "#;
    /// assert_eq!(Order::from_toml(text)?.guests.children, 3);
    /// let error = Order::from_toml(&text.replace("6.8 kg", "6.8")).unwrap_err();
    /// assert_eq!((error.code(), error.field()), (201, "bird.mass"));
    /// # Ok::<(), poulter::Error>(())
    /// ```
    pub fn from_toml(text: &str) -> Result<Self, Error> {
        refuse_large(text)?;
        let table: toml::Table = text.parse().map_err(|error: toml::de::Error| {
            let line = error
                .span()
                .and_then(|span| text.get(..span.start))
                .map_or(1, |before| before.matches('\n').count() + 1);
            let given = text.lines().nth(line - 1).unwrap_or_default();
            let message = error.message();
            Error::new(
                ErrorKind::Malformed,
                given,
                format!("TOML is needed, but on line {line}: {message}"),
            )
        })?;
        read(from_toml(table)?)
    }
}

fn refuse_large(text: &str) -> Result<(), Error> {
    if text.len() <= LARGEST_REQUEST {
        return Ok(());
    }
    Err(Error::new(
        ErrorKind::TooLarge,
        format!("{} bytes", text.len()),
        format!("at most {LARGEST_REQUEST} bytes are read"),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SMALL: &str = r#"
serve_at = "2026-12-19T18:30[Europe/Lisbon]"
guests = { adults = 2 }
bird = { species = "turkey", mass = "5 kg" }
"#;

    #[test]
    fn both_notations_say_the_same() {
        let order = Order::from_text(SMALL).unwrap();
        let json = serde_json::to_string(&order).unwrap();
        let again = Order::from_text(&format!("\u{feff} {json}")).unwrap();
        assert_eq!(serde_json::to_string(&again).unwrap(), json);
    }

    #[test]
    fn every_misfit_names_its_field() {
        let with = |line: &str| format!("{SMALL}\n{line}\n");
        for (text, kind, field) in [
            (String::new(), ErrorKind::MissingField, "serve_at"),
            ("serve_at".to_owned(), ErrorKind::Malformed, ""),
            ("{".to_owned(), ErrorKind::Malformed, ""),
            (with("colour = 1"), ErrorKind::UnknownField, "colour"),
            (
                with("[kitchen]\nfan = true"),
                ErrorKind::UnknownField,
                "kitchen.fan",
            ),
            (
                with("[kitchen]\naltitude = nan"),
                ErrorKind::OutOfRange,
                "kitchen.altitude",
            ),
            (
                with("now = 2026-12-13T09:00:00Z"),
                ErrorKind::BadMoment,
                "now",
            ),
            (
                SMALL.replace("[Europe/Lisbon]", ""),
                ErrorKind::BadMoment,
                "serve_at",
            ),
            (
                SMALL.replace("5 kg", "400"),
                ErrorKind::UnitMissing,
                "bird.mass",
            ),
            (
                SMALL.replace("\"5 kg\"", "400"),
                ErrorKind::UnitMissing,
                "bird.mass",
            ),
            (
                SMALL.replace("5 kg", "NaN kg"),
                ErrorKind::OutOfRange,
                "bird.mass",
            ),
            (
                SMALL.replace("turkey", "dodo"),
                ErrorKind::UnknownValue,
                "bird.species",
            ),
            (
                SMALL.replace("adults = 2", "adults = -2"),
                ErrorKind::WrongType,
                "guests.adults",
            ),
        ] {
            let error = Order::from_text(&text).unwrap_err();
            assert_eq!(
                (error.kind(), error.field()),
                (kind, field),
                "{text}: {error}"
            );
        }
    }

    #[test]
    fn a_fault_in_the_notation_names_its_line() {
        let error = Order::from_toml("serve_at = \"x\"\nguests = }\n").unwrap_err();
        assert!(error.to_string().contains("line 2"), "{error}");
    }

    #[test]
    fn size_is_limited_under_at_and_over() {
        for (length, kind) in [
            (LARGEST_REQUEST - 1, ErrorKind::MissingField),
            (LARGEST_REQUEST, ErrorKind::MissingField),
            (LARGEST_REQUEST + 1, ErrorKind::TooLarge),
        ] {
            let comment = format!("#{}", "x".repeat(length - 1));
            let error = Order::from_text(&comment).unwrap_err();
            assert_eq!(error.kind(), kind, "{length}");
        }
    }
}
