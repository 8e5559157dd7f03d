//! Renders findings (JSON): an array of objects with fields that stay, for editors and other programs.
//!
//! Lines and columns count from 1, columns in characters; `start` and `end` are bytes of the file without its
//! byte-order mark. `file` of a finding, a label or a fix is the spec, or a file of the shop's folder. What is absent is `null` or an empty list, never left out.

use super::{Finding, is_steering};
use crate::source::{SourceFile, Span};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// The findings as a JSON array, one finding a line, with a line end at the end.
#[must_use]
pub fn render(findings: &[Finding], file: &SourceFile) -> String {
    render_all([(findings, file)])
}

/// The findings of several files as one array, in the order of the files.
#[must_use]
pub fn render_all<'a>(groups: impl IntoIterator<Item = (&'a [Finding], &'a SourceFile)>) -> String {
    let groups = groups.into_iter();
    let rows: Vec<String> = groups
        .flat_map(|(findings, file)| findings.iter().map(|f| ascii_controls(&object(f, file).to_string())))
        .collect();
    if rows.is_empty() { "[]\n".to_owned() } else { format!("[\n{}\n]\n", rows.join(",\n")) }
}

fn object(finding: &Finding, file: &SourceFile) -> Value {
    let mut value = json!({ "name": finding.name, "severity": finding.severity, "file": name_at(finding.span, file) });
    let place = place(finding.span, file);
    let labels: Vec<Value> = finding
        .labels
        .iter()
        .map(|label| {
            with(
                self::place(Some(label.span), file),
                &[("text", json!(label.text)), ("file", json!(name_at(Some(label.span), file)))],
            )
        })
        .collect();
    let fix = finding.fix.as_ref().map(|fix| {
        with(
            self::place(Some(fix.span), file),
            &[("replacement", json!(fix.replacement)), ("file", json!(name_at(Some(fix.span), file)))],
        )
    });
    let accepted = finding.accepted.as_ref().map(|a| json!({ "reason": a.reason, "by": a.by }));
    value = with(value, &[]);
    if let (Some(into), Value::Object(place)) = (value.as_object_mut(), place) {
        into.extend(place);
    }
    with(
        value,
        &[
            ("headline", json!(finding.headline)),
            ("subject", json!(finding.subject)),
            ("here", json!(finding.here)),
            ("labels", Value::Array(labels)),
            ("basis", json!(finding.basis)),
            ("help", json!(finding.help)),
            ("fix", json!(fix)),
            ("accepted", json!(accepted)),
        ],
    )
}

/// The file of a place: the spec, or one of the shop's folder.
fn name_at(span: Option<Span>, file: &SourceFile) -> &str {
    &span.map_or(file, |span| file.file_at(span.start).0).name
}

fn place(span: Option<Span>, file: &SourceFile) -> Value {
    let Some(span) = span else {
        return json!({
            "line": null, "column": null, "end_line": null, "end_column": null, "start": null, "end": null
        });
    };
    let (line, column) = file.position(span.start);
    let (end_line, end_column) = file.position(span.end);
    json!({
        "line": line, "column": column, "end_line": end_line, "end_column": end_column,
        "start": span.start, "end": span.end
    })
}

fn with(mut value: Value, more: &[(&str, Value)]) -> Value {
    if let Some(object) = value.as_object_mut() {
        object.extend(more.iter().map(|(key, value)| ((*key).to_owned(), value.clone())));
    }
    value
}

/// JSON leaves DEL, C1 and direction marks as they are; they only stand inside strings, so an escape is the same value.
#[must_use]
pub fn ascii_controls(json: &str) -> String {
    let steers = |c: char| is_steering(c) && !matches!(c, '\n' | '\r' | '\t');
    if !json.contains(steers) {
        return json.to_owned();
    }
    json.chars().fold(String::with_capacity(json.len() + 16), |mut out, c| {
        if steers(c) {
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
        out
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_is_there_and_no_control_byte_is() {
        let file = SourceFile::new("a\u{9b}.toml", "x = 1\ny = 2\n");
        let span = Span { start: 6, end: 11 };
        let findings = [
            Finding::error("bad-y", "y\u{1b}[0m is bad")
                .about("y")
                .at(span, "this")
                .label(Span { start: 0, end: 1 }, "x")
                .basis("rule")
                .help("change it")
                .fix(span, "y = 3"),
            Finding::warning("no-place", "nowhere"),
        ];
        let text = render(&findings, &file);
        assert!(!text.contains(|c: char| c != '\n' && is_steering(c)), "{text}");
        let value: Value = serde_json::from_str(&text).expect("JSON");
        let first = &value[0];
        for (key, expected) in [
            ("name", json!("bad-y")),
            ("severity", json!("error")),
            ("file", json!("a\u{9b}.toml")),
            ("line", json!(2)),
            ("column", json!(1)),
            ("end_line", json!(2)),
            ("end_column", json!(6)),
            ("headline", json!("y\u{1b}[0m is bad")),
            ("subject", json!("y")),
            ("basis", json!(["rule"])),
            ("help", json!(["change it"])),
            ("accepted", Value::Null),
        ] {
            assert_eq!(first[key], expected, "{key}");
        }
        assert_eq!(first["fix"]["replacement"], json!("y = 3"));
        assert_eq!(first["labels"][0]["column"], json!(1));
        assert_eq!(value[1]["line"], Value::Null);
        let keys = |v: &Value| v.as_object().map(|o| o.keys().cloned().collect::<Vec<_>>());
        assert_eq!(keys(&value[0]), keys(&value[1]));
    }

    #[test]
    fn nothing_found_is_an_empty_array() {
        assert_eq!(render(&[], &SourceFile::new("a", "")), "[]\n");
    }
}
