//! Curves of the heat model into arrays of the caller's.

use poulter_core::heat::Curve;
use poulter_core::{Error, ErrorKind, Request, Response, evaluate};

use crate::boundary::{report, text_in};
use crate::error::CallError;
use crate::status::StatusNumber;

/// The curve of one place, and what was reckoned along it.
struct Place {
    curve: Curve,
    log10: Option<Vec<f64>>,
}

fn places(text: &str) -> Result<Vec<Place>, Error> {
    let request = serde_json::from_str(text)
        .map_err(|error| Error::new(ErrorKind::Malformed, "", error.to_string()))?;
    match evaluate(&Request::from_value(request)?)? {
        Response::SimulateRoast(of) => Ok(of
            .answer
            .zones
            .into_iter()
            .map(|zone| Place {
                curve: zone.curve,
                log10: Some(zone.kill_log10),
            })
            .collect()),
        Response::SimulateRest(of) => Ok(of
            .answer
            .zones
            .into_iter()
            .map(|zone| Place {
                curve: zone.curve,
                log10: Some(zone.kill_log10),
            })
            .collect()),
        Response::SimulateThaw(of) => Ok(of
            .answer
            .curves
            .into_iter()
            .map(|curve| Place { curve, log10: None })
            .collect()),
        Response::SimulateCooling(of) => {
            let zones = of.answer.growth.map(|growth| growth.zones);
            let mut grown = zones.into_iter().flatten().map(|zone| zone.growth_log10);
            Ok(of
                .answer
                .curves
                .into_iter()
                .map(|curve| Place {
                    curve,
                    log10: grown.next(),
                })
                .collect())
        }
        _ => {
            let expected = "a request of a kind simulate_* is needed";
            Err(Error::new(ErrorKind::UnknownValue, "another", expected).at("kind"))
        }
    }
}

fn place(text: &str, curve: u32) -> Result<Place, CallError> {
    let places = places(text)?;
    let expected = format!("a number below {} is needed", places.len());
    let found = usize::try_from(curve)
        .ok()
        .and_then(|at| places.into_iter().nth(at));
    found.ok_or_else(|| {
        Error::new(ErrorKind::OutOfRange, curve, expected)
            .at("curve")
            .into()
    })
}

fn enough(capacity: usize, count: usize) -> Result<(), CallError> {
    if capacity < count {
        let expected = format!("arrays of at least {count} numbers are needed");
        return Err(Error::new(ErrorKind::OutOfRange, capacity, expected)
            .at("capacity")
            .into());
    }
    Ok(())
}

/// Simulates a thaw, a roast, a rest or cooling and writes the temperature of one place over time.
///
/// `request` is a `simulate_*` request in JSON. `curve` counts the places of the answer from 0: of a roast or a rest the
/// slowest place first; of a thaw or cooling the centre, then the surface. `elapsed_s` and `temp_degC` take up to
/// `capacity` numbers each. `rows` is the number of rows; with both arrays NULL and `capacity` 0 it is all that is
/// written. Arrays that are too short are refused and left as they were. `error` may be NULL.
///
/// # Safety
/// `request` is null or points to `len` readable bytes. `elapsed_s` and `temp_degC` are null or `capacity` numbers may be
/// written to each, and do not overlap. `rows` is null or may be written. `error` is null, or came from
/// `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
#[allow(clippy::too_many_arguments)] // inputs, outputs and the error object, as in every call
pub unsafe extern "C" fn poulter_simulate(
    request: *const u8,
    len: usize,
    curve: u32,
    elapsed_s: *mut f64,
    temp_degC: *mut f64,
    capacity: usize,
    rows: *mut usize,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about `request` and `len` is the same.
            let text = text_in(request, len)?;
            if rows.is_null() {
                return Err(CallError::null("rows"));
            }
            let count_only = elapsed_s.is_null() && temp_degC.is_null() && capacity == 0;
            for (array, name) in [(elapsed_s, "elapsed_s"), (temp_degC, "temp_degC")] {
                if array.is_null() && !count_only {
                    return Err(CallError::null(name));
                }
            }
            let found = place(text, curve)?.curve;
            let count = found.elapsed_s.len();
            if !count_only {
                enough(capacity, count)?;
                // SAFETY: neither is null, and both have room for `capacity` numbers by the caller's word.
                std::ptr::copy_nonoverlapping(found.elapsed_s.as_ptr(), elapsed_s, count);
                // SAFETY: as above.
                std::ptr::copy_nonoverlapping(found.temp_degC.as_ptr(), temp_degC, count);
            }
            // SAFETY: not null, and writable by the caller's word.
            rows.write(count);
            Ok(())
        })
    }
}

