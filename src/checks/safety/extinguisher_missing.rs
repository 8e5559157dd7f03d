//! People sleep or something burns aboard, and no extinguisher.

use super::people::{first, of_role};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "extinguisher-missing",
        severity: Severity::Warning,
        what: "The build has a place to sleep or a burner, and no fire extinguisher.",
        why: "A small fire can't be put out, nor a way out cleared.",
        example: "[component.bed]\nkind = \"bed\"                       # and no extinguisher",
        basis: "NFPA 1192, one listed extinguisher (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = first(context, &[SafetyRole::Sleeping, SafetyRole::Burner]) else { return };
    if of_role(context, SafetyRole::Extinguisher).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "no fire extinguisher aboard")
            .about(&cause.id)
            .at(cause.span, "someone sleeps here or something burns")
            .basis("NFPA 1192: one listed extinguisher, from memory")
            .help("an extinguisher by the main exit"),
    );
}
