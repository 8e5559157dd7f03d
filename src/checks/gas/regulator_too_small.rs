//! A regulator that passes less gas than all flames behind it use.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Bound;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "regulator-too-small",
        severity: Severity::Error,
        what: "All flames behind a gas regulator, at full, use more gas in an hour than it passes.",
        why: "The pressure falls, flames go out and make carbon monoxide.",
        example: "[component.regulator]\nkind = \"lpg-regulator\"\ncapacity_per_hour = \"0.4 kg\"          # and a cooktop and a heater of 0.5 kg",
        basis: "Ratings as the spec gives them. A warning where that of the regulator is a usual value.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for (id, gas) in context.heat.gas.iter().filter(|(_, gas)| above(gas.used.0, gas.capacity.0)) {
        let Some(part) = context.part(id) else { continue };
        let Some(regulator) = &part.roles.gas_regulator else { continue };
        let field = &regulator.capacity_per_hour;
        let limit = gas.capacity.bound(Bound::Most, system);
        let headline = format!("{id}: all flames use {} an hour, it passes {limit}", gas.used.show(system));
        let finding = Finding::error_if(field.given, CHECK.doc.name, headline);
        sink.push(
            finding
                .about(id)
                .at(field.span, format!("at most {limit}"))
                .basis("gas of each appliance in an hour, by its plate")
                .help("a regulator for all appliances together, its hoses and lines as well"),
        );
    }
}
