//! A charger whose vehicle side comes back by the body, where nothing joins the house negative to it.

use crate::build::returns_by_other_side;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-return-without-bond",
        severity: Severity::Warning,
        what: "A charger between vehicle and house has one negative, which leads to the house, and nothing bonds the house negative to the body.",
        why: "The current of the vehicle's side finds no way back but thin leads and screens, which burn.",
        example: "[component.dc-dc]\nkind = \"dc-dc-charger\"        # and no chassis-bond\nfed_from = \"starter-battery\"\nfeeds = \"busbar\"",
        basis: "What leaves by the positive comes back by the negative (Kirchhoff).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    if build.parts.values().any(|part| part.roles.chassis_bond.is_some()) {
        return;
    }
    for (circuit, _) in context.circuits().filter(|(circuit, _)| returns_by_other_side(build, circuit)) {
        let Some(part) = context.part(&circuit.owner) else { continue };
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: nothing brings the current of its vehicle side back", part.id),
            )
            .about(&part.id)
            .at(part.span, "its one negative leads to the house, and nothing bonds that to the body")
            .help("add a chassis-bond with its `bond_point`")
            .help("or say `isolated = true`, where input and output have negatives of their own"),
        );
    }
}
