//! Commands. The only layer that prints and that looks at the surroundings.

mod after;
mod args;
mod check;
mod clock;
mod compare;
mod compile;
mod explain;
mod frozen;
mod gate;
mod kinds;
mod make;
mod new;
mod order;
mod plain;
mod prepare;
mod print;
mod progress;
mod read;
mod release;
mod shell;
mod spec_file;
mod stop;
mod typesetting;
mod watch;

pub use args::{Args, Command, Compile, Emit, MessageFormat, Purpose, Release, SchemaOf, Typesetter, Wanted, Watch};

use crate::catalogue::Catalogue;
use clap::Parser;

/// All went well.
pub const CLEAN: u8 = 0;
/// Findings stopped the work.
pub const STOPPED: u8 = 1;
/// The work could not be done.
pub const COULD_NOT_RUN: u8 = 2;
/// Broken off by Ctrl-C, as shells have it.
pub const BROKEN_OFF: u8 = 130;

/// Reads the command line, runs the command and returns the exit code.
#[must_use]
pub fn run_command_line() -> u8 {
    match Args::try_parse() {
        Ok(args) => run(args),
        Err(told) => {
            let code = u8::try_from(told.exit_code()).unwrap_or(COULD_NOT_RUN);
            if print::usage(&told) { code } else { COULD_NOT_RUN }
        }
    }
}

/// Runs the command and returns the exit code.
#[must_use]
pub fn run(args: Args) -> u8 {
    let print = print::Print::new(args.message_format, args.quiet);
    let catalogue = Catalogue::built_in();
    let result = match args.command {
        Command::Check { spec, purpose, out } => check::run(&print, &catalogue, &spec, purpose, &out),
        Command::Compile(compile) => compile::run(&print, &catalogue, &compile),
        Command::Release(release) => release::run(&print, &catalogue, release),
        Command::Watch(watch) => watch::run(&print, &catalogue, &watch),
        Command::New { spec } => new::run(&print, &catalogue, &spec),
        Command::Compare { old, new } => compare::run(&print, &catalogue, &old, &new),
        Command::Explain { finding } => explain::run(&print, finding.as_deref()),
        Command::Kinds { kind } => kinds::run(&print, &catalogue, kind.as_deref()),
        Command::Schema { of } => shell::schema(&print, &catalogue, of),
        Command::Completions { shell } => shell::completions(&print, shell),
        Command::Man => shell::man(&print),
    };
    let code = result.unwrap_or_else(|message| {
        print.fault(&message);
        COULD_NOT_RUN
    });
    let Some(unsaid) = print.unsaid() else { return code };
    print.fault(&format!("cannot write the result to standard output: {unsaid}"));
    code.max(COULD_NOT_RUN)
}
