//! Printing: findings to standard error, results to standard output.

#![expect(
    clippy::disallowed_methods,
    reason = "the one file that prints, by what the environment says of the terminal"
)]

use super::MessageFormat;
use crate::diag::{Finding, human, is_steering, json, short, visible};
use crate::publish::plainly;
use crate::source::SourceFile;
use std::io::{ErrorKind, IsTerminal, Write};
use std::sync::OnceLock;

/// How to print.
#[derive(Debug)]
pub(super) struct Print {
    format: MessageFormat,
    quiet: bool,
    color: bool,
    unicode: bool,
    /// Why a result could not be written.
    unsaid: OnceLock<String>,
}

impl Print {
    /// Colours and line drawing only on a terminal; `NO_COLOR` (any value but the empty one) turns colours off.
    pub(super) fn new(format: MessageFormat, quiet: bool) -> Self {
        let terminal = std::io::stderr().is_terminal();
        let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
        let utf8 = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|n| std::env::var(n).ok().filter(|v| !v.is_empty()));
        let utf8 = utf8.is_some_and(|v| v.to_lowercase().replace('-', "").contains("utf8"));
        Self { format, quiet, color: terminal && !set("NO_COLOR"), unicode: terminal && utf8, unsaid: OnceLock::new() }
    }

    /// How findings are printed.
    pub(super) const fn format(&self) -> MessageFormat {
        self.format
    }

    /// Whether progress may be shown.
    pub(super) fn shows_progress(&self) -> bool {
        !self.quiet && self.format == MessageFormat::Human && std::io::stderr().is_terminal()
    }

    /// Findings, in the form asked for.
    pub(super) fn findings(&self, findings: &[Finding], file: &SourceFile) {
        match self.format {
            MessageFormat::Human => self.error_text(&human::render(findings, file, self.color, self.unicode)),
            MessageFormat::Short => self.error_text(&short::render(findings, file)),
            MessageFormat::Json => self.out(&json::render(findings, file)),
        }
    }

    /// Findings of several specs, grouped in the order given.
    pub(super) fn findings_of<'a>(&self, groups: impl Iterator<Item = (&'a [Finding], &'a SourceFile)>) {
        if self.format == MessageFormat::Json {
            self.out(&json::render_all(groups));
        } else {
            groups.for_each(|(findings, file)| self.findings(findings, file));
        }
    }

    /// A line for the person at the terminal; nothing with `--quiet` or JSON.
    pub(super) fn note(&self, text: &str) {
        if !self.quiet && self.format != MessageFormat::Json {
            self.error_text(&format!("{}\n", visible(text)));
        }
    }

    /// Why the work could not be done. Lines after the first are set in, so that none of them looks like one of ours.
    pub(super) fn fault(&self, message: &str) {
        let lines: Vec<_> = message.lines().map(visible).collect();
        self.error_text(&format!("rigbinder: {}\n", lines.join("\n  ")));
    }

    /// Result text. Nothing in it steers a terminal but ends of lines and tabs.
    pub(super) fn out(&self, text: &str) {
        let shown: Vec<_> = text.split('\n').map(|line| line.split('\t').map(visible).collect::<Vec<_>>()).collect();
        let shown: Vec<_> = shown.iter().map(|cells| cells.join("\t")).collect();
        let mut stdout = std::io::stdout();
        let result = stdout.write_all(shown.join("\n").as_bytes()).and_then(|()| stdout.flush());
        // A reader that closed the pipe early has what it wanted.
        if let Err(error) = result.or_else(|e| if e.kind() == ErrorKind::BrokenPipe { Ok(()) } else { Err(e) }) {
            drop(self.unsaid.set(plainly(&error)));
        }
    }

    /// Result as JSON: what would steer a terminal is an escape of JSON, so that it is read back as it was.
    pub(super) fn out_json(&self, text: &str) {
        self.out(&json::ascii_controls(text));
    }

    /// Why a result could not be written to standard output, where that is so.
    pub(super) fn unsaid(&self) -> Option<&str> {
        self.unsaid.get().map(String::as_str)
    }

    #[expect(clippy::unused_self, reason = "as above")]
    fn error_text(&self, text: &str) {
        drop(std::io::stderr().write_all(text.as_bytes()));
    }
}

/// Help, the version, or what is wrong with the command line. Returns whether it could be written.
pub(super) fn usage(told: &clap::Error) -> bool {
    let steers = std::env::args_os().any(|arg| arg.to_string_lossy().contains(is_steering));
    let result = if steers && told.use_stderr() {
        let text = told.render().to_string();
        let lines: Vec<_> = text.lines().map(visible).collect();
        std::io::stderr().write_all(format!("{}\n", lines.join("\n")).as_bytes())
    } else {
        told.print()
    };
    match result.and_then(|()| std::io::stdout().flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let text = format!("rigbinder: cannot write to standard output: {}\n", plainly(&error));
            drop(std::io::stderr().write_all(text.as_bytes()));
            false
        }
        _ => true,
    }
}
