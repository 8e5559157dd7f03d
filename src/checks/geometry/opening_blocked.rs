//! A drawer, tray or awning with something in its way.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "opening-blocked",
        severity: Severity::Warning,
        what: "Drawn out to its full length, a drawer, tray or awning meets another place.",
        why: "It opens halfway, and what is at its back stays there.",
        example: "[component.tray]\nkind = \"slide-tray\"\nopens = \"left\"\nextension = \"800 mm\"          # and the galley 300 mm beside it",
        basis: "Boxes along the axes of the vehicle.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for b in &context.geometry.blocked {
        let (Some(part), Some(place)) = (context.part(&b.part), context.build.places.get(&b.place)) else {
            continue;
        };
        let (free, wanted) = (Metres(b.free).show(system), Metres(b.wanted).show(system));
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: opens {free} of {wanted}, then it meets {}", b.part, b.place),
            )
            .about(&b.part)
            .at(part.span, format!("needs {wanted}"))
            .label(place.at.span, "in its way")
            .help("let it open another way, make it shorter, or move what is in its way"),
        );
    }
}
