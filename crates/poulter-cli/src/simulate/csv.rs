//! The curves as columns.

use std::fmt::Write;

use serde_json::Value;

use super::{curves, rows};

/// One row for each zone and time, with the units in the names of the columns.
pub(super) fn rows_of(response: &Value) -> String {
    let mut text = "zone,elapsed_s,temp_degC\n".to_owned();
    for curve in curves(&response["answer"]) {
        let zone = curve["zone"].as_str().unwrap_or_default();
        for (elapsed, celsius) in rows(curve) {
            // Writing into text cannot fail.
            let _ = writeln!(text, "{zone},{elapsed},{celsius}");
        }
    }
    text
}
