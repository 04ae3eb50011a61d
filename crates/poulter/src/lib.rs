#![doc = include_str!("../README.md")]
#![forbid(unsafe_code)]

pub mod growth;
pub mod lethality;
pub mod log;
pub mod units;

mod error;
mod math;

pub use error::{Error, ErrorKind};
