//! A main breaker or residual-current device that leaves one conductor of the mains connected.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "mains-cut-in-one-pole",
        severity: Severity::Error,
        what: "Under EU rules a main breaker or a residual-current device switches the line alone.",
        why: "Campsite plugs can be wired either way round. What is switched off may then still be live.",
        example: "rules = \"eu\"\n\n[component.unit]\nkind = \"consumer-unit\"\nrating = \"16 A\"\nmain_poles = 1",
        basis: "IEC 60364-7-721: overcurrent protection and residual-current devices break all live conductors; read in reprints.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.electrical.profile.id != "eu" {
        return;
    }
    for part in context.build.parts.values() {
        let (poles, field, what) = match part.role() {
            Some(Role::AcPanel) => (part.roles.main_poles(), "main_poles", "main breaker"),
            Some(Role::Rcd) => (part.roles.poles(), "poles", "residual-current device"),
            _ => continue,
        };
        let Some(one) = poles.get().filter(|poles| *poles < 2) else { continue };
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: its {what} has {one} pole", part.id))
                .about(&part.id)
                .at(poles.span, "the neutral stays connected")
                .basis("IEC 60364-7-721: protection breaks all live conductors; read in reprints")
                .help(format!("a device of two poles: `{field} = 2`")),
        );
    }
}
