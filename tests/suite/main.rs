//! One binary for all integration tests.

#![expect(clippy::expect_used, reason = "a test that cannot go on says why and stops")]
#![allow(
    clippy::unwrap_used,
    clippy::case_sensitive_file_extension_comparisons,
    reason = "tests look at files they made themselves"
)]

mod architecture;
mod bad_input;
mod catalogue;
mod command_line;
mod compiled;
mod currents;
mod drawings;
mod drawings_one_line;
mod energy;
mod findings;
mod handover;
mod harness;
mod injection;
mod outside;
mod owner;
mod pdf;
mod plain_words;
mod trade;
mod typeset;
mod vehicle;
mod water_heat;
