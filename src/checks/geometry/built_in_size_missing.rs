//! A fridge or heater whose bay is known, and its own size not.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "built-in-size-missing",
        severity: Severity::Warning,
        what: "The place of a fridge, an oven or a water heater has a size, and the part that goes into it tells none.",
        why: "Nobody can say whether it goes in; the bay is built before anyone notices. A larger one in a later revision goes unnoticed too.",
        example: "[place]\nbay = { at = [\"3 m\", \"0.6 m\", \"0 m\"], size = [\"0.5 m\", \"0.5 m\", \"0.9 m\"] }\n\n[component.fridge]\nkind = \"fridge\"\nplace = \"bay\"                   # and no size",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.geometry.unmeasured.iter().filter_map(|id| context.part(id)) {
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: its bay has a size, it has none", part.id))
                .about(&part.id)
                .at(part.span, "no outer size")
                .basis("structure of the spec")
                .help("size = [\"…\", \"…\", \"…\"] from the maker's sheet, with the room for air and leads that it asks for"),
        );
    }
}
