//! The C interface: each export checks its pointers, calls the core and hands over what it answered.
//!
//! The contract with callers stands at the top of `include/poulter.h`; `cbindgen.toml` is where it is written.

#![deny(unsafe_op_in_unsafe_fn)]
#![deny(clippy::undocumented_unsafe_blocks)]

#[cfg(panic = "abort")]
compile_error!("a panic must not end the caller's program: build with panic = \"unwind\"");

pub mod amounts;
pub mod batch;
pub mod buffer;
pub mod convert;
pub mod error;
pub mod evaluate;
pub mod growth;
pub mod lethality;
pub mod plan;
pub mod probe;
pub mod simulate;
pub mod status;
pub mod text;
pub mod times;
pub mod version;
pub mod words;
pub mod worksheet;

mod boundary;
mod one_log;
