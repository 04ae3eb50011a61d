//! Masses of bird and of salt.

use poulter_core::units::{Mass, Volume};

use crate::boundary::{array_in, each_out, not_null, report};
use crate::error::CallError;
use crate::status::StatusNumber;
use crate::times::mass;
use crate::words::{self, salt_kind, subject};

/// Raw mass to buy for guests of usual appetite, 0 to 1000 of each; `leftovers` is one of POULTER_LEFTOVERS_*.
///
/// `error` may be NULL.
///
/// # Safety
/// `mass_kg` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_purchase_mass(
    standard: u32,
    species: u32,
    cut: u32,
    adults: u32,
    children: u32,
    leftovers: u32,
    mass_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(mass_kg, "mass_kg")?;
            let bird = subject(standard, species, cut)?;
            let found = bird.purchase_mass(adults, children, words::leftovers(leftovers)?)?;
            // SAFETY: not null, and writable by the caller's word.
            mass_kg.write(found.as_kilograms());
            Ok(())
        })
    }
}

/// The same for `len` parties.
///
/// # Safety
/// `adults` and `children` are null or point to `len` readable numbers; `mass_kg` is null or has room for as many.
/// `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_purchase_masses(
    standard: u32,
    species: u32,
    cut: u32,
    adults: *const u32,
    children: *const u32,
    len: usize,
    leftovers: u32,
    mass_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let (adults, children) = (
                array_in(adults, len, "adults")?,
                array_in(children, len, "children")?,
            );
            let (bird, left) = (
                subject(standard, species, cut)?,
                words::leftovers(leftovers)?,
            );
            // SAFETY: as above.
            each_out(len, mass_kg, "mass_kg", |at| {
                let found = bird.purchase_mass(adults[at], children[at], left);
                Ok(found
                    .map_err(|error| error.at(&format!("[{at}]")))?
                    .as_kilograms())
            })
        })
    }
}

/// Salt for a wet brine with `water_l` litres of water, by the standard's strength. `error` may be NULL.
///
/// # Safety
/// `salt_kg` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_wet_brine_salt(
    standard: u32,
    species: u32,
    cut: u32,
    water_l: f64,
    salt_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(salt_kg, "salt_kg")?;
            let water = Volume::from_litres(water_l).map_err(|error| error.at("water_l"))?;
            let found = subject(standard, species, cut)?.wet_brine_salt(water)?;
            // SAFETY: not null, and writable by the caller's word.
            salt_kg.write(found.as_kilograms());
            Ok(())
        })
    }
}

/// The same for `len` volumes of water.
///
/// # Safety
/// `water_l` is null or points to `len` readable numbers; `salt_kg` is null or has room for as many. `error` is null,
/// or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_wet_brine_salts(
    standard: u32,
    species: u32,
    cut: u32,
    water_l: *const f64,
    len: usize,
    salt_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let water = array_in(water_l, len, "water_l")?;
            let bird = subject(standard, species, cut)?;
            // SAFETY: as above.
            each_out(len, salt_kg, "salt_kg", |at| {
                let found =
                    Volume::from_litres(water[at]).and_then(|water| bird.wet_brine_salt(water));
                Ok(found
                    .map_err(|error| error.at(&format!("water_l[{at}]")))?
                    .as_kilograms())
            })
        })
    }
}

/// Salt of a kind, one of POULTER_SALT_KIND_*, to rub on a bird of `mass_kg`, by the standard's amount.
///
/// `error` may be NULL.
///
/// # Safety
/// `salt_kg` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_dry_brine_salt(
    standard: u32,
    species: u32,
    cut: u32,
    kind: u32,
    mass_kg: f64,
    salt_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            not_null(salt_kg, "salt_kg")?;
            let bird = subject(standard, species, cut)?;
            let found = bird.dry_brine_salt(mass(mass_kg, "mass_kg")?, salt_kind(kind)?)?;
            // SAFETY: not null, and writable by the caller's word.
            salt_kg.write(found.as_kilograms());
            Ok(())
        })
    }
}

/// The same for `len` masses.
///
/// # Safety
/// `mass_kg` is null or points to `len` readable numbers; `salt_kg` is null or has room for as many. `error` is null,
/// or came from `poulter_error_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_dry_brine_salts(
    standard: u32,
    species: u32,
    cut: u32,
    kind: u32,
    mass_kg: *const f64,
    len: usize,
    salt_kg: *mut f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about the arrays is the same.
            let masses = array_in(mass_kg, len, "mass_kg")?;
            let (bird, kind) = (subject(standard, species, cut)?, salt_kind(kind)?);
            // SAFETY: as above.
            each_out(len, salt_kg, "salt_kg", |at| {
                let found = Mass::from_kilograms(masses[at])
                    .and_then(|mass| bird.dry_brine_salt(mass, kind));
                Ok(found
                    .map_err(|error| error.at(&format!("mass_kg[{at}]")))?
                    .as_kilograms())
            })
        })
    }
}
