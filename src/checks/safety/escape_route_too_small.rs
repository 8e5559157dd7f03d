//! A way out that people do not fit through.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-too-small",
        severity: Severity::Warning,
        what: "The clear opening of an escape route is below 610 × 430 mm, either way round.",
        why: "People get stuck in it.",
        example: "[component.hatch]\nkind = \"escape-route\"\nwidth = \"400 mm\"\nheight = \"400 mm\"",
        basis: "NFPA 1192, 24 × 17 in (from memory).",
    },
    run,
};

/// Least clear opening, m. From memory.
const LONG: f64 = 0.61;
const SHORT: f64 = 0.43;

fn run(context: &Context<'_>, sink: &mut Sink) {
    for route in of_role(context, SafetyRole::EscapeRoute) {
        let (Some(width), Some(height)) = (route.roles.width().get(), route.roles.height().get()) else {
            continue;
        };
        let (long, short) = (width.max(height).0, width.min(height).0);
        let above = crate::checks::compare::above;
        if !above(LONG, long) && !above(SHORT, short) {
            continue;
        }
        let show = |m: f64| print(Dimension::Length, m, context.build.prints());
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} opens {} × {}", route.id, show(width.0), show(height.0)))
                .about(&route.id)
                .at(route.roles.width().span, format!("below {} × {}", show(LONG), show(SHORT)))
                .basis("NFPA 1192: 24 × 17 in, from memory")
                .help("a larger opening, or another way out"),
        );
    }
}
