//! A charger or inverter that feeds nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-without-output",
        severity: Severity::Error,
        what: "A charger, alternator-fed charger or inverter has no `feeds`.",
        why: "Its output has no conductor and no fuse, and its energy is not counted.",
        example: "[component.solar-controller]\nkind = \"solar-controller\"\nfed_from = \"roof-array\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let wants = matches!(part.role(), Some(Role::Charger | Role::Inverter | Role::InverterCharger));
        let fed_by_name = context.build.leaving(&part.id).next().is_some();
        if !wants || fed_by_name || !part.output.feeds.all().is_empty() {
            continue;
        }
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: its output goes nowhere", part.id))
                .about(&part.id)
                .at(part.span, "no `feeds`")
                .help("write `feeds = \"…\"` with the busbar, panel or switch its output goes to"),
        );
    }
}
