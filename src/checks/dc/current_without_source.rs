//! A circuit that no source reaches.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "current-without-source",
        severity: Severity::Error,
        what: "Following `fed_from` upwards ends at a component that is itself fed by nothing that gives current.",
        why: "Everything behind it is dead.",
        example: "[component.house-panel]\nkind = \"fuse-panel\"\nfed_from = \"busbar\"\n\n[component.busbar]\nkind = \"busbar\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.role().is_some_and(Role::passes_through)) {
        let arrives = context.build.arriving(&part.id).next().is_some();
        let leaves = context.build.leaving(&part.id).next();
        // A part without `fed_from` is `not-fed`; here the feeders all end in the air.
        if !arrives || leaves.is_none() || reaches(context, &part.id, 0) {
            continue;
        }
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: no bank, charger, inlet or inverter reaches it", part.id))
                .about(&part.id)
                .at(part.record.span_of("fed_from"), "leads to no source")
                .help("feed the top of this chain from a bank, a starter battery, an inlet or an inverter"),
        );
    }
}

fn reaches(context: &Context<'_>, part: &str, depth: usize) -> bool {
    context.build.arriving(part).any(|c| {
        let role = context.part(&c.from).and_then(|p| p.role());
        role.is_some_and(|r| r.is_source() || r.has_output())
            || depth < 32 && role.is_some_and(Role::passes_through) && reaches(context, &c.from, depth + 1)
    })
}
