//! Build script: the templates are embedded, so a changed template must rebuild the program.

fn main() {
    println!("cargo::rerun-if-changed=templates");
    println!("cargo::rerun-if-changed=src/rerun.rs");
}
