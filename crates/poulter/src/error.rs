//! Errors: one opaque type that says which field, what was given, what is allowed and what to do.
//!
//! Unsafe food is never an error. It is an answer, carried by [`Verdict`](crate::rules::Verdict).

use std::fmt;

use serde::Serialize;

/// What went wrong, with a number that never changes meaning.
///
/// Blocks: 1xx input, 2xx units, 3xx rules, 4xx model range, 5xx solver, 9xx internal.
///
/// ```
/// use poulter::ErrorKind;
/// assert_eq!(ErrorKind::UnitMissing.code(), 201);
/// assert_eq!(ErrorKind::from_code(201), Some(ErrorKind::UnitMissing));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum ErrorKind {
    /// The text is not well-formed JSON, TOML or UTF-8.
    Malformed,
    /// A field that the request does not have.
    UnknownField,
    /// A field that the request must have.
    MissingField,
    /// A value of the wrong type.
    WrongType,
    /// A word that is not in the list of allowed words.
    UnknownValue,
    /// A number outside the allowed range, or not finite.
    OutOfRange,
    /// A moment that cannot be read, has no zone, or lies in the past.
    BadMoment,
    /// The input is larger than the door accepts.
    TooLarge,
    /// Two fields that contradict each other.
    Conflict,
    /// A number without its unit.
    UnitMissing,
    /// A unit that is unknown or of the wrong dimension.
    UnitUnknown,
    /// A volume of salt without the kind of salt.
    SaltKindMissing,
    /// No published row covers the case.
    NoPublishedRow,
    /// A standard, rule or source that the rulebook does not hold.
    RuleUnknown,
    /// A rule file that breaks the schema.
    RuleInvalid,
    /// A case outside the range in which a model was checked.
    ModelRange,
    /// A numerical method that did not converge.
    NotConverged,
    /// A fault in this library; please report it.
    Internal,
}

impl ErrorKind {
    /// Every kind, in the order of the codes.
    pub const ALL: [Self; 18] = [
        Self::Malformed,
        Self::UnknownField,
        Self::MissingField,
        Self::WrongType,
        Self::UnknownValue,
        Self::OutOfRange,
        Self::BadMoment,
        Self::TooLarge,
        Self::Conflict,
        Self::UnitMissing,
        Self::UnitUnknown,
        Self::SaltKindMissing,
        Self::NoPublishedRow,
        Self::RuleUnknown,
        Self::RuleInvalid,
        Self::ModelRange,
        Self::NotConverged,
        Self::Internal,
    ];

    /// The fixed number of this kind.
    #[must_use]
    pub const fn code(self) -> u16 {
        match self {
            Self::Malformed => 101,
            Self::UnknownField => 102,
            Self::MissingField => 103,
            Self::WrongType => 104,
            Self::UnknownValue => 105,
            Self::OutOfRange => 106,
            Self::BadMoment => 107,
            Self::TooLarge => 108,
            Self::Conflict => 109,
            Self::UnitMissing => 201,
            Self::UnitUnknown => 202,
            Self::SaltKindMissing => 203,
            Self::NoPublishedRow => 301,
            Self::RuleUnknown => 302,
            Self::RuleInvalid => 303,
            Self::ModelRange => 401,
            Self::NotConverged => 501,
            Self::Internal => 901,
        }
    }

    /// The kind with this number, if there is one.
    #[must_use]
    pub fn from_code(code: u16) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.code() == code)
    }

    /// A short stable word for logs and look-ups.
    #[must_use]
    pub const fn slug(self) -> &'static str {
        match self {
            Self::Malformed => "malformed",
            Self::UnknownField => "unknown-field",
            Self::MissingField => "missing-field",
            Self::WrongType => "wrong-type",
            Self::UnknownValue => "unknown-value",
            Self::OutOfRange => "out-of-range",
            Self::BadMoment => "bad-moment",
            Self::TooLarge => "too-large",
            Self::Conflict => "conflict",
            Self::UnitMissing => "unit-missing",
            Self::UnitUnknown => "unit-unknown",
            Self::SaltKindMissing => "salt-kind-missing",
            Self::NoPublishedRow => "no-published-row",
            Self::RuleUnknown => "rule-unknown",
            Self::RuleInvalid => "rule-invalid",
            Self::ModelRange => "model-range",
            Self::NotConverged => "not-converged",
            Self::Internal => "internal",
        }
    }

    /// What the caller can do about it.
    #[must_use]
    pub const fn advice(self) -> &'static str {
        match self {
            Self::Malformed => "check the brackets, quotes and encoding near the place named",
            Self::UnknownField => "remove the field or correct its spelling",
            Self::MissingField => "add the field",
            Self::WrongType => "give the type named",
            Self::UnknownValue => "choose one of the values named",
            Self::OutOfRange => "give a value inside the range named",
            Self::BadMoment => "write date, time and zone, such as 2026-12-19T18:30[Europe/Lisbon]",
            Self::TooLarge => "send a smaller request",
            Self::Conflict => "keep one of the two fields",
            Self::UnitMissing => "write the unit beside the number, such as \"14 lb\"",
            Self::UnitUnknown => "use one of the units named",
            Self::SaltKindMissing => "name the kind of salt, or give its mass",
            Self::NoPublishedRow => {
                "ask for a case that the table covers, or rely on a thermometer"
            }
            Self::RuleUnknown => "list the names the rulebook holds",
            Self::RuleInvalid => "correct the rule file at the field named",
            Self::ModelRange => "stay inside the range named",
            Self::NotConverged => "check the inputs for extreme values",
            Self::Internal => "please report this with the input that caused it",
        }
    }
}

