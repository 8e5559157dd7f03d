//! A snag that is still open when the van is handed over.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "snag-open-at-handover",
        severity: Severity::Warning,
        what: "A [[snag]] is not put right, and is due after the day of the handover or on no day.",
        why: "The owner drives off with it. Who knows of it and lives with it until then stands in the acceptance; the binder keeps the list.",
        example: "[build]\nhandover = 2027-06-09\n\n[[snag]]\nwhat  = \"The lid rattles\"\nowner = \"shop\"\nfound = 2027-06-02\ndue   = 2027-07-01",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let handover = &build.about.handover;
    let Some(day) = handover.get() else { return };
    for snag in &build.site.snags {
        if snag.done.given || snag.done.faulty || snag.due.faulty || snag.due.get().is_some_and(|due| due <= day) {
            continue;
        }
        let what = snag.what.or_empty();
        let (headline, span, here) = match snag.due.get() {
            Some(due) => (format!("“{what}” is due on {due}, after the handover on {day}"), snag.due.span, "after it"),
            None => (format!("“{what}” is open, and due on no day"), snag.what.span, "until when?"),
        };
        let finding = Finding::warning(CHECK.doc.name, headline).at(span, here).label(handover.span, "handed over");
        let finding = match snag.component.all().first() {
            Some(component) => finding.about(&component.value),
            None => finding,
        };
        sink.push(
            finding
                .basis("what is still to be put right is agreed on at the handover")
                .help("put it right before and say `done`, give a `due` until then, or accept it with who agreed"),
        );
    }
}
