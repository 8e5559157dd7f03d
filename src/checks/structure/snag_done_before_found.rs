//! A snag whose days run backwards.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "snag-done-before-found",
        severity: Severity::Error,
        what: "A [[snag]] was put right, or is due, on a day before it was found.",
        why: "The list stays with the owner after the handover. One of both days is wrong, and with it who answers for what.",
        example: "[[snag]]\nwhat  = \"The drawer rattles\"\nowner = \"shop\"\nfound = 2027-06-02\ndone  = 2027-05-30",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for snag in &context.build.site.snags {
        let Some(found) = snag.found.get() else { continue };
        for (word, day) in [("put right", &snag.done), ("due", &snag.due)] {
            let Some(date) = day.get().filter(|date| *date < found) else { continue };
            let what = snag.what.or_empty();
            let finding = Finding::error(CHECK.doc.name, format!("“{what}”: {word} on {date}, found on {found}"));
            let finding = finding.at(day.span, format!("before {found}")).label(snag.found.span, "found");
            sink.push(finding.basis("nobody puts right what nobody has found").help("put the day right that is wrong"));
        }
    }
}
