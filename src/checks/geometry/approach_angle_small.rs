//! An approach angle smaller than wanted.

use super::limits;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "approach-angle-small",
        severity: Severity::Warning,
        what: "The approach angle, with every part that hangs there, is below the one wanted in [use].",
        why: "The bumper ploughs into the first steep ramp.",
        example: "[component.bumper]\nkind = \"front-bumper\"\nground_clearance = \"150 mm\"",
        basis: "49 CFR 523.2 and ISO 612 for the angle; the default of what is wanted is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let wanted = ("approach_angle", &context.build.usage.approach_angle);
    limits::angle(context, CHECK.doc.name, "approach", context.geometry.approach.as_ref(), wanted, sink);
}
