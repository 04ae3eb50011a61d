//! The probes in a roast, reading by reading.

use poulter_core::heat::{Probe as CoreProbe, ProbePlace as CorePlace};
use poulter_core::rules::Rulebook;
use poulter_core::units::{Duration, Temperature};
use poulter_core::{Error, ErrorKind, Request, Response};
use serde_json::Value;

use crate::batch::Verdict;
use crate::boundary::{guard, report, text_in};
use crate::buffer::Buffer;
use crate::error::CallError;
use crate::status::StatusNumber;

/// Where a probe is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum ProbePlace {
    /// Middle of the thickest part of the breast.
    Breast = 1,
    /// Middle of the thickest part of the thigh, away from bone.
    Thigh = 2,
    /// Innermost part of the wing.
    Wing = 3,
    /// Centre of the stuffing.
    Stuffing = 4,
    /// The air of the oven.
    Oven = 5,
}

/// The probes in one roast, with all they have shown. One handle serves one thread at a time.
#[derive(Debug)]
pub struct Probe(CoreProbe);

/// What the readings say up to now. A time that cannot be told is NaN.
#[derive(Clone, Copy, Debug)]
#[repr(C)]
pub struct ProbeState {
    /// One of POULTER_VERDICT_*, over every place that the standard names.
    pub verdict: u32,
    /// Number of findings: a probe on bone or pulled out, a door that opened, an oven that is off.
    pub findings: u32,
    /// Least kill up to now of the places without a fault, in powers of ten; NaN when there is none.
    pub log_reduction: f64,
    /// Seconds from the start until every place with a probe is at the target, one time in ten sooner.
    pub low_s: f64,
    /// The same, as likely sooner as later.
    pub likely_s: f64,
    /// The same, one time in ten later.
    pub high_s: f64,
}

fn place_of(number: u32) -> Result<CorePlace, Error> {
    for (known, place) in [
        (ProbePlace::Breast, CorePlace::Breast),
        (ProbePlace::Thigh, CorePlace::Thigh),
        (ProbePlace::Wing, CorePlace::Wing),
        (ProbePlace::Stuffing, CorePlace::Stuffing),
        (ProbePlace::Oven, CorePlace::Oven),
    ] {
        if known as u32 == number {
            return Ok(place);
        }
    }
    let expected = "one of POULTER_PROBE_PLACE_* is needed";
    Err(Error::new(ErrorKind::UnknownValue, number, expected).at("place"))
}

fn created(text: &str) -> Result<CoreProbe, Error> {
    let mut request: Value = serde_json::from_str(text)
        .map_err(|error| Error::new(ErrorKind::Malformed, "", error.to_string()))?;
    if let Value::Object(fields) = &mut request {
        fields.entry("kind").or_insert_with(|| "forecast".into());
    }
    let Request::Forecast(query) = Request::from_value(request)? else {
        let expected = "a request of the kind forecast is needed";
        return Err(Error::new(ErrorKind::UnknownValue, "another", expected).at("kind"));
    };
    CoreProbe::new(&query)
}

fn state(probe: &CoreProbe) -> Result<ProbeState, Error> {
    let state = probe.state(Rulebook::builtin())?.answer;
    let seconds = |end: fn(&poulter_core::heat::Band) -> Duration| {
        let time = state.forecast.time_to_target.as_ref();
        time.map_or(f64::NAN, |time| end(time).as_seconds())
    };
    let kills = state
        .lethality
        .iter()
        .map(|place| place.estimate.as_log10());
    Ok(ProbeState {
        verdict: Verdict::from(state.verdict) as u32,
        findings: u32::try_from(state.forecast.findings.len()).unwrap_or(u32::MAX),
        log_reduction: kills.fold(f64::NAN, f64::min),
        low_s: seconds(|time| time.low),
        likely_s: seconds(|time| time.likely),
        high_s: seconds(|time| time.high),
    })
}

