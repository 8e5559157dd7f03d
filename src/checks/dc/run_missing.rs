//! A circuit whose length is not known.

use crate::checks::{Check, Context};
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-missing",
        severity: Severity::Warning,
        what: "A circuit has no `run`, so its voltage drop and its cable length are not computed.",
        why: "The conductor is sized by current alone and may be too thin for the way it goes.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"",
        basis: "Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        if figures.run_known || figures.device.at == DeviceAt::Vehicle {
            continue;
        }
        let field = circuit.end.field("run");
        if context.part(&circuit.owner).is_some_and(|p| p.record.faulty.contains(&field)) {
            continue;
        }
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: no `{field}`, so the voltage drop is not computed", circuit.id),
            )
            .about(&circuit.owner)
            .at(circuit.span, "one-way length of this circuit?")
            .help(format!("measure the route and write `{field} = \"… m\"`")),
        );
    }
}
