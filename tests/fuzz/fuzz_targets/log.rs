//! The log door: any text is a log or refused; a log with faults is never judged to meet a rule.
#![no_main]

use libfuzzer_sys::fuzz_target;
use poulter::log::{LogChecks, TemperatureLog};
use poulter::records::{CookingLogCheck, check_cooking_log};
use poulter::rules::{Rulebook, Verdict};

fuzz_target!(|text: &str| {
    let Ok(log) = TemperatureLog::from_csv(text) else {
        return;
    };
    let faults = log.faults(&LogChecks::default()).len();
    let Ok(mut check) = serde_json::from_str::<CookingLogCheck>(r#"{"log": {}}"#) else {
        return;
    };
    check.log.csv = Some(text.to_owned());
    if let Ok(answer) = check_cooking_log(Rulebook::builtin(), &check) {
        assert!(faults == 0 || answer.answer.verdict != Verdict::Meets);
    }
});
