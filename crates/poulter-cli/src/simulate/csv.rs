//! The curves as columns.

use std::fmt::Write;

use serde_json::Value;

use super::{curves, estimates, rows};

/// One row for each zone and time, with the units in the names of the columns; kill or growth stands beside the
/// temperature where the answer has it.
pub(super) fn rows_of(response: &Value) -> String {
    let answer = &response["answer"];
    let estimates = estimates(answer);
    let mut text = "zone,elapsed_s,temp_degC".to_owned();
    if let Some((name, _)) = estimates.first() {
        text.push(',');
        text.push_str(name);
    }
    text.push('\n');
    for (at, curve) in curves(answer).into_iter().enumerate() {
        let zone = curve["zone"].as_str().unwrap_or_default();
        for (row, (elapsed, celsius)) in rows(curve).enumerate() {
            // Writing into text cannot fail.
            let _ = write!(text, "{zone},{elapsed},{celsius}");
            if let Some((_, column)) = estimates.get(at) {
                let _ = write!(text, ",{}", column[row]);
            }
            text.push('\n');
        }
    }
    text
}
