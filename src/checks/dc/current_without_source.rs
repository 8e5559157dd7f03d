//! A busbar, panel or switch that feeds others and is fed by nothing.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "current-without-source",
        severity: Severity::Error,
        what: "A component that passes current on to others has no `fed_from`, and no charger or inverter feeds it.",
        why: "Everything behind it is dead.",
        example: "[component.busbar]\nkind = \"busbar\"\n\n[component.house-panel]\nkind = \"fuse-panel\"\nfed_from = \"busbar\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| is_dead_top(context, p)) {
        let behind: Vec<_> = context.build.leaving(&part.id).collect();
        let names = match behind.as_slice() {
            [one] => one.to.clone(),
            [first, others @ ..] => format!("{} and {} more", first.to, others.len()),
            [] => continue,
        };
        let mut finding = Finding::error(CHECK.doc.name, format!("{}: feeds {names}, and nothing feeds it", part.id))
            .about(&part.id)
            .at(part.span, "no `fed_from`");
        for circuit in behind {
            finding = finding.label(circuit.span, "gets no current");
        }
        sink.push(
            finding.help(
                "write `fed_from = \"…\"` with the bank, inlet, inverter, or the fuse, switch or busbar behind one",
            ),
        );
    }
}

/// Whether `part` passes current on, feeds something, and is itself fed by nothing that the spec names.
pub(super) fn is_dead_top(context: &Context<'_>, part: &Part<'_>) -> bool {
    let named = !part.supply.fed_from.all().is_empty() || !part.roles.shore_from().all().is_empty();
    part.role().is_some_and(Role::passes_through)
        && !named
        && context.build.arriving(&part.id).next().is_none()
        && context.build.leaving(&part.id).next().is_some()
}
