//! How fast a bird warms and cools.

mod body;
mod boundary;
mod component;
mod ice;
mod material;
mod mixture;
mod parameters;
mod solver;

#[cfg(test)]
mod exact_tests;

pub use component::Component;
pub use ice::{IceRule, estimate_freezing_point};
pub use mixture::{MixingRule, Mixture};
