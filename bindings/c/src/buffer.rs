//! Bytes handed over to the caller.

use std::ptr;

use crate::boundary::guard;

/// Bytes that the caller owns and gives back with `poulter_buffer_free`. Start from `{NULL, 0}`.
///
/// A zero byte that `len` leaves out follows the last byte. The bytes may be changed, `data` and `len` may not.
#[derive(Debug)]
#[repr(C)]
pub struct Buffer {
    /// The first byte; NULL when there is nothing to free.
    pub data: *mut u8,
    /// Bytes before the closing zero.
    pub len: usize,
}

impl Buffer {
    const EMPTY: Self = Self {
        data: ptr::null_mut(),
        len: 0,
    };
}

impl From<String> for Buffer {
    fn from(text: String) -> Self {
        text.into_bytes().into()
    }
}

impl From<Vec<u8>> for Buffer {
    fn from(mut bytes: Vec<u8>) -> Self {
        let len = bytes.len();
        bytes.push(0);
        Self {
            data: Box::into_raw(bytes.into_boxed_slice()).cast(),
            len,
        }
    }
}

/// Frees what the buffer holds and sets it to `{NULL, 0}`. Does nothing with NULL or an empty buffer.
///
/// # Safety
/// `buffer` is null, or points to a buffer that is `{NULL, 0}` or was filled by this library.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_buffer_free(buffer: *mut Buffer) {
    guard((), || {
        // SAFETY: null gives None; otherwise the caller lends a live buffer.
        let Some(buffer) = (unsafe { buffer.as_mut() }) else {
            return;
        };
        let Buffer { data, len } = std::mem::replace(buffer, Buffer::EMPTY);
        if !data.is_null() {
            // SAFETY: `data` and `len` are as `Buffer::from` left them, one byte short of the boxed slice.
            drop(unsafe { Box::from_raw(ptr::slice_from_raw_parts_mut(data, len + 1)) });
        }
    });
}

#[cfg(test)]
mod tests {
    use std::mem::{align_of, offset_of, size_of};

    use super::*;

    #[test]
    #[cfg(target_pointer_width = "64")]
    fn layout_is_the_published_one() {
        assert_eq!((size_of::<Buffer>(), align_of::<Buffer>()), (16, 8));
        assert_eq!((offset_of!(Buffer, data), offset_of!(Buffer, len)), (0, 8));
    }

    #[test]
    fn a_buffer_ends_in_a_zero_and_can_be_freed_twice() {
        for text in ["", "{}", "a\0b"] {
            let mut buffer = Buffer::from(text.to_owned());
            assert_eq!(buffer.len, text.len());
            // SAFETY: the buffer was just made; its zero lies one past `len`.
            let bytes = unsafe { std::slice::from_raw_parts(buffer.data, buffer.len + 1) };
            assert_eq!(bytes, [text.as_bytes(), b"\0"].concat());
            for _ in 0..2 {
                // SAFETY: filled above, and empty the second time.
                unsafe { poulter_buffer_free(&raw mut buffer) };
                assert!(buffer.data.is_null());
                assert_eq!(buffer.len, 0);
            }
        }
    }
}
