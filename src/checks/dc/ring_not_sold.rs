//! An end that asks for a ring which no shop has.

use crate::build::Purpose;
use crate::checks::{Check, Context};
use crate::compute::network::ConductorEnd;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PostForm;
use crate::tables::conductor_series::Series;
use crate::tables::{rings, sources};
use crate::units::ConductorSize;
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "ring-not-sold",
        severity: Severity::Warning,
        what: "A conductor ends on a stud for which there is no ring of its size: it is too thin for the stud, or too thick.",
        why: "What is crimped in a barrel of another size, drilled up or held by a washer comes loose, heats and burns.",
        example: "[component.controller]\nkind = \"solar-controller\"\nfeeds = \"busbar\"          # studs of M10\noutput_conductor = \"16 AWG\"",
        basis: "Rings that shops stock, by stud and conductor: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let mut told = BTreeSet::new();
    for (id, figures) in &context.electrical.conductors {
        let Some(conductor) = build.wiring.conductors.get(id) else { continue };
        let circuit = conductor.circuit.as_ref().filter(|_| conductor.purpose == Purpose::Circuit);
        let circuit = circuit.and_then(|id| build.circuits.get(id));
        for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
            let Some((size, rings)) = unsold(end) else { continue };
            let Some((least, most)) = rings.range(Series::of(size)) else { continue };
            let about = circuit.map_or(id, |c| &c.id);
            // Positive and negative of a circuit have one size.
            if !told.insert((about, &landing.part, end.thread.as_str())) {
                continue;
            }
            let thread = &end.thread;
            let (what, help) = if rings.are_above(size) {
                let field =
                    circuit.map_or_else(|| "its size".to_owned(), |c| format!("`{}`", c.end.field("conductor")));
                ("thin", format!("{field} of {least} or more: rings for {thread} begin there"))
            } else {
                ("thick", format!("a part with a larger stud: rings for {thread} end at {most}"))
            };
            let span = circuit.map_or(conductor.span, |c| c.span_of(&build.parts, "conductor"));
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{about}: no ring {size} × {thread} is sold for {}", landing.part),
                )
                .about(&conductor.owner)
                .at(span, format!("too {what} for a stud of {thread}"))
                .basis(sources::RINGS.text)
                .help(help),
            );
        }
    }
}

/// The conductor and the rings of its stud, where there is none for it.
fn unsold(end: &ConductorEnd) -> Option<(ConductorSize, rings::Rings)> {
    let rings = rings::of_stud(&end.thread).filter(|_| end.form == Some(PostForm::Ring))?;
    Some((end.size.filter(|size| !rings.take(*size))?, rings))
}
