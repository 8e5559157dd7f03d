//! A load behind the charge contactor of the bank's own protection.

use crate::checks::{Check, Context};
use crate::compute::bank_paths::{Path, above};
use crate::compute::network::is_end;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "load-on-charge-path",
        severity: Severity::Error,
        what: "Something that draws current hangs behind the charge contactor of the bank.",
        why: "The charge contactor stays closed when the bank is empty, so that it can be charged: what draws there empties it beyond what its protection allows. When it opens, the load is left to the chargers alone, at a voltage that nothing holds.",
        example: "[component.charge-contactor]\nkind = \"bank-contactor\"\npath = \"charge\"\nfed_from = \"disconnect\"\n\n[component.charge-bus]\nkind = \"busbar\"\nfed_from = \"charge-contactor\"\n\n[component.panel]\nkind = \"fuse-panel\"\nfed_from = \"charge-bus\"\n\n[component.fridge]\nkind = \"fridge\"\nfed_from = \"panel\"",
        basis: "Structure of the spec: what the fields say of both.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for circuit in build.circuits.values().filter(|c| c.network == Network::Dc && is_end(build, c)) {
        let role = context.part(&circuit.to).and_then(crate::build::Part::role);
        // One that does both is told by its own rule.
        if role == Some(Role::InverterCharger) {
            continue;
        }
        let Some((contactor, Path::Charge)) = above(build, &circuit.from) else { continue };
        let headline = format!("{}: draws behind the charge contactor {}", circuit.to, contactor.id);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.to)
                .at(circuit.span, "on the charge path")
                .label(contactor.span, "stays closed when the bank is empty")
                .help("feed it from a bus or panel behind the load contactor"),
        );
    }
}
