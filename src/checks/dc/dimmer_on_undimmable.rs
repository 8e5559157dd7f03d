//! A dimmer in front of a light that cannot be dimmed.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "dimmer-on-undimmable",
        severity: Severity::Warning,
        what: "A light with `dimmable = false` is fed from a dimmer.",
        why: "It flickers, hums or fails early.",
        example: "[component.lights]\nkind = \"light-zone\"\ndimmable = false\nfed_from = \"dimmer\"",
        basis: "The fitting maker's word, as the spec gives it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits() {
        let (Some(from), Some(to)) = (context.part(&circuit.from), context.part(&circuit.to)) else { continue };
        let fixed = to.kind.fields.contains_key("dimmable") && !to.roles.dimmable().is_set();
        // Of the in-line controls only a dimmer has a lowest level.
        let dims = from.role() == Some(Role::Control) && from.kind.fields.contains_key("lowest");
        if !(fixed && dims) {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: cannot be dimmed, but is fed from {}", to.id, from.id))
                .about(&to.id)
                .at(circuit.span, "fed from a dimmer")
                .label(to.roles.dimmable().span, "may not be dimmed")
                .help("feed it before the dimmer, or choose fittings that may be dimmed"),
        );
    }
}
