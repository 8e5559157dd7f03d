//! A van whose length is above what its ways allow.

use super::limits::{self, Measure};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "length-above-limit",
        severity: Severity::Warning,
        what: "The overall length, with everything on, is above the limit in [use], or above what roads allow without a permit.",
        why: "It does not fit the ferry lane it was booked for, or the place to park.",
        example: "[use]\nlength_limit = \"6.0 m\"          # and bikes 650 mm behind the doors",
        basis: "Sum of the measures. 12 m on European roads: from memory.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let measure = Measure {
        name: CHECK.doc.name,
        word: "length",
        extent: context.geometry.card.length.as_ref(),
        own: &context.build.usage.length_limit,
        vehicle: &context.build.vehicle.length,
        road: Metres(12.0),
        road_basis: "12 m on European roads: from memory",
    };
    limits::measure(context, &measure, sink);
}
