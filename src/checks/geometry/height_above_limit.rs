//! A van whose height is above what its ways allow.

use super::limits::{self, Measure};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "height-above-limit",
        severity: Severity::Warning,
        what: "The overall height, with everything on, is above the limit in [use], or above what roads allow without a permit.",
        why: "The roof meets a barrier, a garage or a bridge.",
        example: "[use]\nheight_limit = \"3.0 m\"          # and a kayak carrier 750 mm above the roof",
        basis: "Sum of the measures. 4.00 m on European roads, 13 ft 6 in in most states: from memory.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let measure = Measure {
        name: CHECK.doc.name,
        word: "height",
        extent: context.geometry.card.height.as_ref(),
        own: &context.build.usage.height_limit,
        vehicle: &context.build.vehicle.height,
        road: Metres(4.0),
        road_basis: "4.00 m on European roads, 13 ft 6 in in most states: from memory",
    };
    limits::measure(context, &measure, sink);
}
