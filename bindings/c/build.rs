//! Gives the shared library its SONAME, so that a program built against one binary interface never loads another.

use std::env;

/// Equal to `POULTER_ABI_VERSION`; a test compares them.
const ABI_VERSION: &str = "1";

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    let set = |name| env::var(name).unwrap_or_default();
    match (
        set("CARGO_CFG_TARGET_FAMILY").as_str(),
        set("CARGO_CFG_TARGET_VENDOR").as_str(),
    ) {
        ("unix", "apple") => println!(
            "cargo::rustc-cdylib-link-arg=-Wl,-install_name,@rpath/libpoulter.{ABI_VERSION}.dylib"
        ),
        ("unix", _) => {
            println!("cargo::rustc-cdylib-link-arg=-Wl,-soname,libpoulter.so.{ABI_VERSION}");
        }
        _ => {}
    }
}
