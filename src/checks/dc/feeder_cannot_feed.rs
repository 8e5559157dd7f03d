//! A `fed_from` that names something no current comes from.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "feeder-cannot-feed",
        severity: Severity::Error,
        what: "A component is fed from one that neither is a source nor passes the positive on: an appliance, or a battery monitor, whose shunt stands in the negative.",
        why: "The circuit has no beginning.",
        example: "[component.fan]\nkind = \"roof-fan\"\nfed_from = \"fridge\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding.draws()) {
        let Some(from) = context.part(&circuit.from) else { continue };
        // A shunt passes current, but the negative: whatever hung on it would have no positive and no fuse.
        let gives = |r: Role| {
            r != Role::Shunt && (r.passes_through() || r.is_source() || r.has_output() || r == Role::Converter)
        };
        if from.role().is_some_and(gives) {
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
