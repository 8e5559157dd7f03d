//! An electrical component that nothing feeds.

use super::current_without_source::is_dead_top;
use crate::build::Feeding;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "not-fed",
        severity: Severity::Error,
        what: "A component that needs electricity has no `fed_from`.",
        why: "It gets no wire, no fuse and no label in any document.",
        example: "[component.fridge]\nkind = \"fridge\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(role) = part.role().filter(|r| !r.is_source()) else { continue };
        // Shore power alone doesn't join an inverter-charger to the bank that it charges and draws from.
        let by_shore = role != Role::InverterCharger && !part.roles.shore_from().all().is_empty();
        let fed = !part.supply.fed_from.all().is_empty() || by_shore;
        let mut arriving = context.build.arriving(&part.id).filter(|c| c.feeding != Feeding::Shore);
        let by_output = arriving.next().is_some();
        let feeders = &part.supply.fed_from;
        if part.electric().is_some_and(|e| e.second.is_some()) && feeders.all().len() == 1 {
            let finding = Finding::error(CHECK.doc.name, format!("{}: nothing feeds its second supply", part.id));
            let finding = finding.about(&part.id).at(feeders.span, "one feeder");
            sink.push(finding.help("name two in `fed_from`: that of its first supply and that of its second"));
        }
        // The display measures a resistive sender.
        let needs_none = part.roles.technology().is("resistive");
        if fed || by_output || needs_none || is_dead_top(context, part) {
            continue;
        }
        let what = if role == Role::Charger { "takes its energy from" } else { "is fed from" };
        sink.push(
            Finding::error(
                CHECK.doc.name,
                format!("{}: nothing feeds this {}", part.id, part.kind.name.to_lowercase()),
            )
            .about(&part.id)
            .at(part.span, "no `fed_from`")
            .help(format!("write `fed_from = \"…\"` with the component that it {what}")),
        );
    }
}
