//! Surfaces that do not close the body.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "shell-area-short",
        severity: Severity::Warning,
        what: "The surfaces of [shell] and the windows have less area than a body of the vehicle's measures.",
        why: "What is in no surface loses no heat in the figures: heater, fuel and cooling are reckoned too small. Bare sheet of the cab is what is left out most often.",
        example: "[vehicle]\ninside_length = \"4.2 m\"\ninside_width = \"1.8 m\"\ninside_height = \"1.9 m\"              # 34 m2, and no surface for doors, roof and floor of the cab",
        basis: "A box of the inside measures, a tenth off for what is rounded or slants. Where they are not told: from half a metre before the hips in front to the rear end, 10 cm off width and height. Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(closed) = context.heat.closed else { return };
    if !crate::checks::compare::above(closed.needed, closed.area) {
        return;
    }
    let show = |area: f64| print(Dimension::Area, area, context.build.prints());
    let Some((id, surface)) = context.build.shell.iter().next() else { return };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{} of the body are in no surface", show(closed.needed - closed.area)))
            .about(id)
            .at(surface.span, format!("all surfaces and windows have {}", show(closed.area)))
            .basis(format!(
                "a body of the vehicle's measures has {} (common practice, no source)",
                show(closed.needed)
            ))
            .help("add a [shell] entry for what is left out: doors, roof and floor of the cab, wheel arches, the sheet round windows")
            .help("or tell the measures of the heated body where it is smaller: inside_length, inside_width and inside_height of [vehicle]"),
    );
}
