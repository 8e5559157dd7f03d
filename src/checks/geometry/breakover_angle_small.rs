//! A breakover angle smaller than wanted.

use super::limits;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "breakover-angle-small",
        severity: Severity::Warning,
        what: "The breakover angle, with every part that hangs there, is below the one wanted in [use].",
        why: "The van sits down on its belly on a hump, on tank and valve.",
        example: "[component.grey]\nkind = \"grey-tank\"\nposition = \"under-floor\"\nground_clearance = \"110 mm\"",
        basis: "49 CFR 523.2 and ISO 612 for the angle; the default of what is wanted is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let wanted = ("breakover_angle", &context.build.usage.breakover_angle);
    limits::angle(context, CHECK.doc.name, "breakover", context.geometry.breakover.as_ref(), wanted, sink);
}
