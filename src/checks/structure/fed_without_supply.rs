//! A component that is fed, and says that it takes no electricity.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fed-without-supply",
        severity: Severity::Error,
        what: "A component names what feeds it, but by its other fields it takes no electricity.",
        why: "It would get no circuit: no cable, no fuse, no line in the energy account.",
        example: "[component.coffee]\nkind = \"appliance\"\nsupply = \"none\"              # supply = \"dc\"\nfed_from = \"house-panel\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let fed = &part.supply.fed_from;
        if !fed.given || part.electric().is_some() || part.kind.may_be_electric().is_none() {
            continue;
        }
        sink.push(
            Finding::error(CHECK.doc.name, format!("{} is fed, and says that it takes no electricity", part.id))
                .about(&part.id)
                .at(fed.span, "fed from here")
                .basis("structure of the spec")
                .help("say what it runs on, like supply = \"dc\", or delete `fed_from`"),
        );
    }
}
