//! People sleep or something burns aboard, and no smoke alarm.

use super::people::{first, of_role};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "smoke-alarm-missing",
        severity: Severity::Warning,
        what: "The build has a place to sleep or a burner, and no smoke alarm.",
        why: "Smoke kills sleepers before they wake.",
        example: "[component.bed]\nkind = \"bed\"                       # and no smoke-alarm",
        basis: "NFPA 1192, one smoke alarm (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = first(context, &[SafetyRole::Sleeping, SafetyRole::Burner]) else { return };
    if of_role(context, SafetyRole::SmokeAlarm).next().is_some() {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "no smoke alarm aboard")
            .about(&cause.id)
            .at(cause.span, "someone sleeps here or something burns")
            .basis("NFPA 1192: one smoke alarm, from memory")
            .help("a smoke-alarm on the ceiling, away from the cooktop"),
    );
}
