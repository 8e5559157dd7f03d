//! A way out told as large as the cut-out of the window that it leads through.

use super::people::of_role;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-beyond-cut-out",
        severity: Severity::Warning,
        what: "The clear opening of an escape route is told as large as the cut-out of the window or hatch that it leads through, or larger.",
        why: "The frame stands in the cut-out, and the pane in the frame: who measures at the van finds less, when all is built.",
        example: "[component.window]\nkind = \"window\"\nescape = true\nopening_height = \"400 mm\"\n\n[component.exit]\nkind = \"escape-route\"\nleads_through = \"window\"\nwidth = \"640 mm\"\nheight = \"440 mm\"",
        basis: "Geometry: what is framed is smaller than its cut-out.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for route in of_role(context, SafetyRole::EscapeRoute) {
        let Some(window) = route.roles.leads_through().first().and_then(|id| context.build.parts.get(id)) else {
            continue;
        };
        let clear = (route.roles.width().get(), route.roles.height().get());
        let cut = (window.roles.opening_width().get(), window.roles.opening_height().get());
        let ((Some(width), Some(height)), (Some(wide), Some(tall))) = (clear, cut) else { continue };
        // Either may be told the other way round.
        let (long, short) = (width.max(height).0, width.min(height).0);
        if above(wide.max(tall).0, long) && above(wide.min(tall).0, short) {
            continue;
        }
        let show = |m: f64| print(Dimension::Length, m, context.build.prints());
        let told = format!("{} is told to open {} × {}", route.id, show(width.0), show(height.0));
        sink.push(
            Finding::warning(CHECK.doc.name, told)
                .about(&route.id)
                .at(route.roles.width().span, "as large as the cut-out, or larger")
                .label(window.span, format!("cut out {} × {}", show(wide.0), show(tall.0)))
                .basis(CHECK.doc.basis)
                .help("the clear opening from the sheet of the window, or a larger window"),
        );
    }
}
