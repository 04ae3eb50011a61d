//! The error object.

use poulter_core::Error;

use crate::boundary::guard;
use crate::status::{Status, StatusNumber};
use crate::text::{Terminated, Text};

/// What went wrong in the last call that was given this object.
#[derive(Debug, Default)]
pub struct CallError(Option<Box<Parts>>);

#[derive(Debug)]
struct Parts {
    status: StatusNumber,
    field: Terminated,
    given: Terminated,
    expected: Terminated,
    message: Terminated,
    json: Terminated,
}

impl From<Error> for CallError {
    fn from(error: Error) -> Self {
        Self(Some(Box::new(Parts {
            status: error.code().into(),
            field: error.field().into(),
            given: error.given().into(),
            expected: error.expected().into(),
            message: error.to_string().as_str().into(),
            json: error.to_json().as_str().into(),
        })))
    }
}

impl CallError {
    pub(crate) fn null(argument: &str) -> Self {
        Self::here(
            Status::NullPointer,
            "null-pointer",
            argument,
            "NULL",
            "a valid pointer is needed",
            "pass the address of the argument",
        )
    }

    pub(crate) fn panic() -> Self {
        Self::here(
            Status::Panic,
            "panic",
            "",
            "",
            "the library failed in a way it did not foresee",
            "please report this with the input that caused it",
        )
    }

    pub(crate) fn not_utf8(at: usize) -> Self {
        Self::here(
            Status::NotUtf8,
            "not-utf-8",
            "",
            &format!("no UTF-8 at byte {at}"),
            "UTF-8 text is needed",
            "convert the text before the call",
        )
    }

    pub(crate) fn too_large(len: usize) -> Self {
        Self::here(
            Status::TooLarge,
            "too-large",
            "",
            &format!("{len} bytes"),
            "no object in memory is that long",
            "pass the length of the request in bytes",
        )
    }

    pub(crate) const fn is_empty(&self) -> bool {
        self.0.is_none()
    }

    pub(crate) fn status(&self) -> StatusNumber {
        self.0
            .as_ref()
            .map_or(Status::Ok as StatusNumber, |parts| parts.status)
    }

    /// An error of this interface, shaped like the core's. No part holds a character that JSON escapes.
    fn here(
        status: Status,
        slug: &str,
        field: &str,
        given: &str,
        expected: &str,
        advice: &str,
    ) -> Self {
        let status = status as StatusNumber;
        let place = if field.is_empty() { "" } else { ": " };
        let was = if given.is_empty() { "" } else { " given, " };
        let message = format!("{field}{place}{given}{was}{expected} ({advice}; error {status})");
        let json = format!(
            r#"{{"code":{status},"slug":"{slug}","message":"{message}","field":"{field}","given":"{given}","expected":"{expected}","advice":"{advice}","citations":[]}}"#
        );
        Self(Some(Box::new(Parts {
            status,
            field: field.into(),
            given: given.into(),
            expected: expected.into(),
            message: message.as_str().into(),
            json: json.as_str().into(),
        })))
    }

    fn lend(&self, part: impl FnOnce(&Parts) -> &Terminated) -> Text {
        self.0
            .as_ref()
            .map_or(Text::EMPTY, |parts| part(parts).lend())
    }
}

/// A new error object, to be passed to any number of calls, one at a time. Free it with `poulter_error_free`.
#[unsafe(no_mangle)]
#[must_use]
pub extern "C" fn poulter_error_new() -> *mut CallError {
    guard(std::ptr::null_mut(), || Box::into_raw(Box::default()))
}

/// Frees an error object and the texts it lent. Does nothing with NULL.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_free(error: *mut CallError) {
    guard((), || {
        if !error.is_null() {
            // SAFETY: it came out of `Box::into_raw` in `poulter_error_new`, and is given back once.
            drop(unsafe { Box::from_raw(error) });
        }
    });
}

/// The status of the last call; `POULTER_STATUS_OK` when it succeeded, before any call, and for NULL.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_code(error: *const CallError) -> StatusNumber {
    guard(Status::Panic as StatusNumber, || {
        // SAFETY: null gives None; otherwise the caller lends a live error object.
        unsafe { error.as_ref() }.map_or(Status::Ok as StatusNumber, CallError::status)
    })
}

/// The path of the field at fault, such as `bird.mass`; empty when the whole request is.
///
/// The text of this and of the four functions below lasts until the object is freed or passed to another call. It is
/// empty when there is no error, and for NULL.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_field(error: *const CallError) -> Text {
    // SAFETY: the caller's promise is the same.
    unsafe { lend(error, |parts| &parts.field) }
}

/// What was given, shortened when long.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_given(error: *const CallError) -> Text {
    // SAFETY: the caller's promise is the same.
    unsafe { lend(error, |parts| &parts.given) }
}

/// What is allowed.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_expected(error: *const CallError) -> Text {
    // SAFETY: the caller's promise is the same.
    unsafe { lend(error, |parts| &parts.expected) }
}

/// All of it in one sentence, with what to do about it.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_message(error: *const CallError) -> Text {
    // SAFETY: the caller's promise is the same.
    unsafe { lend(error, |parts| &parts.message) }
}

/// All of it as one JSON object: `code`, `slug`, `message`, `field`, `given`, `expected`, `advice`, `citations`.
///
/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_error_json(error: *const CallError) -> Text {
    // SAFETY: the caller's promise is the same.
    unsafe { lend(error, |parts| &parts.json) }
}

/// # Safety
/// `error` is null, or came from `poulter_error_new` and has not been freed.
unsafe fn lend(error: *const CallError, part: impl FnOnce(&Parts) -> &Terminated) -> Text {
    guard(Text::EMPTY, || {
        // SAFETY: null gives None; otherwise the caller lends a live error object.
        unsafe { error.as_ref() }.map_or(Text::EMPTY, |error| error.lend(part))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errors_of_this_interface_have_the_shape_of_the_core_s() {
        let refused = poulter_core::evaluate_json("{").unwrap_err();
        let core: serde_json::Value = serde_json::from_str(&refused.to_json()).unwrap();
        let names = |value: &serde_json::Value| -> Vec<String> {
            value.as_object().unwrap().keys().cloned().collect()
        };
        for error in [
            CallError::null("out"),
            CallError::panic(),
            CallError::not_utf8(4),
            CallError::too_large(usize::MAX),
        ] {
            let parts = error.0.unwrap();
            let read = |text: &Terminated| {
                let text = text.lend();
                // SAFETY: `parts` lives to the end of this turn and `len` bytes are its own.
                let bytes = unsafe { std::slice::from_raw_parts(text.data.cast(), text.len) };
                String::from_utf8(bytes.to_vec()).unwrap()
            };
            let json: serde_json::Value = serde_json::from_str(&read(&parts.json)).unwrap();
            assert_eq!(names(&json), names(&core));
            assert_eq!(json["code"], parts.status);
            assert_eq!(json["message"], read(&parts.message));
            assert_eq!(json["field"], read(&parts.field));
            assert_eq!(json["given"], read(&parts.given));
            assert_eq!(json["expected"], read(&parts.expected));
        }
    }
}
