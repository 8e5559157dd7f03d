//! A control for danger that is reached from outside, with something before it that nobody is told to move.

use crate::checks::{Check, Context};
use crate::compute::geometry::exits;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "control-out-of-reach",
        severity: Severity::Warning,
        what: "What is worked in danger from a flap or handle outside has a carrier, box or ladder before it, and `reached_past` does not say how one gets past that.",
        why: "The van burns, the handle is in the rear door, and bikes hang before it.",
        example: "[component.main-switch]\nkind = \"battery-disconnect\"\nreached_at = \"rear-door\"",
        basis: "common practice, no source; places and kinds of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.common.reached_past.text().is_none()) {
        let Some(place) = part.common.reached_at.all().first() else { continue };
        let before: Vec<_> =
            exits::before(context.build, &place.value).into_iter().filter(|p| p.id != part.id).collect();
        let Some(first) = before.first() else { continue };
        let ids = before.iter().map(|p| p.id.as_str()).collect::<Vec<_>>().join(", ");
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {ids} can stand before the place it is reached at", part.id))
                .about(&part.id)
                .at(part.span, "worked from outside in danger")
                .label(first.span, "stands before it")
                .basis("common practice, no source")
                .help("say in `reached_past` how one gets past it, or give another `reached_at`".to_owned()),
        );
    }
}
