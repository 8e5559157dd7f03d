//! A van whose width is above what its ways allow.

use super::limits::{self, Measure};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "width-above-limit",
        severity: Severity::Warning,
        what: "The overall width, with everything on, is above the limit in [use], or above what roads allow without a permit.",
        why: "A gate or a barrier takes the awning along.",
        example: "[use]\nwidth_limit = \"2.1 m\"           # and pods 120 mm out on both sides",
        basis: "Sum of the measures. 2.55 m on European roads, 102 in on US ones: from memory.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let measure = Measure {
        name: CHECK.doc.name,
        word: "width",
        extent: context.geometry.card.width.as_ref(),
        own: &context.build.usage.width_limit,
        vehicle: &context.build.vehicle.width,
        road: Metres(2.55),
        road_basis: "2.55 m on European roads, 102 in on US ones: from memory",
    };
    limits::measure(context, &measure, sink);
}
