//! A component that is said to weigh nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "zero-mass",
        severity: Severity::Warning,
        what: "A component gives `mass = \"0 kg\"`.",
        why: "Nothing weighs nothing; most likely the figure was to come later and never came.",
        example: "[component.fridge]\nkind = \"fridge\"\nmass = \"0 kg\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let none = part.kind.load.as_ref().is_some_and(|l| l.none);
        if none || !part.common.mass.given || part.common.mass.get().is_none_or(|m| m.0 > 0.0) {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: a mass of nothing", part.id))
                .about(&part.id)
                .at(part.common.mass.span, "weighs nothing")
                .help("give its mass, or delete the line: what has no mass is then listed as missing"),
        );
    }
}