/// Makes a handle from a `forecast` request in JSON; `kind` may be left out, and so may the readings. Free it with
/// `poulter_probe_free`.
///
/// The ensemble is computed here, which takes a fraction of a second; everything after it is quick. `error` may be NULL.
///
/// # Safety
/// `request` is null or points to `len` readable bytes. `out` is null or may be written. `error` is null, or came from
/// `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_probe_new(
    request: *const u8,
    len: usize,
    out: *mut *mut Probe,
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
            let made = Box::new(Probe(created(text)?));
            // SAFETY: not null, and writable by the caller's word.
            out.write(Box::into_raw(made));
            Ok(())
        })
    }
}

/// Adds a reading: seconds since the roast went in, and degrees Celsius. `place` is one of POULTER_PROBE_PLACE_*.
///
/// The readings of one place come in order of time. A reading that is refused changes nothing. `error` may be NULL.
///
/// # Safety
/// `probe` is null, or came from `poulter_probe_new` and has not been freed. `error` is null, or came from
/// `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
#[allow(non_snake_case)] // the unit is written as it is everywhere
pub unsafe extern "C" fn poulter_probe_push(
    probe: *mut Probe,
    place: u32,
    elapsed_s: f64,
    temp_degC: f64,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: null gives None; otherwise the caller lends a live handle.
            let probe = probe.as_mut().ok_or_else(|| CallError::null("probe"))?;
            let elapsed = Duration::from_seconds(elapsed_s).map_err(|e| e.at("elapsed_s"))?;
            let reading = Temperature::from_celsius(temp_degC).map_err(|e| e.at("temp_degC"))?;
            probe.0.push(place_of(place)?, elapsed, reading)?;
            Ok(())
        })
    }
}

/// Verdict, kill and forecast from the readings so far. May be asked at any time and changes nothing. `error` may be
/// NULL.
///
/// # Safety
/// `probe` is null, or came from `poulter_probe_new` and has not been freed. `out` is null or may be written. `error` is
/// null, or came from `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_probe_ask(
    probe: *const Probe,
    out: *mut ProbeState,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: null gives None; otherwise the caller lends a live handle.
            let probe = probe.as_ref().ok_or_else(|| CallError::null("probe"))?;
            if out.is_null() {
                return Err(CallError::null("out"));
            }
            let found = state(&probe.0)?;
            // SAFETY: not null, and writable by the caller's word.
            out.write(found);
            Ok(())
        })
    }
}

/// The same in full, as JSON: the bytes that `poulter_evaluate_json` gives for the same roast and readings.
///
/// # Safety
/// `probe` is null, or came from `poulter_probe_new` and has not been freed. `out` is null or may be written. `error` is
/// null, or came from `poulter_error_new` and has not been freed. Nobody else uses them during the call.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_probe_ask_json(
    probe: *const Probe,
    out: *mut Buffer,
    error: *mut CallError,
) -> StatusNumber {
    // SAFETY: the caller's promise about `error` is the same.
    unsafe {
        report(error, || {
            // SAFETY: null gives None; otherwise the caller lends a live handle.
            let probe = probe.as_ref().ok_or_else(|| CallError::null("probe"))?;
            if out.is_null() {
                return Err(CallError::null("out"));
            }
            let response = Response::Forecast(probe.0.state(Rulebook::builtin())?);
            let text = serde_json::to_string(&response)
                .map_err(|error| Error::new(ErrorKind::Internal, "", error.to_string()))?;
            // SAFETY: not null, and writable by the caller's word; what it held is not ours to drop.
            out.write(text.into());
            Ok(())
        })
    }
}

/// Frees a handle. Does nothing with NULL.
///
/// # Safety
/// `probe` is null, or came from `poulter_probe_new` and has not been freed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn poulter_probe_free(probe: *mut Probe) {
    guard((), || {
        if !probe.is_null() {
            // SAFETY: it came out of `Box::into_raw` in `poulter_probe_new`, and is given back once.
            drop(unsafe { Box::from_raw(probe) });
        }
    });
}

