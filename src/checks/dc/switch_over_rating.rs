//! A switch, shunt or relay that carries more than its rating.

use super::over_rating;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "switch-over-rating",
        severity: Severity::Error,
        what: "The current through a disconnect, shunt, dimmer, relay, transfer switch or residual-current device is above its rating: an error above the current itself, a warning above 125 % of the continuous part.",
        why: "Its contacts weld or burn; a breaker in it opens in normal use.",
        example: "[component.dimmer]\nkind = \"dimmer\"\nrating = \"2 A\"",
        basis: "The maker's rating, as the spec or the kind gives it; Kirchhoff's current law. NEC 210.20 and 215.3: 125 % of the continuous load.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let roles = [Role::Disconnect, Role::Shunt, Role::Control, Role::Transfer, Role::Rcd];
    let help = "a larger device, or fewer loads behind it";
    over_rating::find(context, sink, CHECK.doc.name, &roles, "it is", help);
    over_rating::find_lasting(context, sink, CHECK.doc.name, &roles, help);
}
