//! What stands between a caller and a panic, and between a caller's pointers and Rust.

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::error::CallError;
use crate::status::{Status, StatusNumber};

/// Runs `call`; a panic inside it ends here and `on_panic` is returned.
///
/// Nothing that a panic could leave half done is seen afterwards: outputs are written as the last step of a call.
pub(crate) fn guard<T>(on_panic: T, call: impl FnOnce() -> T) -> T {
    catch_unwind(AssertUnwindSafe(call)).unwrap_or(on_panic)
}

/// Runs `call` and reports how it ended, in the status and in the caller's error object.
///
/// A success touches neither the heap nor, when there was no error before, the error object: scalar calls take a few
/// nanoseconds.
///
/// # Safety
/// `error` is null or came from `poulter_error_new`, has not been freed, and is in use by nobody else.
#[inline]
pub(crate) unsafe fn report(
    error: *mut CallError,
    call: impl FnOnce() -> Result<(), CallError>,
) -> StatusNumber {
    let ended = catch_unwind(AssertUnwindSafe(call));
    // SAFETY: null gives None; otherwise the caller lends a live error object.
    let place = unsafe { error.as_mut() };
    match (ended, place) {
        (Ok(Ok(())), None) => Status::Ok as StatusNumber,
        (Ok(Ok(())), Some(place)) if place.is_empty() => Status::Ok as StatusNumber,
        (ended, place) => settle(ended, place),
    }
}

#[cold]
fn settle(
    ended: std::thread::Result<Result<(), CallError>>,
    place: Option<&mut CallError>,
) -> StatusNumber {
    guard(Status::Panic as StatusNumber, || {
        let ended = ended.map_or_else(
            |_| CallError::panic(),
            |ended| ended.err().unwrap_or_default(),
        );
        let status = ended.status();
        if let Some(place) = place {
            *place = ended;
        }
        status
    })
}

/// The caller's bytes as text.
///
/// # Safety
/// `data` is null or points to `len` readable bytes that stay unchanged for `'a`.
pub(crate) unsafe fn text_in<'a>(data: *const u8, len: usize) -> Result<&'a str, CallError> {
    if data.is_null() {
        return Err(CallError::null("request"));
    }
    // A slice longer than this is undefined behaviour before anything has looked at it.
    if isize::try_from(len).is_err() {
        return Err(CallError::too_large(len));
    }
    // SAFETY: not null, short enough, and readable by the caller's word.
    let bytes = unsafe { std::slice::from_raw_parts(data, len) };
    std::str::from_utf8(bytes).map_err(|error| CallError::not_utf8(error.valid_up_to()))
}

/// The caller's array.
///
/// # Safety
/// `data` is null or points to `len` readable items that stay unchanged for `'a`.
pub(crate) unsafe fn array_in<'a, T>(
    data: *const T,
    len: usize,
    argument: &str,
) -> Result<&'a [T], CallError> {
    if data.is_null() {
        return Err(CallError::null(argument));
    }
    let bytes = len.checked_mul(size_of::<T>());
    // A slice longer than this is undefined behaviour before anything has looked at it.
    if bytes.is_none_or(|bytes| isize::try_from(bytes).is_err()) {
        return Err(CallError::too_large(len));
    }
    // SAFETY: not null, short enough, and readable by the caller's word.
    Ok(unsafe { std::slice::from_raw_parts(data, len) })
}

/// Works out an item for each of `len` and writes them all, or none when one is refused.
///
/// # Safety
/// `out` is null or has room for `len` items.
pub(crate) unsafe fn each_out<T: Copy>(
    len: usize,
    out: *mut T,
    argument: &str,
    item: impl FnMut(usize) -> Result<T, CallError>,
) -> Result<(), CallError> {
    not_null(out, argument)?;
    let found: Vec<T> = (0..len).map(item).collect::<Result<_, _>>()?;
    // SAFETY: the caller's promise is the same.
    unsafe { all_out(&found, out, argument) }
}

/// Writes what was found.
///
/// # Safety
/// `out` is null or has room for as many items.
pub(crate) unsafe fn all_out<T: Copy>(
    found: &[T],
    out: *mut T,
    argument: &str,
) -> Result<(), CallError> {
    not_null(out, argument)?;
    // SAFETY: not null, and with room by the caller's word; what was found lies in memory of this call.
    unsafe { out.copy_from_nonoverlapping(found.as_ptr(), found.len()) };
    Ok(())
}

/// Refuses NULL.
#[inline]
pub(crate) fn not_null<T>(pointer: *const T, argument: &str) -> Result<(), CallError> {
    if pointer.is_null() {
        return Err(CallError::null(argument));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_a_status_and_a_message() {
        let mut error = CallError::default();
        // SAFETY: the object lives on this stack.
        let status = unsafe { report(&raw mut error, || panic!("on purpose")) };
        assert_eq!(status, 2);
        assert_eq!(error.status(), 2);
        assert_eq!(guard(7, || panic!("on purpose")), 7);
    }

    #[test]
    fn a_success_clears_an_old_error() {
        let mut error = CallError::null("request");
        // SAFETY: the object lives on this stack.
        let status = unsafe { report(&raw mut error, || Ok(())) };
        assert_eq!((status, error.status()), (0, 0));
    }

    #[test]
    fn an_impossible_length_is_refused_before_the_bytes_are_touched() {
        let longest = isize::MAX as usize;
        for len in [longest + 1, usize::MAX] {
            // SAFETY: the length is refused, so the pointer is never followed.
            let refused = unsafe { text_in([].as_ptr(), len) }.map_err(|error| error.status());
            assert_eq!(refused, Err(108));
        }
    }
}