#[cfg(test)]
mod tests {
    use std::ptr;

    use super::*;
    use crate::buffer::poulter_buffer_free;

    const ROAST: &str = r#"{"roast":{"mass":"12 lb","start":"40 degF","target":"165 degF","oven":[{"temperature":"325 degF"}]},"probes":[{"place":"breast"}],"members":200}"#;

    /// Readings pushed one by one answer as those in one request do, byte for byte.
    #[test]
    fn pushed_readings_answer_as_those_of_the_request() {
        let mut probe = ptr::null_mut();
        let mut buffer = Buffer {
            data: ptr::null_mut(),
            len: 0,
        };
        let mut state = ProbeState {
            verdict: 9,
            findings: 9,
            log_reduction: 0.0,
            low_s: 0.0,
            likely_s: 0.0,
            high_s: 0.0,
        };
        let no_error = ptr::null_mut();
        // SAFETY: the handle is made here, used by this thread alone and freed once.
        let text = unsafe {
            assert_eq!(
                poulter_probe_new(ROAST.as_ptr(), ROAST.len(), &raw mut probe, no_error),
                0
            );
            for (elapsed, celsius) in [(3600.0, 20.0), (4200.0, 26.0)] {
                assert_eq!(poulter_probe_push(probe, 1, elapsed, celsius, no_error), 0);
            }
            for (place, elapsed, celsius, status) in [
                (1, 4200.0, 26.0, 106),
                (0, 6000.0, 40.0, 105),
                (2, 6000.0, 40.0, 105),
                (1, f64::NAN, 40.0, 106),
                (1, 6000.0, f64::NAN, 106),
                (1, 6000.0, 351.0, 401),
            ] {
                assert_eq!(
                    poulter_probe_push(probe, place, elapsed, celsius, no_error),
                    status,
                    "{place} {elapsed} {celsius}"
                );
            }
            assert_eq!(poulter_probe_ask(probe, &raw mut state, no_error), 0);
            assert_eq!(poulter_probe_ask_json(probe, &raw mut buffer, no_error), 0);
            poulter_probe_free(probe);
            let text = std::slice::from_raw_parts(buffer.data, buffer.len).to_vec();
            poulter_buffer_free(&raw mut buffer);
            String::from_utf8(text).unwrap()
        };
        let request = ROAST.replace(
            r#"{"place":"breast"}"#,
            r#"{"place":"breast","readings":[{"elapsed":"3600 s","temperature":"20 degC"},{"elapsed":"4200 s","temperature":"26 degC"}]}"#,
        ).replacen('{', r#"{"kind":"forecast","#, 1);
        assert_eq!(text, poulter_core::evaluate_json(&request).unwrap());
        assert_eq!((state.verdict, state.findings), (Verdict::Fails as u32, 0));
        assert!(
            4200.0 < state.low_s && state.low_s < state.likely_s && state.likely_s < state.high_s
        );
        assert!(state.log_reduction.abs() < 1e-9);
    }

    #[test]
    fn null_is_refused_and_freeing_it_does_nothing() {
        let null = ptr::null_mut::<u8>();
        // SAFETY: every pointer is null or lives on this stack.
        unsafe {
            assert_eq!(
                poulter_probe_new(ptr::null(), 0, null.cast(), null.cast()),
                1
            );
            assert_eq!(
                poulter_probe_new(ROAST.as_ptr(), ROAST.len(), null.cast(), null.cast()),
                1
            );
            assert_eq!(poulter_probe_push(null.cast(), 1, 0.0, 0.0, null.cast()), 1);
            assert_eq!(poulter_probe_ask(null.cast(), null.cast(), null.cast()), 1);
            assert_eq!(
                poulter_probe_ask_json(null.cast(), null.cast(), null.cast()),
                1
            );
            poulter_probe_free(null.cast());
        }
    }
}
