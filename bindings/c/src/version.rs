//! Which library this is.

use std::ffi::{CStr, c_char};

use crate::boundary::guard;

/// The binary interface this header describes. It goes up when a program built against an older header could break.
pub const POULTER_ABI_VERSION: u32 = 1;

const VERSION: &CStr =
    match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
        Ok(version) => version,
        Err(_) => panic!("a version has no zero byte"),
    };

/// The version of the library that was loaded, such as "1.2.3"; never freed. Compare it with `POULTER_VERSION`.
#[unsafe(no_mangle)]
#[must_use]
pub extern "C" fn poulter_version() -> *const c_char {
    guard(VERSION.as_ptr(), || VERSION.as_ptr())
}

/// The binary interface of the library that was loaded. It must equal `POULTER_ABI_VERSION`.
#[unsafe(no_mangle)]
#[must_use]
pub extern "C" fn poulter_abi_version() -> u32 {
    guard(POULTER_ABI_VERSION, || POULTER_ABI_VERSION)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_library_name_carries_the_binary_interface() {
        let build = include_str!("../build.rs");
        let line = format!("const ABI_VERSION: &str = \"{POULTER_ABI_VERSION}\";");
        assert!(build.contains(&line));
    }
}
