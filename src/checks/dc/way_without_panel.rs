//! A way number where there are no ways.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "way-without-panel",
        severity: Severity::Warning,
        what: "A component gives `way`, but what feeds it has no numbered ways.",
        why: "The number appears nowhere, and whoever looks for it looks in vain.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"2000 W\"\nfed_from = \"busbar\"\nway = 2",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.owner == c.to) {
        let (Some(part), Some(from)) = (context.part(&circuit.owner), context.part(&circuit.from)) else { continue };
        let Some(way) = part.supply.way.get().filter(|_| !from.role().is_some_and(Role::has_ways)) else { continue };
        let headline = format!("{}: has way {way}, but {} has no ways", part.id, from.id);
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.supply.way.span, "no such way")
                .help("leave `way` out, or feed it from a panel"),
        );
    }
}
