//! The JSON door: any text is answered or refused, twice the same.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let first = poulter::evaluate_json(text);
    assert_eq!(first, poulter::evaluate_json(text));
    if let Err(error) = first {
        assert!(!error.expected().is_empty());
        assert!(error.to_json().starts_with('{'));
    }
});
