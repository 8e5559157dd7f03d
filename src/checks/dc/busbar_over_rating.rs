//! A busbar that carries more than its rating.

use super::over_rating;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "busbar-over-rating",
        severity: Severity::Error,
        what: "The current through a busbar is above its rating.",
        why: "It overheats and loosens its studs.",
        example: "[component.busbar]\nkind = \"busbar\"\nrating = \"100 A\"\nfed_from = \"main-switch\"",
        basis: "The maker's rating, as the spec or the kind gives it; Kirchhoff's current law.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let roles = [Role::Bus];
    over_rating::find(
        context,
        sink,
        CHECK.doc.name,
        &roles,
        "the busbar is",
        "a larger busbar, or move a large load to the bank side",
    );
}
