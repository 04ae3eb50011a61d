//! Brining.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a bird is brined.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum BrineMethod {
    /// In salted water.
    Wet,
    /// Salted dry.
    Dry,
    /// Not at all.
    None,
}
