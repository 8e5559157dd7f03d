//! Heaters that give less than the van loses.

use crate::checks::{Check, Context};
use crate::compute::heat::parts_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::ThermalRole;
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "heater-too-small",
        severity: Severity::Warning,
        what: "The heat output of all heaters is below the heat loss on the coldest usual night.",
        why: "The inside falls below the temperature wanted, and what must not freeze does.",
        example: "[component.heater]\nkind = \"air-heater\"\nheat_output = \"800 W\"             # and a loss of 1200 W",
        basis: "Q = (Σ U A + ρ c n V) · ΔT at the lowest `low` of the climates, with ISO 6946 films and one air change an hour.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let heat = &context.heat;
    let (Some(loss), Some(output), Some(coldest)) = (heat.loss, heat.output, &heat.coldest) else { return };
    let Some(heater) = parts_of(context.build, ThermalRole::Heater).next() else { return };
    if !crate::checks::compare::above(loss, output) {
        return;
    }
    let system = context.build.prints();
    let show = |w: f64| Watts(w).show(system);
    let celsius = |t: f64| crate::units::Celsius(t).show(system);
    let mut finding =
        Finding::warning(CHECK.doc.name, format!("heaters give {}, the van loses {}", show(output), show(loss)))
            .about(&heater.id)
            .at(heater.roles.heat_output().span, show(output))
            .basis(format!(
                "{} inside, {} outside ({})",
                celsius(heat.inside),
                celsius(coldest.celsius),
                coldest.climate
            ));
    if let (Some(held), Some(record)) = (heat.inside_at_record, heat.record_low) {
        finding = finding.basis(format!("at {} on record they hold {} inside", celsius(record), celsius(held)));
    }
    if let Some(climate) = context.build.climates.get(&coldest.climate) {
        finding = finding.label(climate.low.span, celsius(coldest.celsius));
    }
    sink.push(
        finding.help(format!(
            "{} or more, thicker insulation, or a lower `inside_temperature` in [use.goals]",
            show(loss)
        )),
    );
}
