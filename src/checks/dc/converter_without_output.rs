//! A converter that feeds nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "converter-without-output",
        severity: Severity::Error,
        what: "No component names the converter in its `fed_from`.",
        why: "Its output gets no cable, no fuse and no label in any document.",
        example: "[component.converter]\nkind = \"step-down-converter\"\nfed_from = \"busbar\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    // What is fed in a loop has no circuit, and is told as that.
    let parts = || context.build.parts.values();
    let named: BTreeSet<&str> = parts().flat_map(|p| p.supply.fed_from.all()).map(|id| id.value.as_str()).collect();
    for part in parts().filter(|p| p.roles.converter.is_some()) {
        if named.contains(part.id.as_str()) || context.build.leaving(&part.id).any(|c| c.feeding.draws()) {
            continue;
        }
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: its output goes nowhere", part.id))
                .about(&part.id)
                .at(part.span, "nothing is fed from it")
                .help(format!("write `fed_from = \"{}\"` at the busbar, panel or load that it feeds", part.id)),
        );
    }
}
