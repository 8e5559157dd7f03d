//! A source that charges behind the load contactor of the bank's own protection.

use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::compute::bank_paths::{Path, above};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-on-load-path",
        severity: Severity::Error,
        what: "A charger or alternator feeds into a bus that lies behind the load contactor of the bank.",
        why: "When the bank is empty its protection opens the load contactor: just then nothing can charge it. The charger goes on feeding the loads without a battery, at a voltage that nothing holds.",
        example: "[component.load-contactor]\nkind = \"bank-contactor\"\npath = \"load\"\nfed_from = \"disconnect\"\n\n[component.load-bus]\nkind = \"busbar\"\nfed_from = \"load-contactor\"\n\n[component.solar-controller]\nkind = \"solar-controller\"\nfeeds = \"load-bus\"",
        basis: "Structure of the spec: what the fields say of both.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let outputs = build.circuits.values().filter(|c| c.feeding == Feeding::Output && c.network == Network::Dc);
    for circuit in outputs {
        let Some((contactor, Path::Load)) = above(build, &circuit.to) else { continue };
        let headline = format!("{}: charges behind the load contactor {}", circuit.from, contactor.id);
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.from)
                .at(circuit.span, "on the load path")
                .label(contactor.span, "opens when the bank is nearly empty")
                .help("let it feed a bus behind the charge contactor"),
        );
    }
}
