//! A `fed_from` that names something no current comes from.

use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "feeder-cannot-feed",
        severity: Severity::Error,
        what: "A component is fed from one that neither is a source nor passes current on.",
        why: "The circuit has no beginning.",
        example: "[component.fan]\nkind = \"roof-fan\"\nfed_from = \"fridge\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding != Feeding::Output) {
        let Some(from) = context.part(&circuit.from) else { continue };
        if from.role().is_some_and(|r| r.passes_through() || r.is_source() || r.has_output()) {
            continue;
        }
        let name = from.kind.name.to_lowercase();
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("{}: fed from {}, and a {name} passes no current on", circuit.owner, from.id),
            )
            .about(&circuit.owner)
            .at(circuit.span, format!("a {name} cannot feed a circuit"))
            .label(from.span, format!("{} stands here", from.id))
            .help("name a busbar, a panel, a switch or a source"),
        );
    }
}
