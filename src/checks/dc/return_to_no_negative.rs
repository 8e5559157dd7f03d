//! A negative busbar that returns to something that is no negative.

use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::compute::network::bank_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "return-to-no-negative",
        severity: Severity::Error,
        what: "`returns_to` names neither a bank, nor a shunt, nor a negative busbar that leads to one.",
        why: "On a positive busbar, fuse or switch this cable is a dead short of the bank.",
        example: "[component.negative-bar]\nkind = \"negative-busbar\"\nmirrors = \"busbar\"\nreturns_to = \"busbar\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding == Feeding::Return) {
        let Some(to) = context.part(&circuit.from) else { continue };
        let is_negative =
            matches!(to.role(), Some(Role::Bank | Role::Shunt)) || to.kind.fields.contains_key("returns_to");
        if is_negative && bank_of(context.build, circuit).is_some() {
            continue;
        }
        let name = to.kind.name.to_lowercase();
        let (headline, why) = if is_negative {
            (format!("{}: returns to {}, which leads back to no bank", circuit.owner, to.id), "ends nowhere".to_owned())
        } else {
            (format!("{}: returns to {}, a {name}", circuit.owner, to.id), format!("a {name} has no negative for it"))
        };
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span, why)
                .label(to.span, format!("{} stands here", to.id))
                .help("name the battery monitor (its load side), or the bank where there is none"),
        );
    }
}
