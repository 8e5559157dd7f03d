//! An end on a blade whose conductor no push-on receptacle takes.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PostForm;
use crate::tables::{rings, sources};
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "push-on-not-sold",
        severity: Severity::Warning,
        what: "A conductor that ends on a blade is thicker than any push-on receptacle.",
        why: "Strands that are cut away to fit leave too little copper, and the blade heats, loses its spring and burns.",
        example: "[component.compressor]\nkind = \"air-compressor\"\nfed_from = \"aux-panel\"     # its ways are blades\nway = 1\nconductor = \"4 AWG\"",
        basis: "Push-on receptacles that shops stock: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let mut told = BTreeSet::new();
    for (id, figures) in &context.electrical.conductors {
        let Some(conductor) = build.wiring.conductors.get(id) else { continue };
        let circuit = conductor.circuit.as_ref().and_then(|id| build.circuits.get(id));
        for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
            let blade = end.form == Some(PostForm::PushOn);
            let Some(size) = end.size.filter(|size| blade && !rings::has_push_on(*size)) else { continue };
            let about = circuit.map_or(id, |c| &c.id);
            // What leads on from a switch has the size of what leads to it.
            if !told.insert((about, &landing.part)) {
                continue;
            }
            let span = circuit.map_or(conductor.span, |c| c.span_of(&build.parts, "conductor"));
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{about}: no push-on receptacle takes {size} at {}", landing.show(build)),
                )
                .about(&conductor.owner)
                .at(span, format!("{size} ends on a blade"))
                .basis(sources::PUSH_ONS.text)
                .help("feed it over a relay near its source, so that a thin lead goes to the switch")
                .help("or say in a note how a short thinner lead joins the two, no thinner than its fuse asks"),
            );
        }
    }
}
