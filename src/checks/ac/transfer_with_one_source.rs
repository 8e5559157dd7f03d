//! A transfer that has nothing to choose between.

use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "transfer-with-one-source",
        severity: Severity::Warning,
        what: "A transfer switch has fewer than two sources.",
        why: "Either a `feeds` is missing, and the drawings lack a cable, or the transfer is not needed.",
        example: "[component.transfer]\nkind = \"transfer-switch\"\nfed_from = \"inlet\"          # and no inverter feeds it",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values().filter(|p| p.role() == Some(Role::Transfer)) {
        let sources = reach::arriving(build, &part.id).count();
        if sources >= 2 {
            continue;
        }
        let headline = if sources == 0 { "no source feeds it" } else { "one source alone feeds it" };
        let mut finding = Finding::warning(CHECK.doc.name, format!("{}: {headline}", part.id))
            .about(&part.id)
            .at(part.span, headline)
            .basis("a transfer chooses between two sources");
        let loose = build.parts.values().filter(|p| matches!(p.role(), Some(Role::Inverter)));
        for inverter in loose.filter(|p| build.leaving(&p.id).next().is_none()) {
            finding = finding.label(inverter.span, "feeds nothing yet");
        }
        sink.push(finding.help(format!("give the inverter `feeds = \"{}\"`, or leave the transfer out", part.id)));
    }
}
