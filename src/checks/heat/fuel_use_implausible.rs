//! A heater that gives more heat than is in its fuel.

use crate::checks::{Check, Context};
use crate::compute::heat::fuel::Fuel;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuel-use-implausible",
        severity: Severity::Warning,
        what: "By its own figures a burner turns more of its fuel into heat than it can: more than 95 % of the lower heating value, of gas more than the higher one, which a condensing burner nears.",
        why: "One of the two figures is wrong, and the fuel for the night is reckoned too low.",
        example: "[component.heater]\nkind = \"air-heater\"\nfuel = \"lpg\"\nheat_output = \"2000 W\"\nfuel_per_hour = \"0.25 L\"          # 1630 W in the gas",
        basis: "Lower heating values: petrol and propane from a reprint, diesel as published; the higher one of propane computed, 109 % of the lower. Without condensing some 90 % is the most (common practice, no source).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, burnt) in &context.climate_days.heaters {
        let Some(share) = burnt.efficiency else { continue };
        let Some(most) = Fuel::parse(&burnt.fuel).map(Fuel::most_efficient) else { continue };
        if !crate::checks::compare::above(share, most) {
            continue;
        }
        let Some(heater) = context.part(id) else { continue };
        let percent = crate::units::significant(share * 100.0, 3);
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id} would give {percent} % of the heat in its {}", burnt.fuel))
                .about(id)
                .at(heater.roles.fuel_per_hour().span, "too little fuel for this output")
                .label(heater.roles.heat_output().span, "output")
                .basis("lower heating value of the fuel")
                .help("take output and fuel use from the same line of the maker's sheet"),
        );
    }
}
