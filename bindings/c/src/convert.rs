//! Conversion of units.

use poulter_core::units::{convert, convert_all};

use crate::boundary::{all_out, array_in, not_null, report};
use crate::error::CallError;
use crate::status::StatusNumber;
use crate::words::unit;

/// A number of the unit `from` as a number of the unit `to`; both are POULTER_UNIT_* of the same sort.
///
/// Whole degrees that meet on both scales meet here: 41 °F is 5 °C. A number that is not finite is refused, and a
/// temperature below absolute zero. `error` may be NULL.
///
/// # Safety
/// `out` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_convert(
    value: f64,
    from: u32,
    to: u32,
    out: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(out, "out")?;
            let found = convert(value, unit(from, "from")?, unit(to, "to")?)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(found);
            Ok(())
        })
    }
}

/// The same for `len` numbers. A NaN stays a NaN: what was missing stays missing.
///
/// # Safety
/// `values` is null or points to `len` readable numbers; `out` is null or has room for as many. `error` is null, or
/// came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_convert_array(
    values: *const f64,
    len: usize,
    from: u32,
    to: u32,
    out: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let given = array_in(values, len, "values")?;
            if len > 0 {
                not_null(out, "out")?;
            }
            let (from, to) = (unit(from, "from")?, unit(to, "to")?);
            // SAFETY: as above.
            all_out(&convert_all(given, from, to)?, out, "out")
        })
    }
}
