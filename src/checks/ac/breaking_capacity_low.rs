//! A consumer unit whose breakers can't break the fault current of a shore supply.

use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::Amps;

/// ABYC E-11 Table V-B, 120 V shore breakers; read in a reprint.
const SHORE_MINIMUM: Amps = Amps(3000.0);

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "breaking-capacity-low",
        severity: Severity::Warning,
        what: "The breakers of a consumer unit on shore power can break less than 3000 A.",
        why: "On a short circuit near a strong supply a weak breaker bursts or welds shut.",
        example: "[component.consumer-unit]\nkind = \"consumer-unit\"\nfed_from = \"inlet\"\nrating = \"16 A\"\nbreaking_capacity = \"1500 A\"",
        basis: "ABYC E-11 Table V-B, shore breakers, read in a reprint; a rule for boats, so it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for unit in build.parts.values().filter(|p| p.role() == Some(Role::AcPanel)) {
        let Some(capacity) = unit.roles.breaking_capacity().get() else { continue };
        let inlets = reach::up_to(build, &unit.id, |p| p.role() == Some(Role::Inlet));
        let Some(inlet) = inlets.first().filter(|_| above(SHORE_MINIMUM.0, capacity.0)) else { continue };
        let [can, least] = [capacity, SHORE_MINIMUM].map(|a| a.show(build.prints()));
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: its breakers break {can}; {least} is the least for shore power", unit.id),
            )
            .about(&unit.id)
            .at(unit.roles.breaking_capacity().span, format!("breaks {can}"))
            .label(inlet.span, "shore power arrives here")
            .basis("ABYC E-11 Table V-B: 3000 A for shore breakers, read in a reprint")
            .help(format!("breakers for {least} or more")),
        );
    }
}
