//! The `rigbinder` program.

use mimalloc::MiMalloc;
use std::process::ExitCode;

/// A spec is read into many small texts and tables: with the allocator of the system a quarter of a `check` went there.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    ExitCode::from(rigbinder::cli::run_command_line())
}
