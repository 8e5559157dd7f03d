//! An outlet that gets less pressure than it needs.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Bound, Dimension, print, print_bound};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-pressure-low",
        severity: Severity::Warning,
        what: "At the flow of the outlet, the pump's pressure less friction, filters and height is below what the outlet needs.",
        why: "The shower dribbles, and a heater that waits for flow does not start.",
        example: "[component.tap]\nkind = \"tap\"\nflow = \"8 L/min\"\nmin_pressure = \"1 bar\"             # behind a pump of 10 L/min and 6 m of thin pipe",
        basis: "Darcy–Weisbach with Colebrook–White; the pump as a straight line from open flow to cut-out (common practice, no source).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for outlet in &context.water.outlets {
        // A pump that does not even reach the flow is told by `pump-below-flow`.
        let short = crate::checks::compare::above(outlet.needed, outlet.pressure);
        if !short || outlet.flow > outlet.open_flow {
            continue;
        }
        let Some(part) = context.part(&outlet.part) else { continue };
        let system = context.build.prints();
        let show = |kpa: f64| print(Dimension::Pressure, kpa, system);
        let least = |kpa: f64| print_bound(Dimension::Pressure, kpa, system, Bound::Least);
        let water = if outlet.hot { "hot" } else { "cold" };
        let mut finding = Finding::warning(
            CHECK.doc.name,
            format!("{} gets {} of {water} water and needs {}", part.id, show(outlet.pressure), least(outlet.needed)),
        )
        .about(&part.id)
        .at(
            part.roles.min_pressure().span,
            format!("{} at {}", least(outlet.needed), print(Dimension::Flow, outlet.flow, system)),
        )
        .basis(format!(
            "pump {} at this flow, friction and filters {}, height {}",
            show(outlet.pump_pressure),
            show(outlet.lost),
            show(outlet.lift)
        ));
        if let Some(pump) = context.part(&outlet.pump) {
            finding = finding
                .label(pump.span, format!("{} without pressure", print(Dimension::Flow, outlet.open_flow, system)));
        }
        sink.push(
            finding
                .help("a wider or shorter pipe, a pump with more flow or a higher cut-out, or an outlet for less flow"),
        );
    }
}
