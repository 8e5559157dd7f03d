//! A busbar that carries more than its rating.

use super::words::carried_by;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::System;

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
    for part in context.build.parts.values().filter(|p| matches!(p.role(), Some(Role::Bus))) {
        let Some(panel) = context.electrical.panels.get(&part.id) else { continue };
        let Some(rating) = panel.rating.filter(|r| panel.carried.0 > r.0 * (1.0 + 1e-9)) else { continue };
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{}: carries {}, the busbar is rated {}", part.id, show(panel.carried), show(rating));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.record.span_of("rating"), format!("rated {}", show(rating)))
                .basis(carried_by(panel))
                .help("a larger busbar, or move a large load to the bank side"),
        );
    }
}
