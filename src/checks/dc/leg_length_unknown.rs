//! A conductor over a switch whose length nobody knows.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "leg-length-unknown",
        severity: Severity::Warning,
        what: "A circuit goes over a switch, and the way to the switch and on to the load is in no channel and has no length.",
        why: "The way over the switch is often twice the straight one: size and voltage drop are told for too short a cable.",
        example: "[component.pump]\nkind = \"water-pump\"\nfed_from = \"panel\"\nrun = \"2 m\"\nswitched_at = \"control-panel.pump\"   # and no channel",
        basis: "Ohm's law counts the whole way.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits() {
        let Some(at) = &circuit.switched_at else { continue };
        let unknown: Vec<&str> = context
            .build
            .conductors_of(circuit)
            .filter(|c| !c.is_back() && c.route.length.is_none() && !c.confidential)
            .map(|c| c.local.as_str())
            .collect();
        if unknown.is_empty() || context.build.conductors_of(circuit).count() < 2 {
            continue;
        }
        let headline = format!("{}: nobody knows the length of its {}", circuit.owner, unknown.join(" and its "));
        let one = unknown.first().copied().unwrap_or("leg");
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(at.span, "over this switch")
                .help(format!("give lead.{one} = {{ run = \"…\" }}, or a [channel] that passes both places")),
        );
    }
}
