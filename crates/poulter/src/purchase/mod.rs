//! Buying.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What is wanted for the days after.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Leftovers {
    /// Nothing.
    #[default]
    None,
    /// A meal or so.
    Some,
    /// Several meals.
    Plenty,
}
