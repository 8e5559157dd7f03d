//! A slide-out tray with more on it than it is rated for.

use super::rated;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Rated;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "tray-over-rating",
        severity: Severity::Error,
        what: "What rides on a tray (`on`), with what it holds, is above its load limit.",
        why: "Fully out, the slides bend or the tray comes off its rails onto someone's feet.",
        example: "[component.tray]\nkind = \"slide-tray\"\nload_limit = \"60 kg\"\n\n[component.kit]\nkind = \"compartment\"\non = \"tray\"\ncontents_mass = \"80 kg\"",
        basis: "Rating as the spec gives it. A warning where the rating or a mass is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    rated::report(
        context,
        Rated::Tray,
        CHECK.doc.name,
        "take things off it, or choose slides with a higher rating",
        sink,
    );
}