/// Simulates a roast, a rest or the cooling of meat and writes what was reckoned along the curve of one place.
///
/// The rows are those of `poulter_simulate` for the same request and `curve`. `log10` takes up to `capacity` numbers, in
/// powers of ten: of a roast or a rest the kill so far, counted no further than its scheme's target; of cooling the
/// growth of Clostridium perfringens so far, without lag. Both explain and are no verdict. A thaw has neither, nor have
/// stock and gravy: they are refused. With `log10` NULL and `capacity` 0 only `rows` is written. An array that is too
/// short is refused and left as it was. `error` may be NULL.
///
/// # Safety
/// `request` is null or points to `len` readable bytes. `log10` is null or `capacity` numbers may be written to it.
/// `rows` is null or may be written. `error` is null, or came from `poulter_error_new` and has not been freed. Nobody
/// else uses them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_simulate_log10(
    request: *const u8,
    len: usize,
    curve: u32,
    log10: *mut f64,
    capacity: usize,
    rows: *mut usize,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: the caller's promise about `request` and `len` is the same.
            let text = text_in(request, len)?;
            if rows.is_null() {
                return Err(CallError::null("rows"));
            }
            let count_only = log10.is_null() && capacity == 0;
            if log10.is_null() && !count_only {
                return Err(CallError::null("log10"));
            }
            let Some(found) = place(text, curve)?.log10 else {
                let expected = "a roast, a rest or the cooling of meat is needed";
                return Err(Error::new(ErrorKind::ModelRange, "another", expected)
                    .at("kind")
                    .into());
            };
            if !count_only {
                enough(capacity, found.len())?;
                // SAFETY: not null, and with room for `capacity` numbers by the caller's word.
                std::ptr::copy_nonoverlapping(found.as_ptr(), log10, found.len());
            }
            // SAFETY: not null, and writable by the caller's word.
            rows.write(found.len());
            Ok(())
        })
    }
}

#[cfg(test)]
mod tests {
    use std::ptr;

    use super::*;

    const ROAST: &str = r#"{"kind":"simulate_roast","mass":"12 lb","start":"40 degF","target":"165 degF","oven":[{"temperature":"325 degF"}]}"#;

    fn call(text: &str, curve: u32, times: &mut [f64], readings: &mut [f64]) -> (u32, usize) {
        let mut rows = 77;
        // SAFETY: the arrays live on this stack and are of equal length.
        let status = unsafe {
            poulter_simulate(
                text.as_ptr(),
                text.len(),
                curve,
                times.as_mut_ptr(),
                readings.as_mut_ptr(),
                times.len(),
                &raw mut rows,
                ptr::null_mut(),
            )
        };
        (status, rows)
    }

    #[test]
    fn the_curve_is_that_of_the_core_at_just_enough_room() {
        let mut rows = 0;
        // SAFETY: no array is given, so none is written.
        let status = unsafe {
            poulter_simulate(
                ROAST.as_ptr(),
                ROAST.len(),
                0,
                ptr::null_mut(),
                ptr::null_mut(),
                0,
                &raw mut rows,
                ptr::null_mut(),
            )
        };
        assert_eq!(status, 0);
        let expected = &places(ROAST).unwrap()[0].curve;
        assert_eq!(rows, expected.elapsed_s.len());
        for (room, status) in [(rows - 1, 106), (rows, 0), (rows + 1, 0)] {
            let (mut times, mut readings) = (vec![-1.0; room], vec![-1.0; room]);
            let found = call(ROAST, 0, &mut times, &mut readings);
            assert_eq!(found.0, status);
            if status == 0 {
                assert_eq!((found.1, &times[..rows]), (rows, &expected.elapsed_s[..]));
                assert_eq!(&readings[..rows], &expected.temp_degC[..]);
            } else {
                assert!(
                    found.1 == 77
                        && times
                            .iter()
                            .chain(&readings)
                            .all(|x| x.to_bits() == (-1.0_f64).to_bits())
                );
            }
        }
    }

