//! Renders findings (short): one line each, `file:line:column: error: name: headline`, for editors and grep.

use super::{Finding, Severity, visible};
use crate::source::SourceFile;
use std::fmt::Write as _;

/// One line per finding. A finding without a place has no line and column.
#[must_use]
pub fn render(findings: &[Finding], file: &SourceFile) -> String {
    let mut out = String::new();
    for finding in findings {
        let own = finding.span.map_or(file, |span| file.file_at(span.start).0);
        out.push_str(&visible(&own.name));
        if let Some(span) = finding.span {
            let (line, column) = file.position(span.start);
            let _ = write!(out, ":{line}:{column}");
        }
        out.push_str(": ");
        out.push_str(word(finding));
        out.push_str(": ");
        out.push_str(finding.name);
        out.push_str(": ");
        out.push_str(&visible(&finding.headline));
        out.push('\n');
    }
    out
}

/// Word for how grave a finding is, acceptance included.
pub(super) const fn word(finding: &Finding) -> &'static str {
    match (finding.severity, &finding.accepted) {
        (Severity::Error, _) => "error",
        (Severity::AsFound, _) => "defect as found",
        (Severity::Warning, None) => "warning",
        (Severity::Warning, Some(_)) => "accepted warning",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Acceptance;
    use crate::source::Span;

    #[test]
    fn one_line_each_with_line_and_column() {
        let file = SourceFile::new("a.toml", "x = 1\n  \u{e9}y = 2\n");
        let mut accepted = Finding::warning("low-sun", "winter: two\nlines \u{1b}[2J");
        accepted.accepted = Some(Acceptance { reason: "known".into(), by: "K".into() });
        let findings = [Finding::error("bad-y", "y is bad").at(Span { start: 10, end: 11 }, ""), accepted];
        assert_eq!(
            render(&findings, &file),
            "a.toml:2:4: error: bad-y: y is bad\na.toml: accepted warning: low-sun: winter: two\\nlines \\x1b[2J\n"
        );
    }
}
