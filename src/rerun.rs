//! Build script: the templates are embedded, so a changed template must rebuild the program.

#![allow(clippy::print_stdout, reason = "cargo reads what a build script prints")]

fn main() {
    println!("cargo::rerun-if-changed=templates");
    println!("cargo::rerun-if-changed=src/rerun.rs");
}
