//! The `rigbinder` program.

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let args = rigbinder::cli::Args::parse();
    ExitCode::from(rigbinder::cli::run(args))
}
