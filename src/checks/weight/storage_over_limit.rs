//! A compartment, locker or drawer that is to hold more than its limit.

use super::rated;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Rated;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "storage-over-limit",
        severity: Severity::Error,
        what: "The contents of a store, with the parts that ride in it (`on`), are above its load limit.",
        why: "Latches and floors give way when braking, and the contents fly forward.",
        example: "[component.pans]\nkind = \"overhead-locker\"\nload_limit = \"10 kg\"\ncontents_mass = \"14 kg\"",
        basis: "Rating as the spec gives it. A warning where the rating or a mass is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    rated::report(
        context,
        Rated::Storage,
        CHECK.doc.name,
        "stow the heavy things lower down, or build it for more",
        sink,
    );
}
