//! The door, as JSON text.

use crate::boundary::{report, text_in};
use crate::buffer::Buffer;
use crate::error::CallError;
use crate::status::StatusNumber;

/// Answers one request, a JSON object with `kind` and the fields of that kind; the answer is JSON too.
///
/// `request` need not end in a zero byte. `out` is overwritten on success, without a look at what it held before, and
/// left alone otherwise. `error` may be NULL.
///
/// The same request gives the same bytes in every language and on every machine.
///
/// # Safety
/// `request` is null or points to `len` readable bytes. `out` is null or may be written. `error` is null, or came from
/// `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_evaluate_json(
    request: *const u8,
    len: usize,
    out: *mut Buffer,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about `request` and `len` is the same.
            let text = text_in(request, len)?;
            if out.is_null() {
                return Err(CallError::null("out"));
            }
            let answer = poulter_core::evaluate_json(text)?;
            // SAFETY: not null, and writable by the caller's word; what it held is not ours to drop.
            out.write(answer.into());
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use std::ptr;

    use super::*;
    use crate::buffer::poulter_buffer_free;
    use crate::error::{
        poulter_error_code, poulter_error_free, poulter_error_json, poulter_error_new,
    };

    #[test]
    fn the_bytes_are_those_of_the_core() {
        for text in [
            r#"{"kind":"thaw_time","mass":"15 lb","method":"refrigerator"}"#,
            r#"{"kind":"thaw_time","mass":"400","method":"refrigerator"}"#,
            r#"{"kind":"check_cooking","readings":{"breast":"NaN °F"}}"#,
            "",
            "\0",
        ] {
            let mut out = Buffer {
                data: ptr::null_mut(),
                len: 0,
            };
            let error = poulter_error_new();
            // SAFETY: every pointer comes from a live object in this function, freed at its end.
            unsafe {
                let status = poulter_evaluate_json(text.as_ptr(), text.len(), &raw mut out, error);
                assert_eq!(poulter_error_code(error), status);
                match poulter_core::evaluate_json(text) {
                    Ok(answer) => {
                        assert_eq!(status, 0);
                        let bytes = std::slice::from_raw_parts(out.data, out.len);
                        assert_eq!(bytes, answer.as_bytes());
                    }
                    Err(refused) => {
                        assert_eq!(status, StatusNumber::from(refused.code()));
                        assert!(out.data.is_null());
                        let json = poulter_error_json(error);
                        let bytes = std::slice::from_raw_parts(json.data.cast::<u8>(), json.len);
                        assert_eq!(bytes, refused.to_json().as_bytes());
                    }
                }
                poulter_buffer_free(&raw mut out);
                poulter_error_free(error);
            }
        }
    }
}
