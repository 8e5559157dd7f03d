//! A panel that carries more than its rating.

use super::over_rating;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "panel-over-rating",
        severity: Severity::Error,
        what: "The current through a fuse panel, switch panel or consumer unit is above its rating.",
        why: "Its busbar and studs overheat.",
        example: "[component.house-panel]\nkind = \"fuse-panel\"\nrating = \"30 A\"",
        basis: "The maker's rating, as the spec or the kind gives it; Kirchhoff's current law.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let roles = [Role::Panel, Role::SwitchPanel, Role::AcPanel];
    over_rating::find(
        context,
        sink,
        CHECK.doc.name,
        &roles,
        "the panel is",
        "a larger panel, a second panel, or a lower `diversity` that you can stand behind",
    );
}
