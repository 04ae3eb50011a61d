//! The checked-in header and symbol list are those of the code. `POULTER_BLESS=1` writes the header anew.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &str) -> String {
    fs::read_to_string(here(path)).unwrap_or_default()
}

/// The macros follow the version in Cargo.toml, so nobody has to remember them.
fn version_macros() -> String {
    format!(
        "\n/** The version of this header. */\n\
         #define POULTER_VERSION_MAJOR {}\n\
         #define POULTER_VERSION_MINOR {}\n\
         #define POULTER_VERSION_PATCH {}\n\
         #define POULTER_VERSION \"{}\"",
        env!("CARGO_PKG_VERSION_MAJOR"),
        env!("CARGO_PKG_VERSION_MINOR"),
        env!("CARGO_PKG_VERSION_PATCH"),
        env!("CARGO_PKG_VERSION"),
    )
}

fn generate() -> String {
    let mut config = cbindgen::Config::from_file(here("cbindgen.toml")).unwrap();
    config.after_includes = Some(version_macros());
    let bindings = cbindgen::Builder::new()
        .with_crate(env!("CARGO_MANIFEST_DIR"))
        .with_config(config)
        .generate()
        .unwrap();
    let mut bytes = Vec::new();
    bindings.write(&mut bytes);
    for_c(&String::from_utf8(bytes).unwrap())
}

/// Drops the `# Safety` part of each comment: it speaks to Rust, and the conventions at the top say the same to C.
fn for_c(header: &str) -> String {
    let mut kept: Vec<&str> = Vec::new();
    let mut skipping = false;
    for line in header.lines() {
        match line {
            " * # Safety" => {
                skipping = true;
                if kept.last() == Some(&" *") {
                    kept.pop();
                }
            }
            " */" => skipping = false,
            _ => {}
        }
        if !skipping {
            kept.push(line);
        }
    }
    kept.join("\n") + "\n"
}

#[test]
fn header_is_that_of_the_code() {
    const HEADER: &str = "../../include/poulter.h";
    let generated = generate();
    if env::var_os("POULTER_BLESS").is_some() {
        fs::write(here(HEADER), &generated).unwrap();
    }
    assert!(
        read(HEADER) == generated,
        "include/poulter.h is not what the code gives; POULTER_BLESS=1 cargo test -p poulter-c writes it anew"
    );
}

#[test]
fn header_declares_every_symbol_and_no_other() {
    let header = generate();
    let declared: BTreeSet<&str> = header
        .lines()
        .filter(|line| !line.starts_with(" *"))
        .filter_map(|line| line.split_once('('))
        .filter_map(|(before, _)| before.rsplit([' ', '*']).next())
        .filter(|name| name.starts_with("poulter_"))
        .collect();
    let symbols = read("symbols.txt");
    assert_eq!(declared, symbols.lines().collect());
}
