//! A conductor thinner than the mechanical minimum.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "conductor-too-thin",
        severity: Severity::Error,
        what: "The conductor given is smaller than the rules allow for a wire laid by itself or inside a sheath.",
        why: "Thin strands break with the van's vibration.",
        example: "[component.lamp]\nkind = \"reading-light\"\nfed_from = \"house-panel\"\nconductor = \"20 AWG\"",
        basis: "33 CFR 183.425: at least 16 AWG installed separately, 18 AWG inside a sheath; by EU rules 1 mm² and 0.75 mm² (ISO 10133, reprints).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let minimum = &context.electrical.profile.mechanical_minimum;
    for (circuit, _) in context.circuits() {
        let Some(given) = circuit.given_conductor else { continue };
        let least = if circuit.sheathed { minimum.sheathed } else { minimum.separate };
        if given.area().0 >= least.area().0 * (1.0 - 1e-9) {
            continue;
        }
        let how = if circuit.sheathed { "in a sheath" } else { "laid separately" };
        sink.push(
            Finding::error(CHECK.doc.name, format!("{}: {given} is below the least size of {least} {how}", circuit.id))
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "conductor"), "too thin to last")
                .basis(context.electrical.profile.basis.get("mechanical_minimum").cloned().unwrap_or_default())
                .help(format!("{least} or larger")),
        );
    }
}
