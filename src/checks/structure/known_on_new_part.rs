//! A new part that says how its facts are known.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "known-on-new-part",
        severity: Severity::Warning,
        what: "A component says by `known` how something of it is known, and it is new.",
        why: "What this build fits is chosen, not found: no document prints it. Most likely `scope` is missing, and packets would tell technicians to fit what is there.",
        example: "[component.fridge]\nkind      = \"fridge\"\nconductor = \"10 AWG\"\nknown     = { conductor = \"read\" }   # and no scope = \"existing\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.common.known.given && !p.was_there()) {
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: `known` of a component that is new", part.id))
                .about(&part.id)
                .at(part.common.known.span, "of a new component")
                .basis("only what was there before is read, measured or assumed")
                .help("add `scope = \"existing\"` or `scope = \"altered\"`, or take `known` out"),
        );
    }
}
