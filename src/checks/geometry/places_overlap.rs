//! Two places that reach into each other.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "places-overlap",
        severity: Severity::Warning,
        what: "The boxes of two places overlap by more than 20 mm along every axis, and neither lies within the other.",
        why: "Two things are planned for the same room; the technician finds out with the saw in hand.",
        example: "[place]\ngalley = { at = [\"2.0 m\", \"0.6 m\", \"0 m\"], size = [\"1.2 m\", \"0.5 m\", \"0.9 m\"] }\nfridge = { at = [\"2.5 m\", \"0.6 m\", \"0 m\"], size = [\"0.5 m\", \"0.5 m\", \"0.9 m\"] }",
        basis: "Boxes along the axes of the vehicle.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let places = &context.build.places;
    let system = context.build.prints();
    for o in &context.geometry.overlaps {
        let (Some(one), Some(other)) = (places.get(&o.a), places.get(&o.b)) else { continue };
        let [along, across, up] = o.depth.map(|d| Metres(d).show(system));
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} and {} reach into each other", o.a, o.b))
                .about(&o.a)
                .at(other.at.span, format!("{along} along, {across} across, {up} up are in both"))
                .label(one.at.span, "the other place")
                .help("move or shrink one of them")
                .help("`open = true` for a place others may reach into, such as the whole floor"),
        );
    }
}
