//! A panel that carries more than its rating.

use super::words::carried_by;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::System;

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
    for part in context.build.parts.values().filter(|p| matches!(p.role(), Some(Role::Panel | Role::SwitchPanel | Role::AcPanel))) {
        let Some(panel) = context.electrical.panels.get(&part.id) else { continue };
        let Some(rating) = panel.rating.filter(|r| panel.carried.0 > r.0 * (1.0 + 1e-9)) else { continue };
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{}: carries {}, the panel is rated {}", part.id, show(panel.carried), show(rating));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.record.span_of("rating"), format!("rated {}", show(rating)))
                .basis(carried_by(panel))
                .help("a larger panel, a second panel, or a lower `diversity` that you can stand behind"),
        );
    }
}
