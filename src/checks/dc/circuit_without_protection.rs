//! A circuit that no fuse or breaker protects.

use crate::checks::{Check, Context};
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "circuit-without-protection",
        severity: Severity::Error,
        what: "A circuit has no fuse or breaker of its own and none further up.",
        why: "A short in it draws the full fault current of the bank until something burns.",
        example: "[component.heater]\nkind = \"air-heater\"\nfed_from = \"house-bank\"\nprotection = \"none\"",
        basis: "33 CFR 183.455(a): every ungrounded conductor has a fuse or a manually reset, trip-free breaker.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(_, f)| f.device.at == DeviceAt::Nothing) {
        let feeds = context.part(&circuit.from).and_then(|p| p.role()).is_some_and(|r| r.passes_through() || r.is_source());
        if !feeds {
            continue;
        }
        let headline = format!("{}: nothing protects the circuit from {}", circuit.id, circuit.from);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "protection"), "no fuse or breaker here or upstream")
                .basis("33 CFR 183.455(a)")
                .help("leave `protection` out to have it sized, or feed it from a panel or behind a main fuse"),
        );
    }
}
