//! A gas appliance made for another pressure than its regulator gives.

use crate::checks::{Check, Context};
use crate::compute::heat::gas_burners;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

/// Pressures this near each other are one: what plates round. Common practice, no source.
const NEAR: f64 = 0.05;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "gas-pressure-differs",
        severity: Severity::Error,
        what: "The pressure on the plate of a gas appliance is another than that of every regulator aboard.",
        why: "With too much pressure flames flare up, with too little they go out or make carbon monoxide.",
        example: "[component.regulator]\nkind = \"lpg-regulator\"\noutlet_pressure = \"5 kPa\"             # and a cooktop for 3 kPa",
        basis: "The pressures as the spec gives them, from both plates. A warning where one is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let regulators: Vec<_> = context.build.parts.values().filter_map(|p| p.roles.gas_regulator.as_ref()).collect();
    for appliance in gas_burners(context.build) {
        let Some(plate) = appliance.roles.burner.as_ref().map(|b| &b.working_pressure) else { continue };
        let Some(needs) = plate.get() else { continue };
        let differs = |gives: f64| (gives - needs.0).abs() > NEAR * needs.0;
        let given: Vec<_> =
            regulators.iter().filter_map(|r| Some((&r.outlet_pressure, r.outlet_pressure.get()?))).collect();
        if given.is_empty() || given.iter().any(|(_, gives)| !differs(gives.0)) {
            continue;
        }
        let (regulator, pressure) = given[0];
        let system = context.build.prints();
        let headline =
            format!("{}: made for {}, the regulator gives {}", appliance.id, needs.show(system), pressure.show(system));
        let certain = plate.given && given.iter().all(|(field, _)| field.given);
        let finding = Finding::error_if(certain, CHECK.doc.name, headline);
        sink.push(
            finding
                .about(&appliance.id)
                .at(plate.span, "its plate")
                .label(regulator.span, "the regulator")
                .basis("one pressure for regulator and appliances")
                .help("an appliance for the regulator's pressure, or a regulator for that of all appliances"),
        );
    }
}
