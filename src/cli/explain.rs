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
    if let Some(told) = severity(name) {
        print.out(told);
        return Ok(CLEAN);
    }
    let near =
        docs.iter().map(|d| (strsim::damerau_levenshtein(d.name, name), d.name)).min().filter(|(slips, _)| *slips <= 4);
    let guess = near.map_or_else(String::new, |(_, near)| format!("; did you mean `{near}`?"));
    print.fault(&format!("there is no finding `{name}`{guess}; `rigbinder explain` lists them all"));
    Ok(COULD_NOT_RUN)
}

/// What a word for how grave a finding is means, as findings print it or as a program reads it.
fn severity(asked: &str) -> Option<&'static str> {
    match asked.replace(['-', '_'], " ").to_lowercase().as_str() {
        "defect as found" | "as found" => Some(AS_FOUND),
        "error" => Some(
            "error\n\n  It can hurt someone or makes the documents wrong. Nothing is written until it is mended; it can't be accepted.\n",
        ),
        "warning" | "accepted warning" | "accepted" => Some(WARNING),
        _ => None,
    }
}

const AS_FOUND: &str = "\
defect as found

What it is
  An error of work that was there before this job: every component it comes from has `scope = \"existing\"`, and nothing
  that this job fits rests on it. Documents are written all the same.

What to do
  Mend it, or tell the customer: packet 1, the change notice and the binder list it with what may happen and a line to
  sign, recorded as `[recorded.signed] as-found = { by = \"…\", date = 2027-05-03 }`. It can't be accepted by `[[accepted]]`.

When it is an error again
  As soon as new or altered work feeds it, is fed by it or names it; the finding says which component that is. One that
  rests on what nobody has looked at (`known = { … = \"assumed\" }`) says \"assumed, to survey\".
";

const WARNING: &str = "\
warning

  It is mended, or accepted with a reason and a name, which the documents print:

    [[accepted]]
    finding = \"array-without-isolator\"
    about   = \"roof-array\"
    reason  = \"The plugs within reach serve as the isolator.\"
    by      = \"E. Oswin\"
";

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
