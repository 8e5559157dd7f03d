//! Findings: what a spec has wrong, where, on what basis, and what to do.

pub mod human;
pub mod json;
pub mod short;
mod visible;

pub use crate::letters::is_steering;
pub use visible::visible;

use crate::source::Span;
use serde::Serialize;

/// Whether a finding stops the compile.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Nothing is written.
    Error,
    /// An error of existing work of others alone, on which nothing new rests: told to the customer, who signs for it; never
    /// accepted.
    #[serde(rename = "as-found")]
    AsFound,
    /// May be accepted in the spec with a reason and a name.
    Warning,
}

/// A second place that belongs to a finding, and what stands there.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is there, as a short clause.
    pub text: String,
}

/// A replacement that would mend the fault.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fix {
    /// What to replace.
    pub span: Span,
    /// With what.
    pub replacement: String,
}

/// Who accepted a warning, and why.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Acceptance {
    /// The reason as the spec gives it.
    pub reason: String,
    /// The name as the spec gives it.
    pub by: String,
}

/// One finding. Build with [`Finding::error`] or [`Finding::warning`] and the `with_` methods.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Kebab-case name of the fault; `rigbinder explain <name>` tells more.
    pub name: &'static str,
    /// Stops or warns.
    pub severity: Severity,
    /// One line, complete on its own.
    pub headline: String,
    /// Id of the component, place or task it is about.
    pub subject: Option<String>,
    /// Where in the spec; `None` where something is missing altogether.
    pub span: Option<Span>,
    /// Clause shown at the place.
    pub here: String,
    /// Other places.
    pub labels: Vec<Label>,
    /// Rule, table, figures it rests on.
    pub basis: Vec<String>,
    /// What to do.
    pub help: Vec<String>,
    /// A machine-readable mend.
    pub fix: Option<Fix>,
    /// Set where the spec accepts this warning.
    pub accepted: Option<Acceptance>,
    /// Whether an acceptance has to name what it is about.
    pub singly: bool,
}

impl Finding {
    fn new(name: &'static str, severity: Severity, headline: impl Into<String>) -> Self {
        Self {
            name,
            severity,
            headline: headline.into(),
            subject: None,
            span: None,
            here: String::new(),
            labels: Vec::new(),
            basis: Vec::new(),
            help: Vec::new(),
            fix: None,
            accepted: None,
            singly: false,
        }
    }

    /// A finding that stops the compile.
    #[must_use]
    pub fn error(name: &'static str, headline: impl Into<String>) -> Self {
        Self::new(name, Severity::Error, headline)
    }

    /// A finding that may be accepted.
    #[must_use]
    pub fn warning(name: &'static str, headline: impl Into<String>) -> Self {
        Self::new(name, Severity::Warning, headline)
    }

    /// An error where what it rests on is certain, else a warning.
    #[must_use]
    pub fn error_if(certain: bool, name: &'static str, headline: impl Into<String>) -> Self {
        Self::new(name, if certain { Severity::Error } else { Severity::Warning }, headline)
    }

    /// The component, place or task it is about.
    #[must_use]
    pub fn accepted_singly(mut self) -> Self {
        self.singly = true;
        self
    }

    /// Says what it is about.
    #[must_use]
    pub fn about(mut self, subject: impl Into<String>) -> Self {
        self.subject = Some(subject.into());
        self
    }

    /// The place of the fault and what stands there.
    #[must_use]
    pub fn at(mut self, span: Span, here: impl Into<String>) -> Self {
        self.span = Some(span);
        self.here = here.into();
        self
    }

    /// Another place that belongs to it.
    #[must_use]
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// Rule, table or figure it rests on.
    #[must_use]
    pub fn basis(mut self, text: impl Into<String>) -> Self {
        self.basis.push(text.into());
        self
    }

    /// What to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// The same with all its places so many bytes further on.
    #[must_use]
    pub fn moved_by(mut self, bytes: usize) -> Self {
        self.span = self.span.map(|span| span.moved_by(bytes));
        for label in &mut self.labels {
            label.span = label.span.moved_by(bytes);
        }
        if let Some(fix) = &mut self.fix {
            fix.span = fix.span.moved_by(bytes);
        }
        self
    }

    /// A replacement that would mend it.
    #[must_use]
    pub fn fix(mut self, span: Span, replacement: impl Into<String>) -> Self {
        self.fix = Some(Fix { span, replacement: replacement.into() });
        self
    }
}

/// Collects findings of one run.
#[derive(Debug, Default)]
pub struct Sink {
    findings: Vec<Finding>,
}

/// So many findings are read one by one; a terminal shows no more.
const MANY: usize = 200;

impl Sink {
    /// Takes a finding.
    pub fn push(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Whether any finding stops the compile.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Error)
    }

    /// Whether there are so many that a proposal for each helps nobody any more; looking for one takes time.
    #[must_use]
    pub fn is_long(&self) -> bool {
        self.findings.len() > MANY
    }

    /// Of what is known the name nearest to a word that is none of it; `None` where there are many findings already.
    pub(crate) fn nearest<K: AsRef<str>>(&self, word: &str, known: impl Iterator<Item = K>) -> Option<K> {
        let near = || known.min_by_key(|known| strsim::damerau_levenshtein(known.as_ref(), word));
        if self.is_long() { None } else { near() }
    }

    /// The findings so far.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// The findings in order of place, severity and name, each once.
    #[must_use]
    pub fn into_sorted(mut self) -> Vec<Finding> {
        let key = |f: &Finding| (f.span.map_or(usize::MAX, |s| s.start), f.severity, f.name, f.subject.clone());
        self.findings.sort_by_key(key);
        self.findings.dedup();
        self.findings
    }
}

/// What `rigbinder explain` tells about a finding.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct FindingDoc {
    /// Name.
    pub name: &'static str,
    /// Stops or warns (where a check can do both: the graver).
    pub severity: Severity,
    /// What it finds.
    pub what: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// A piece of a spec that fires it.
    pub example: &'static str,
    /// Rule or practice it rests on.
    pub basis: &'static str,
}
