//! A `lead` of a component that is no conductor of it.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lead-unknown",
        severity: Severity::Error,
        what: "`lead.<id>` names no conductor of the component.",
        why: "What it says of length, size or fuse counts for nothing.",
        example: "[component.pump]\nkind = \"water-pump\"\nfed_from = \"panel\"\nlead.suply = { run = \"2 m\" }   # supply",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let conductors = &context.build.wiring.conductors;
    for part in context.build.parts.values() {
        for lead in part.leads.iter().filter(|l| !conductors.contains_key(&format!("{}.{}", part.id, l.id))) {
            let own: Vec<&str> = conductors.values().filter(|c| c.owner == part.id).map(|c| c.local.as_str()).collect();
            let help = match own.as_slice() {
                [] => "this component has no conductor; leave it out".to_owned(),
                own => format!("its conductors are {}", own.join(", ")),
            };
            sink.push(
                Finding::error(CHECK.doc.name, format!("{}: has no conductor `{}`", part.id, lead.id))
                    .about(&part.id)
                    .at(lead.span, "no such conductor")
                    .help(help),
            );
        }
    }
}
