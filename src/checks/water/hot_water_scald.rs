//! Water at the taps that scalds.

use crate::checks::{Check, Context};
use crate::compute::water::of_role;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::PlumbingRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "hot-water-scald",
        severity: Severity::Warning,
        what: "The mixing valve of a water heater lets out more than 49 °C.",
        why: "At 60 °C skin burns in a few seconds, a child's in less.",
        example: "[component.water-heater]\nkind = \"water-heater\"\nmixed_temperature = \"58 °C\"",
        basis: "US Consumer Product Safety Commission: 120 °F, 49 °C (from memory).",
    },
    run,
};

/// Highest temperature at the taps. Source: [`crate::tables::sources::SCALD`].
const HIGHEST: f64 = 49.0;

fn run(context: &Context<'_>, sink: &mut Sink) {
    for heater in of_role(context.build, PlumbingRole::Heater) {
        let Some(mixed) = heater.roles.mixed_temperature().get() else { continue };
        if !crate::checks::compare::above(mixed.0, HIGHEST) {
            continue;
        }
        let show = |t: f64| crate::units::Celsius(t).show(context.build.prints());
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} lets out water of {}", heater.id, show(mixed.0)))
                .about(&heater.id)
                .at(heater.roles.mixed_temperature().span, format!("above {}", show(HIGHEST)))
                .basis("US Consumer Product Safety Commission: 49 °C (120 °F) at the tap, from memory")
                .help(format!("set the mixing valve to {} or less", show(HIGHEST))),
        );
    }
}
