//! `explain`: what a finding means.

use super::print::Print;
use super::{CLEAN, COULD_NOT_RUN};
use crate::diag::{FindingDoc, Severity};
use crate::pipeline::finding_docs;
use std::fmt::Write;

#[expect(clippy::unnecessary_wraps, reason = "all commands have one shape")]
pub(super) fn run(print: &Print, name: Option<&str>) -> Result<u8, String> {
    let docs = finding_docs();
    let Some(name) = name else {
        let width = docs.iter().map(|d| d.name.len()).max().unwrap_or(0);
        let lines = docs.iter().fold(String::new(), |mut text, d| {
            let _ = writeln!(text, "{:width$}  {:7}  {}", d.name, word(d), d.what);
            text
        });
        print.out(&lines);
        return Ok(CLEAN);
    };
    if let Some(doc) = docs.iter().find(|d| d.name == name) {
        print.out(&text(doc));
        return Ok(CLEAN);
    }
    let near =
        docs.iter().map(|d| (strsim::damerau_levenshtein(d.name, name), d.name)).min().filter(|(slips, _)| *slips <= 4);
    let guess = near.map_or_else(String::new, |(_, near)| format!("; did you mean `{near}`?"));
    print.fault(&format!("there is no finding `{name}`{guess}; `rigbinder explain` lists them all"));
    Ok(COULD_NOT_RUN)
}

fn word(doc: &FindingDoc) -> &'static str {
    match doc.severity {
        Severity::Error => "error",
        Severity::AsFound | Severity::Warning => "warning",
    }
}

fn text(doc: &FindingDoc) -> String {
    let example: Vec<_> = doc.example.lines().map(|l| format!("    {l}")).collect();
    let mut text =
        format!("{} ({})\n\nWhat it finds\n  {}\n\nWhy it matters\n  {}\n", doc.name, word(doc), doc.what, doc.why);
    if !example.is_empty() {
        let _ = write!(text, "\nExample\n{}\n", example.join("\n"));
    }
    if !doc.basis.is_empty() {
        let _ = write!(text, "\nBasis\n  {}\n", doc.basis);
    }
    text
}
