//! The `rigbinder` program.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(rigbinder::cli::run_command_line())
}
