//! What can be said of a broken line, with a mend that is offered only where it mends.

use super::scan::Statement;
use crate::diag::Finding;
use crate::source::Span;
use std::ops::Range;
use toml::de::DeTable;

/// One reading of what is wrong with a statement: words, and the edit that would make it right.
#[derive(Clone, Debug)]
pub(super) struct Said {
    pub(super) name: &'static str,
    pub(super) headline: String,
    pub(super) at: Range<usize>,
    pub(super) here: &'static str,
    pub(super) help: String,
    pub(super) edit: Option<(Range<usize>, String)>,
}

impl Said {
    pub(super) fn new(headline: impl Into<String>, at: Range<usize>, here: &'static str) -> Self {
        let name = "toml-syntax";
        Self { name, headline: headline.into(), at, here, help: String::new(), edit: None }
    }

    pub(super) fn named(self, name: &'static str) -> Self {
        Self { name, ..self }
    }

    pub(super) fn help(self, help: impl Into<String>) -> Self {
        Self { help: help.into(), ..self }
    }

    pub(super) fn edit(self, at: Range<usize>, with: impl Into<String>) -> Self {
        Self { edit: Some((at, with.into())), ..self }
    }

    fn finding(self, mends: bool) -> Finding {
        let finding = Finding::error(self.name, self.headline).at(self.at.into(), self.here).help(self.help);
        match self.edit {
            Some((at, with)) if mends => finding.fix(Span::from(at), with),
            _ => finding,
        }
    }
}

/// The first reading whose edit makes the statement readable; then the first whose edit takes the fault away and
/// leaves a later one; then the first, without its edit.
pub(super) fn choose(text: &str, statement: &Statement, readings: Vec<Said>) -> Option<Finding> {
    let outcomes: Vec<Outcome> = readings.iter().map(|said| outcome(text, statement, said)).collect();
    let find = |wanted| outcomes.iter().position(|o| *o == wanted);
    let (at, mends) = match (find(Outcome::Mended), find(Outcome::Later)) {
        (Some(at), _) | (None, Some(at)) => (at, true),
        _ => (0, false),
    };
    readings.into_iter().nth(at).map(|said| said.finding(mends))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Mended,
    /// Something else is wrong behind it.
    Later,
    Not,
}

fn outcome(text: &str, statement: &Statement, said: &Said) -> Outcome {
    let Some((at, with)) = &said.edit else { return Outcome::Not };
    let whole = &statement.span;
    let (Some(before), Some(after)) = (text.get(whole.start..at.start), text.get(at.end..whole.end.max(at.end))) else {
        return Outcome::Not;
    };
    let first = first_error(&format!("{before}{with}{after}"));
    match first {
        None => Outcome::Mended,
        Some(first) if first > before.len() + with.len() => Outcome::Later,
        Some(_) => Outcome::Not,
    }
}

/// Where the parser first stumbles.
fn first_error(text: &str) -> Option<usize> {
    let (_, errors) = DeTable::parse_recoverable(text);
    errors.iter().map(|e| e.span().map_or(0, |s| s.start)).min()
}

/// Whether `value` can stand after a `=`.
pub(super) fn is_value(value: &str) -> bool {
    !value.contains('\n') && first_error(&format!("x = {value}")).is_none()
}
