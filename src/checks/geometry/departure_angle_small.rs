//! A departure angle smaller than wanted.

use super::limits;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "departure-angle-small",
        severity: Severity::Warning,
        what: "The departure angle, with every part that hangs there, is below the one wanted in [use].",
        why: "The tail, the tank or its valve is torn off at the first ditch or ferry ramp.",
        example: "[component.box]\nkind = \"box-carrier\"\nmount = \"hitch\"\nground_clearance = \"250 mm\"\noverhang_rear = \"600 mm\"",
        basis: "49 CFR 523.2 and ISO 612 for the angle; the default of what is wanted is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let wanted = ("departure_angle", &context.build.usage.departure_angle);
    limits::angle(context, CHECK.doc.name, "departure", context.geometry.departure.as_ref(), wanted, sink);
}
