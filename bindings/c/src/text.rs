//! Text lent to the caller.

use std::ffi::c_char;

/// Text that the library keeps and the caller may read: UTF-8, `len` bytes, then a zero byte that `len` leaves out.
///
/// `data` is never NULL. The text itself may hold zero bytes, where an input did; `len` decides.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct Text {
    /// The first byte.
    pub data: *const c_char,
    /// Bytes before the closing zero.
    pub len: usize,
}

/// The owner of what a [`Text`] shows.
#[derive(Debug)]
pub(crate) struct Terminated(Box<str>);

impl Terminated {
    pub(crate) fn lend(&self) -> Text {
        Text {
            data: self.0.as_ptr().cast(),
            len: self.0.len() - 1,
        }
    }
}

impl From<&str> for Terminated {
    fn from(text: &str) -> Self {
        Self([text, "\0"].concat().into_boxed_str())
    }
}

impl Text {
    pub(crate) const EMPTY: Self = Self {
        data: c"".as_ptr(),
        len: 0,
    };
}

#[cfg(test)]
#[cfg(target_pointer_width = "64")]
mod tests {
    use std::mem::{align_of, offset_of, size_of};

    use super::*;

    #[test]
    fn layout_is_the_published_one() {
        assert_eq!((size_of::<Text>(), align_of::<Text>()), (16, 8));
        assert_eq!((offset_of!(Text, data), offset_of!(Text, len)), (0, 8));
    }
}
