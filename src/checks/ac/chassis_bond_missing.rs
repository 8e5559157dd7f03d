//! AC aboard, and no bond to the vehicle's body.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "chassis-bond-missing",
        severity: Severity::Warning,
        what: "A build has a shore inlet, an inverter or a generator, but no component that bonds metal parts and the body.",
        why: "A fault makes the van's skin live, and nothing trips.",
        example: "[component.shore-inlet]\nkind = \"shore-inlet\"\nrating = \"30 A\"",
        basis: "NEC 551.56: metal parts and the chassis are bonded, at least 8 AWG (quoted).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let parts = &context.build.parts;
    // The kind that bonds says where: `bond_point`.
    if parts.values().any(|p| p.kind.fields.contains_key("bond_point")) {
        return;
    }
    let Some(source) = parts.values().find(|p| p.role().is_some_and(Role::gives_ac)) else { return };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{}: AC aboard, and nothing bonds the body", source.id))
            .about(&source.id)
            .at(source.span, "an AC source")
            .basis("NEC 551.56, quoted")
            .help("add a chassis-bond and name in `equipment` what it bonds"),
    );
}
