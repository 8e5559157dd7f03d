//! Heaters that let it get too cold inside on the coldest night on record.

use crate::checks::{Check, Context};
use crate::compute::heat::parts_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::ThermalRole;
use crate::units::{Celsius, Watts};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "inside-cold-at-record",
        severity: Severity::Warning,
        what: "The heaters keep up on the coldest usual night, and at the lowest temperature on record it gets colder inside than `least_inside` in [use.goals].",
        why: "A night like that comes once in some years, and then people aboard freeze and so does the water.",
        example: "[climate.winter]\nlow = \"-5 °C\"\nrecord_low = \"-30 °C\"\n\n[component.heater]\nkind = \"air-heater\"\nheat_output = \"900 W\"             # enough at -5 °C",
        basis: "T = T_r + P / (Σ U A + ρ c n V) at the lowest `record_low` of the climates.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let (build, heat) = (context.build, &context.heat);
    let (Some(held), Some(record), Some(output)) = (heat.inside_at_record, heat.record_low, heat.output) else {
        return;
    };
    let Some(goal) = build.goals.least_inside.get() else { return };
    let least = goal.0.min(heat.inside);
    // Where it is too small on a usual night, that is told already.
    let small = heat.loss.is_some_and(|loss| crate::checks::compare::above(loss, output));
    let Some(heater) = parts_of(build, ThermalRole::Heater).next().filter(|_| !small && held < least - 1e-9) else {
        return;
    };
    let system = build.prints();
    let celsius = |t: f64| Celsius(t).show(system);
    let headline =
        format!("at {} outside heaters hold {} inside, wanted are {}", celsius(record), celsius(held), celsius(least));
    sink.push(
        Finding::warning(CHECK.doc.name, headline)
            .about(&heater.id)
            .at(heater.roles.heat_output().span, Watts(output).show(system))
            .label(build.goals.least_inside.span, "wanted at the least")
            .basis(format!("{} is the lowest on record", celsius(record)))
            .help("a stronger heater, thicker insulation, or a colder `least_inside` in [use.goals] that the owner knows of"),
    );
}
