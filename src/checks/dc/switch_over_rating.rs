//! A switch, shunt or relay that carries more than its rating.

use super::over_rating;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "switch-over-rating",
        severity: Severity::Error,
        what: "The current through a disconnect, shunt, dimmer, relay, transfer switch or residual-current device is above its rating.",
        why: "Its contacts weld or burn.",
        example: "[component.dimmer]\nkind = \"dimmer\"\nrating = \"2 A\"",
        basis: "The maker's rating, as the spec or the kind gives it; Kirchhoff's current law.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let roles = [Role::Disconnect, Role::Shunt, Role::Control, Role::Transfer, Role::Rcd];
    over_rating::find(context, sink, CHECK.doc.name, &roles, "it is", "a larger device, or fewer loads behind it");
}
