//! What both benchmarks share: specs to measure with.

#![expect(clippy::expect_used, reason = "a benchmark that cannot run says why and stops")]

pub(crate) mod synthetic;
#[allow(dead_code, reason = "one of the two benchmarks has no use for it")]
pub(crate) mod typst;

use rigbinder::catalogue::Catalogue;
use rigbinder::pipeline::{self, Loaded, Worked};
use std::sync::LazyLock;

/// What is built in, with the shop's folder of the demo specs; declarations and templates are read once a run.
static HOUSE: LazyLock<Catalogue> = LazyLock::new(|| {
    let shop = format!("{}/specs/shop", env!("CARGO_MANIFEST_DIR"));
    Catalogue::built_in().with(rigbinder::shop::read(std::path::Path::new(&shop)))
});

/// The text of a demo spec.
pub(crate) fn demo(name: &str) -> String {
    let path = format!("{}/specs/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("demo spec")
}

/// Reads a spec.
pub(crate) fn load(text: &str) -> Loaded {
    pipeline::load(&HOUSE, "bench.toml", text.as_bytes()).expect("kinds")
}

/// Works a spec out; stops where it has errors, since then there is nothing to measure.
pub(crate) fn work_out(loaded: &Loaded) -> Worked<'_> {
    let worked = pipeline::work_out(loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "the spec has errors");
    worked
}
