#![doc = include_str!("../README.md")]
#![forbid(unsafe_code)]

pub mod bird;
pub mod heat;
pub mod units;

mod error;
mod math;

pub use error::{Error, ErrorKind};
