//! Direct calls: one number in, one number out, from the built-in rules.
//!
//! A [`Subject`] names the standard and the bird once; its functions then answer what an app asks in a loop. Each gives
//! the number that the question of the same name gives at the door, for a plain case: no day, no house rules, no
//! oven, no label. A refusal is the door's own, word for word. What the door says beside the number (rules, sources,
//! cautions) is not here: show it to the cook at least once.
//!
//! | call | question at the door |
//! |---|---|
//! | [`Subject::thaw_time`] | `thaw_time` |
//! | [`Subject::roast_time`] | `roast_time` |
//! | [`Subject::minimum_temperature`] | `check_cooking` |
//! | [`Subject::purchase_mass`] | `purchase` |
//! | [`Subject::wet_brine_salt`], [`Subject::dry_brine_salt`] | `brine` |
//!
//! The rules of a subject are looked up once in the life of the process and kept; a call after that looks nothing up.

mod amounts;
mod line;
mod shelf;
mod times;

pub use shelf::{BuiltinStandard, Subject};
pub use times::MinimumTemperature;

#[cfg(test)]
mod tests;
