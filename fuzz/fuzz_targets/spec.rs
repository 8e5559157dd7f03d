//! Bytes of a spec: no panic, and an answer in bounded time and memory (libFuzzer's `-timeout` and `-rss_limit_mb`).

#![no_main]

use libfuzzer_sys::fuzz_target;
use rigbinder::catalogue::Catalogue;
use rigbinder::diag::{human, json, short};
use rigbinder::pipeline::{self, Only};
use std::sync::LazyLock;

static BUILT_IN: LazyLock<Catalogue> = LazyLock::new(Catalogue::built_in);

fuzz_target!(|bytes: &[u8]| {
    let loaded = pipeline::load(&BUILT_IN, "fuzz.toml", bytes).expect("embedded templates hold together");
    let worked = pipeline::work_out(&loaded).expect("embedded profiles hold together");
    for text in
        [human::render(&worked.findings, &loaded.file, false, true), short::render(&worked.findings, &loaded.file)]
    {
        let steers = |c: &char| rigbinder::diag::is_steering(*c) && *c != '\n';
        assert!(!text.contains(|c| steers(&c)), "a finding steers the terminal: {text:?}");
    }
    let _ = json::render(&worked.findings, &loaded.file);
    // What has no error must come out as documents; the small ones are enough here.
    if worked.counts().0 == 0 {
        let only = Only { documents: vec!["schedule".to_owned(), "calendar".to_owned()], ..Only::default() };
        pipeline::sheets(&worked, &only).expect("documents of a build without errors");
    }
});
