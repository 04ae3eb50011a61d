//! The `poulter` command.

#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(poulter_cli::run(std::env::args_os()))
}
