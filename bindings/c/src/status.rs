//! Status numbers.

/// What a function returns: a plain integer, so that a number from a newer library is still a valid value.
///
/// cbindgen:ignore
pub type StatusNumber = u32;

/// How a call ended. A number keeps its meaning for ever; one that is retired stays reserved.
///
/// Below 100: this interface. 1xx input, 2xx units, 3xx rules, 4xx model range, 5xx solver, 9xx internal.
/// Unsafe food is not an error: it is an answer, with status 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Status {
    /// Success; the outputs are written.
    Ok = 0,
    /// An argument that must not be NULL is NULL.
    NullPointer = 1,
    /// A fault inside the library, caught at its border; please report it.
    Panic = 2,
    /// The bytes are not UTF-8.
    NotUtf8 = 3,
    /// The text is not well-formed JSON.
    Malformed = 101,
    /// A field that the request does not have.
    UnknownField = 102,
    /// A field that the request must have.
    MissingField = 103,
    /// A value of the wrong type.
    WrongType = 104,
    /// A word that is not in the list of allowed words.
    UnknownValue = 105,
    /// A number outside the allowed range, or not finite.
    OutOfRange = 106,
    /// A moment that cannot be read, has no zone, or lies in the past.
    BadMoment = 107,
    /// The request is larger than the library accepts.
    TooLarge = 108,
    /// Two fields that contradict each other.
    Conflict = 109,
    /// A number without its unit.
    UnitMissing = 201,
    /// A unit that is unknown or of the wrong dimension.
    UnitUnknown = 202,
    /// A volume of salt without the kind of salt.
    SaltKindMissing = 203,
    /// No published row covers the case.
    NoPublishedRow = 301,
    /// A standard, rule or source that the rulebook does not hold.
    RuleUnknown = 302,
    /// A rule file that breaks the schema.
    RuleInvalid = 303,
    /// A case outside the range in which a model was checked.
    ModelRange = 401,
    /// A numerical method that did not converge.
    NotConverged = 501,
    /// A fault in the library that it noticed itself; please report it.
    Internal = 901,
}

#[cfg(test)]
mod tests {
    use poulter_core::ErrorKind;

    use super::*;

    /// Every status that stands for a kind of the core's, with the core's name for it.
    const KINDS: [(Status, &str); 18] = [
        (Status::Malformed, "malformed"),
        (Status::UnknownField, "unknown-field"),
        (Status::MissingField, "missing-field"),
        (Status::WrongType, "wrong-type"),
        (Status::UnknownValue, "unknown-value"),
        (Status::OutOfRange, "out-of-range"),
        (Status::BadMoment, "bad-moment"),
        (Status::TooLarge, "too-large"),
        (Status::Conflict, "conflict"),
        (Status::UnitMissing, "unit-missing"),
        (Status::UnitUnknown, "unit-unknown"),
        (Status::SaltKindMissing, "salt-kind-missing"),
        (Status::NoPublishedRow, "no-published-row"),
        (Status::RuleUnknown, "rule-unknown"),
        (Status::RuleInvalid, "rule-invalid"),
        (Status::ModelRange, "model-range"),
        (Status::NotConverged, "not-converged"),
        (Status::Internal, "internal"),
    ];

    #[test]
    fn numbers_and_kinds_are_those_of_the_core() {
        let core = ErrorKind::ALL.map(|kind| (StatusNumber::from(kind.code()), kind.slug()));
        let here = KINDS.map(|(status, slug)| (status as StatusNumber, slug));
        assert_eq!(here, core);
    }

    #[test]
    fn numbers_of_this_interface_are_no_kind_of_the_core() {
        for (status, number) in [
            (Status::Ok, 0),
            (Status::NullPointer, 1),
            (Status::Panic, 2),
            (Status::NotUtf8, 3),
        ] {
            assert_eq!(status as StatusNumber, StatusNumber::from(number));
            assert_eq!(ErrorKind::from_code(number), None);
        }
    }
}