/// A refused request.
///
/// ```
/// use poulter::units::Mass;
/// let error = Mass::parse("14").unwrap_err();
/// assert_eq!(error.code(), 201);
/// assert_eq!(error.given(), "14");
/// assert!(error.to_string().contains("write the unit beside the number"));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Error(Box<Inner>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Inner {
    kind: ErrorKind,
    field: String,
    given: String,
    expected: String,
    citations: Vec<String>,
}

/// An error as it goes over the wire.
#[derive(Serialize)]
pub(crate) struct ErrorWire<'a> {
    code: u16,
    slug: &'static str,
    message: String,
    field: &'a str,
    given: &'a str,
    expected: &'a str,
    advice: &'static str,
    citations: &'a [String],
}

impl Error {
    /// A refusal of what was given; a binding uses it for input that its language cannot pass on.
    #[must_use]
    pub fn new(kind: ErrorKind, given: impl fmt::Display, expected: impl Into<String>) -> Self {
        Self(Box::new(Inner {
            kind,
            field: String::new(),
            given: shorten(&given.to_string()),
            expected: expected.into(),
            citations: Vec::new(),
        }))
    }

    /// Puts `field` before the path the error already names.
    #[must_use]
    pub fn at(mut self, field: &str) -> Self {
        let inner = &mut self.0;
        if inner.field.is_empty() {
            field.clone_into(&mut inner.field);
        } else if !field.is_empty() {
            let dot = if inner.field.starts_with('[') {
                ""
            } else {
                "."
            };
            inner.field = format!("{field}{dot}{}", inner.field);
        }
        self
    }

    /// The same refusal of a value that it did not know.
    #[must_use]
    pub(crate) fn of(mut self, given: impl fmt::Display) -> Self {
        self.0.given = shorten(&given.to_string());
        self
    }

    #[must_use]
    pub(crate) fn citing(mut self, rule: impl Into<String>) -> Self {
        self.0.citations.push(rule.into());
        self
    }

    /// The kind of the error.
    #[must_use]
    pub fn kind(&self) -> ErrorKind {
        self.0.kind
    }

    /// The fixed number of the kind.
    #[must_use]
    pub fn code(&self) -> u16 {
        self.0.kind.code()
    }

    /// The path of the field at fault, such as `bird.mass`; empty when the whole input is at fault.
    #[must_use]
    pub fn field(&self) -> &str {
        &self.0.field
    }

    /// What was given, shortened when long.
    #[must_use]
    pub fn given(&self) -> &str {
        &self.0.given
    }

    /// What is allowed.
    #[must_use]
    pub fn expected(&self) -> &str {
        &self.0.expected
    }

    /// Ids of rules that explain the refusal.
    #[must_use]
    pub fn citations(&self) -> &[String] {
        &self.0.citations
    }

    /// True for the 2xx block: a unit is missing, unknown or of the wrong dimension.
    #[must_use]
    pub fn is_unit(&self) -> bool {
        self.code() / 100 == 2
    }

    /// The error as one JSON object, the same text in every language.
    #[must_use]
    pub fn to_json(&self) -> String {
        let wire = ErrorWire {
            code: self.code(),
            slug: self.0.kind.slug(),
            message: self.to_string(),
            field: self.field(),
            given: self.given(),
            expected: self.expected(),
            advice: self.0.kind.advice(),
            citations: self.citations(),
        };
        serde_json::to_string(&wire).unwrap_or_default()
    }
}

fn shorten(text: &str) -> String {
    const LONGEST: usize = 80;
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(LONGEST - 1).collect();
    short.push('…');
    short
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.0.field.is_empty() {
            write!(f, "{}: ", self.0.field)?;
        }
        match self.0.given.as_str() {
            "" => {}
            // JSON text or the name of a type; text among it has its own quotes.
            given if self.0.kind == ErrorKind::WrongType => write!(f, "{given} given, ")?,
            given => write!(f, "{given:?} given, ")?,
        }
        write!(
            f,
            "{} ({}; error {})",
            self.0.expected,
            self.0.kind.advice(),
            self.code()
        )
    }
}

impl std::error::Error for Error {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_slugs_are_unique_and_ordered() {
        for pair in ErrorKind::ALL.windows(2) {
            assert!(pair[0].code() < pair[1].code());
            assert_ne!(pair[0].slug(), pair[1].slug());
        }
    }

    #[test]
    fn long_input_is_shortened() {
        let error = Error::new(ErrorKind::Malformed, "x".repeat(1000), "text");
        assert_eq!(error.given().chars().count(), 80);
    }

    #[test]
    fn paths_grow_from_the_inside_out() {
        let error = Error::new(ErrorKind::OutOfRange, 1, "two")
            .at("mass")
            .at("bird");
        assert_eq!(error.field(), "bird.mass");
    }
}
