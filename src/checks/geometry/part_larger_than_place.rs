//! A component that does not go into its place.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "part-larger-than-place",
        severity: Severity::Warning,
        what: "A component's own three measures do not fit into those of its place, whichever way it is turned.",
        why: "It cannot be built in; cabinets around it are cut before anyone notices.",
        example: "[place]\nbay = { at = [\"4 m\", \"0.6 m\", \"0 m\"], size = [\"0.6 m\", \"0.4 m\", \"0.4 m\"] }\n\n[component.tank]\nkind = \"fresh-tank\"\nplace = \"bay\"\nlength = \"800 mm\"\nwidth = \"350 mm\"\nheight = \"300 mm\"",
        basis: "Measures as the spec gives them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let show = |size: [f64; 3]| size.map(|d| Metres(d).show(system)).join(" × ");
    for t in &context.geometry.too_large {
        let (Some(part), Some(place)) = (context.part(&t.part), context.build.places.get(&t.place)) else {
            continue;
        };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {} does not go into {}", t.part, show(t.size), t.place))
                .about(&t.part)
                .at(part.span, show(t.size))
                .label(place.size.span, show(t.space))
                .help("a smaller one, another place, or correct the measures"),
        );
    }
}
