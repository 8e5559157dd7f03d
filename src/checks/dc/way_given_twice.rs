//! Two circuits on the same way.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use std::collections::BTreeMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "way-given-twice",
        severity: Severity::Error,
        what: "Two circuits name the same way of the same panel.",
        why: "One fuse cannot fit both, and the directory would lie.",
        example: "[component.pump]\nfed_from = \"house-panel\"\nway = 3\n\n[component.fan]\nfed_from = \"house-panel\"\nway = 3",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut taken = BTreeMap::new();
    for circuit in context.build.circuits.values() {
        let Some(way) = circuit.way else { continue };
        let Some(first) = taken.insert((circuit.from.as_str(), way), circuit) else { continue };
        let headline = format!("{} and {}: both on way {way} of {}", first.id, circuit.id, circuit.from);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "way"), format!("way {way} again"))
                .label(first.span_of(&context.build.parts, "way"), format!("way {way} first"))
                .help("give one of them another way, or leave `way` out and it gets a free one"),
        );
    }
}
