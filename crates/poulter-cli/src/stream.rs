//! Input, output and refusals.

use std::fmt;
use std::fs::File;
use std::io::{self, ErrorKind, Read, Write};

use poulter::LARGEST_REQUEST;

/// Why a command could not answer.
pub(crate) enum Refusal {
    /// The library refused the input.
    Input(poulter::Error),
    /// A file or stream could not be used.
    File(String),
}

impl From<poulter::Error> for Refusal {
    fn from(error: poulter::Error) -> Self {
        Self::Input(error)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(error) => error.fmt(f),
            Self::File(text) => f.write_str(text),
        }
    }
}

/// Writes a refusal to standard error.
pub(crate) fn complain(refusal: &Refusal) {
    // Nowhere is left to report that standard error is closed.
    let _ = writeln!(io::stderr(), "poulter: {refusal}");
}

/// Reads a file, or standard input for `-`, and stops at the size that the library accepts.
pub(crate) fn read(name: &str) -> Result<String, Refusal> {
    read_up_to(name, LARGEST_REQUEST)
}

/// Reads a file, or standard input for `-`, and stops at `most` bytes.
pub(crate) fn read_up_to(name: &str, most: usize) -> Result<String, Refusal> {
    let failed = |error: io::Error| Refusal::File(format!("{name}: {error}"));
    let mut bytes = Vec::new();
    let limit = most as u64 + 1;
    if name == "-" {
        io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        File::open(name).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    }
    .map_err(failed)?;
    if bytes.len() > most {
        return Err(Refusal::File(format!(
            "{name}: larger than {most} bytes, the most that is read"
        )));
    }
    String::from_utf8(bytes)
        .map_err(|_| Refusal::File(format!("{name}: not UTF-8 text; save it as UTF-8")))
}

/// Writes to standard output. A reader that has seen enough and closed the pipe is not an error.
pub(crate) fn print(text: &str) -> Result<(), Refusal> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Refusal::File(format!("standard output: {error}")))
        }
        _ => Ok(()),
    }
}

/// Writes a value as JSON to standard output.
pub(crate) fn json(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}
