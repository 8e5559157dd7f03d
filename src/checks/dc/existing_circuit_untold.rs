//! A circuit that was there before, of which the spec says neither what its conductor or fuse is nor that nobody knows.

use crate::build::Scope;
use crate::checks::{Check, Context};
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "existing-circuit-untold",
        severity: Severity::Warning,
        what: "A component is existing, and the spec does not say what conductor or protection its circuit has.",
        why: "The circuit is judged as if it were sized today. A larger fuse or a thinner cable in the van would pass unseen, and a cable could burn.",
        example: "[component.fridge]\nkind     = \"fridge\"\nscope    = \"existing\"\nfed_from = \"house-panel\"          # and no conductor, no protection",
        basis: "House rule; common practice of work on existing wiring, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
        let Some(part) = context.part(&circuit.owner).filter(|p| p.scope == Scope::Existing) else { continue };
        let wanted = ["conductor"].into_iter().chain(figures.device.is_own().then_some("protection"));
        let untold = |field: &String| !part.says(field) && part.known(field).is_none();
        let untold: Vec<String> = wanted.map(|name| circuit.end.field(name)).filter(untold).collect();
        if untold.is_empty() {
            continue;
        }
        let fields: Vec<String> = untold.iter().map(|field| format!("`{field}`")).collect();
        let assumed: Vec<String> = untold.iter().map(|field| format!("{field} = \"assumed\"")).collect();
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: existing, and no {} is told", circuit.id, fields.join(" and no ")),
            )
            .about(&part.id)
            .at(circuit.span, "what is in the van?")
            .label(part.common.scope.span, "existing")
            .basis("what is there is read at the van")
            .help(format!(
                "write what stands on cable and fuse, or `known = {{ {} }}`: then every verdict says so",
                assumed.join(", ")
            )),
        );
    }
}
