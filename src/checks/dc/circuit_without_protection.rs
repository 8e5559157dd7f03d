//! A circuit that no fuse or breaker protects.

use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

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
    let bare = |circuit: &Circuit| {
        let figures = context.electrical.circuits.get(&circuit.id);
        figures.is_some_and(|f| f.device.at == DeviceAt::Nothing)
    };
    for (circuit, _) in context.circuits().filter(|(c, _)| bare(c)) {
        let role = context.part(&circuit.from).and_then(crate::build::Part::role);
        let above: Vec<_> = context.build.arriving(&circuit.from).filter(|c| c.network == circuit.network).collect();
        // Where nothing arrives there is no current to protect from; where the feeder is bare too, it is told there.
        let live = role.is_some_and(Role::is_source) || role.is_some_and(Role::passes_through) && !above.is_empty();
        if !live || above.iter().any(|c| bare(c)) {
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
