//! A note holds a link, a picture or HTML, which no document keeps.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::render::dropped_marks;
use std::collections::BTreeSet;

/// Marks named in one finding.
const NAMED: usize = 3;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "markup-in-note",
        severity: Severity::Warning,
        what: "A note, or a text of a task, holds a link, a picture or HTML.",
        why: "A note stands in several documents, and on paper. Of Markdown it keeps *emphasis*, **strong** and `code`, a task nothing; all else is printed as it is typed, brackets included.",
        example: "note = \"[see](#water)\"              # note = \"See Water in the owner's manual.\"",
        basis: "How notes are printed.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut seen = BTreeSet::new();
    context.build.spec.each_text(&mut |typed| {
        // `like` copies a text with its place.
        if !typed.prose || !typed.text.contains(['[', '<']) || !seen.insert((typed.span.start, typed.span.end)) {
            return;
        }
        let marks = dropped_marks(typed.text);
        if marks.is_empty() {
            return;
        }
        let mut named: Vec<String> = marks.iter().take(NAMED).map(|mark| format!("`{mark}`")).collect();
        if marks.len() > NAMED {
            named.push(format!("{} more", marks.len() - NAMED));
        }
        let headline =
            format!("{}: `{}` holds what is printed as it is typed: {}", typed.owner, typed.field, named.join(", "));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(typed.owner)
                .at(typed.span, "in this note")
                .basis("a note keeps *emphasis*, **strong** and `code`; it has no links, pictures or HTML")
                .help("say in words where to look, such as: see Water in the owner's manual")
                .help("write an address bare, such as https://example.org: it is read on paper too"),
        );
    });
}
