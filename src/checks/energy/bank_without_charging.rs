//! A bank that nothing charges.

use super::words::bank_span;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-without-charging",
        severity: Severity::Warning,
        what: "The build has a house bank, and no solar controller with an array, no DC-DC charger and no shore charger reaches it.",
        why: "It is emptied once and stays empty.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\n\n[component.fridge]\nkind = \"fridge\"",
        basis: "Charge current flows along `feeds` of a charger to what hangs on the bank.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.energy.store.is_none() || !context.energy.fillings.is_empty() {
        return;
    }
    if context.electrical.strings.values().any(|s| s.controller.is_some()) {
        return;
    }
    let finding = Finding::warning(CHECK.doc.name, "nothing charges the house bank")
        .at(bank_span(context), "no charger's output reaches it")
        .basis("charge current flows along `feeds` of a charger to what hangs on the bank")
        .help("add a dc-dc-charger, a shore-charger, or a solar-array with its solar-controller; give its `feeds`");
    sink.push(finding);
}