    #[test]
    fn every_simulation_has_its_curves_and_nothing_else_does() {
        let roast = r#"{"mass":"12 lb","start":"40 degF","target":"165 degF","oven":[{"temperature":"325 degF"}]}"#;
        let rest = format!(
            r#"{{"kind":"simulate_rest","roast":{roast},"room":"72 degF","duration":"20 min"}}"#
        );
        let thaw = r#"{"kind":"simulate_thaw","mass":"4 lb","start":"0 degF","surroundings":{"kind":"water","temperature":"50 degF"}}"#;
        let cooling = r#"{"kind":"simulate_cooling","food":{"kind":"liquid","depth":"2 in","cooled_from":"both-faces"},"start":"180 degF","thresholds":["70 degF"],"stages":[{"surroundings":{"kind":"ice-bath"},"duration":"2 h"}]}"#;
        let other = r#"{"kind":"thaw_time","mass":"15 lb","method":"refrigerator"}"#;
        let (mut times, mut readings) = (vec![0.0; 400], vec![0.0; 400]);
        for (text, curve, status) in [
            (ROAST, 1, 0),
            (ROAST, 2, 106),
            (&*rest, 1, 0),
            (thaw, 1, 0),
            (cooling, 1, 0),
            (cooling, 2, 106),
            (other, 0, 105),
            ("{", 0, 101),
        ] {
            assert_eq!(
                call(text, curve, &mut times, &mut readings).0,
                status,
                "{text}"
            );
        }
    }

    fn call_log10(text: &str, curve: u32, log10: &mut [f64]) -> (u32, usize) {
        let mut rows = 77;
        // SAFETY: the array lives on this stack.
        let status = unsafe {
            poulter_simulate_log10(
                text.as_ptr(),
                text.len(),
                curve,
                log10.as_mut_ptr(),
                log10.len(),
                &raw mut rows,
                ptr::null_mut(),
            )
        };
        (status, rows)
    }

    #[test]
    fn kill_and_growth_have_the_rows_of_their_curve() {
        let rest = format!(
            r#"{{"kind":"simulate_rest","roast":{{{},"room":"72 degF","duration":"20 min"}}"#,
            &ROAST[r#"{"kind":"simulate_roast","#.len()..]
        );
        let carved = r#"{"kind":"simulate_cooling","food":{"kind":"carved","depth":"2 in","cooled_from":"one-face"},"start":"140 degF","thresholds":["70 degF"],"stages":[{"surroundings":{"kind":"room","temperature":"70 degF"},"duration":"4 h"}]}"#;
        for text in [ROAST, &rest, carved] {
            for curve in [0, 1] {
                let expected = places(text).unwrap().swap_remove(curve);
                let (count, column) = (expected.curve.elapsed_s.len(), expected.log10.unwrap());
                let curve = u32::try_from(curve).unwrap();
                assert_eq!(column.len(), count, "{text}");
                assert!(column.iter().any(|log10| *log10 > 0.0), "{text}");
                for (room, status) in [(count - 1, 106), (count, 0), (count + 1, 0)] {
                    let mut log10 = vec![-1.0; room];
                    let found = call_log10(text, curve, &mut log10);
                    assert_eq!(found.0, status);
                    if status == 0 {
                        assert_eq!((found.1, &log10[..count]), (count, &column[..]));
                    } else {
                        let untouched = |x: &f64| x.to_bits() == (-1.0_f64).to_bits();
                        assert!(found.1 == 77 && log10.iter().all(untouched));
                    }
                }
            }
        }
    }

    #[test]
    fn a_thaw_and_a_stock_have_neither() {
        let thaw = r#"{"kind":"simulate_thaw","mass":"4 lb","start":"0 degF","surroundings":{"kind":"water","temperature":"50 degF"}}"#;
        let stock = r#"{"kind":"simulate_cooling","food":{"kind":"liquid","depth":"2 in","cooled_from":"both-faces"},"start":"180 degF","thresholds":["70 degF"],"stages":[{"surroundings":{"kind":"ice-bath"},"duration":"2 h"}]}"#;
        let mut log10 = vec![-1.0; 400];
        for (text, status) in [(thaw, 401), (stock, 401), ("{", 101)] {
            assert_eq!(call_log10(text, 0, &mut log10), (status, 77), "{text}");
        }
        assert_eq!(call_log10(ROAST, 2, &mut log10).0, 106);
    }
}
