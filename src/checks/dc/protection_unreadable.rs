//! A `protection` that is neither a rating nor "none".

use crate::checks::{Check, Context};
use crate::compute::network::read_protection;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::tables::fuse_series::Family;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "protection-unreadable",
        severity: Severity::Error,
        what: "`protection` must be a rating, perhaps with a fuse family, or \"none\".",
        why: "The fuse would be a guess.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nprotection = \"fifteen\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for circuit in context.build.circuits.values() {
        let Some(text) = circuit.given_protection.as_deref() else { continue };
        if read_protection(text).is_some() {
            continue;
        }
        let families: Vec<_> = Family::ALL.iter().map(|f| f.word()).collect();
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("{}: protection \"{}\" cannot be read", circuit.id, text.escape_debug()),
            )
            .about(&circuit.owner)
            .at(circuit.span_of(&context.build.parts, "protection"), "expected a rating such as \"15 A\"")
            .help("write \"15 A\", \"200 A class-t\" or \"none\"")
            .help(format!("families: {}", families.join(", "))),
        );
    }
}
