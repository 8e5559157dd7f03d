//! A switch, shunt or relay that carries more than its rating.

use super::words::carried_by;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::System;

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
    for part in context.build.parts.values().filter(|p| matches!(p.role(), Some(Role::Disconnect | Role::Shunt | Role::Control | Role::Transfer | Role::Rcd))) {
        let Some(panel) = context.electrical.panels.get(&part.id) else { continue };
        let Some(rating) = panel.rating.filter(|r| panel.carried.0 > r.0 * (1.0 + 1e-9)) else { continue };
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{}: carries {}, it is rated {}", part.id, show(panel.carried), show(rating));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.record.span_of("rating"), format!("rated {}", show(rating)))
                .basis(carried_by(panel))
                .help("a larger device, or fewer loads behind it"),
        );
    }
}
