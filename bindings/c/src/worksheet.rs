//! Sheets of a plan.

use crate::boundary::{report, text_in};
use crate::buffer::Buffer;
use crate::error::CallError;
use crate::status::StatusNumber;

/// Plans an order and writes a sheet of it.
///
/// `order` is a JSON object of `order_len` bytes with the fields of the request `plan`; `house_rules` may stand beside
/// them. `kind` and `format` are words that end in a zero byte: host, class, key, shopping, labels or cards; and text,
/// markdown, html, csv, xlsx, or ics for host, class and labels. Every format but xlsx is UTF-8 text.
///
/// `out` is overwritten on success, without a look at what it held before, and left alone otherwise. `error` may be
/// NULL. A dinner that is not possible is a sheet that says so, with status 0.
///
/// # Safety
/// `order` is null or points to `order_len` readable bytes. `kind` and `format` are null or end in a zero byte. `out` is
/// null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed. Nobody else uses
/// them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_worksheet(
    order: *const u8,
    order_len: usize,
    kind: *const std::ffi::c_char,
    format: *const std::ffi::c_char,
    out: *mut Buffer,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about `order` and `order_len` is the same.
            let order = text_in(order, order_len)?;
            // SAFETY: the caller's promise about both words is the same.
            let kind = word(kind, "kind")?;
            // SAFETY: as above.
            let format = word(format, "format")?;
            if out.is_null() {
                return Err(CallError::null("out"));
            }
            let sheet = ::poulter_worksheet::worksheet(order, kind, format)?;
            // SAFETY: not null, and writable by the caller's word; what it held is not ours to drop.
            out.write(sheet.into());
            Ok(())
        })
    }
}

/// The caller's word, which ends in a zero byte.
///
/// # Safety
/// `text` is null or ends in a zero byte, and stays unchanged for `'a`.
unsafe fn word<'a>(
    text: *const std::ffi::c_char,
    name: &'static str,
) -> Result<&'a str, CallError> {
    if text.is_null() {
        return Err(CallError::null(name));
    }
    // SAFETY: not null, and ended by the caller's word.
    let bytes = unsafe { std::ffi::CStr::from_ptr(text) };
    bytes
        .to_str()
        .map_err(|error| CallError::not_utf8(error.valid_up_to()))
}

#[cfg(test)]
mod tests {
    use std::ptr;

    use super::*;
    use crate::buffer::poulter_buffer_free;

    #[test]
    fn the_bytes_are_those_of_the_sheets() {
        let order = r#"{"serve_at": "2026-12-19T18:30[Europe/Lisbon]", "guests": {"adults": 8},
            "bird": {"species": "turkey", "mass": "12 lb", "state": "thawed"}}"#;
        for (kind, format, status) in [
            (c"labels", c"csv", 0),
            (c"host", c"xlsx", 0),
            (c"poster", c"text", 105),
            (c"host", c"pdf", 105),
            (c"key", c"ics", 105),
        ] {
            let mut out = Buffer {
                data: ptr::null_mut(),
                len: 0,
            };
            // SAFETY: every pointer comes from a live object in this function, freed at its end.
            unsafe {
                let ended = poulter_worksheet(
                    order.as_ptr(),
                    order.len(),
                    kind.as_ptr(),
                    format.as_ptr(),
                    &raw mut out,
                    ptr::null_mut(),
                );
                assert_eq!(ended, status);
                assert_eq!(out.data.is_null(), status != 0);
                if status == 0 {
                    let bytes = std::slice::from_raw_parts(out.data, out.len);
                    let (kind, format) = (kind.to_str().unwrap(), format.to_str().unwrap());
                    let sheet = ::poulter_worksheet::worksheet(order, kind, format);
                    assert_eq!(bytes, sheet.unwrap());
                }
                poulter_buffer_free(&raw mut out);
            }
        }
    }
}
