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
mod house;
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
mod sections;
mod shell;
mod spec_file;
mod stop;
mod typesetting;
mod watch;

pub use args::{Args, Command, Compile, Emit, MessageFormat, Purpose, Release, SchemaOf, Typesetter, Wanted, Watch};

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
    let house = house::House::of(&print, args.shop.as_deref(), args.no_shop);
    let house = &house;
    let result = match args.command {
        Command::Check { spec, purpose, out } => check::run(&print, house, spec.as_deref(), purpose, &out),
        Command::Compile(compile) => compile::run(&print, house, &compile),
        Command::Release(release) => release::run(&print, house, release),
        Command::Watch(watch) => watch::run(&print, house, &watch),
        Command::New { spec, kind, like, stock } => {
            let wanted = new::Wanted { spec, kind, like, stock };
            new::run(&print, house, &wanted)
        }
        Command::Compare { old, new } => compare::run(&print, house, &old, &new),
        Command::Explain { finding } => explain::run(&print, finding.as_deref()),
        Command::Kinds { role: Some(role), .. } => Ok(kinds::role(&print, &role)),
        Command::Kinds { kind, .. } => kinds::run(&print, house, &kind.join(" ")),
        Command::Schema { of } => shell::schema(&print, house, of),
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
