//! An air conditioner that can't keep up with the heat.

use crate::checks::{Check, Context};
use crate::compute::heat::parts_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::ThermalRole;
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "cooler-too-small",
        severity: Severity::Warning,
        what: "On the hottest usual day more heat comes in than the air conditioners take out.",
        why: "They run without end, empty the bank, and it stays hot: a danger to animals left inside.",
        example: "[component.ac]\nkind = \"air-conditioner\"\ncooling = \"900 W\"                  # and a load of 1300 W",
        basis: "Climate day: Σ U A ΔT with sol-air temperatures, sun through glass, people and appliances.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cooling) = &context.climate_days.cooling else { return };
    let Some(load) = cooling.load.filter(|l| crate::checks::compare::above(*l, cooling.capacity)) else { return };
    let Some(part) = parts_of(context.build, ThermalRole::Cooler).next() else { return };
    let show = |w: f64| Watts(w).show(context.build.prints());
    let hot = crate::units::Celsius(cooling.outdoors.celsius).show(context.build.prints());
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!("cooling takes out {}, {} come in", show(cooling.capacity), show(load)),
        )
        .about(&part.id)
        .at(part.roles.cooling().span, show(cooling.capacity))
        .basis(format!("{hot} outside ({}), sun, people and appliances", cooling.outdoors.climate))
        .help(format!(
            "{} or more, thicker insulation, covers on the panes, or a higher `cool_to` in [use.goals]",
            show(load)
        )),
    );
}
