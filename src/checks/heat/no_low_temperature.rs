//! A build with heater or pipes that does not say how cold it gets.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{PlumbingRole, ThermalRole};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "no-low-temperature",
        severity: Severity::Warning,
        what: "The build has a heater or water pipes and no [climate] at all.",
        why: "Heat loss, fuel, dew and frost can't be reckoned, and no one knows whether the pipes freeze.",
        example: "[component.heater]\nkind = \"air-heater\"               # and no [climate.winter]",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.heat.coldest.is_some() {
        return;
    }
    let cold = |p: &&crate::build::Part<'_>| {
        p.kind.thermal.is_some_and(|t| t.role == ThermalRole::Heater)
            || p.kind.plumbing.is_some_and(|w| w.role == PlumbingRole::Pipe)
    };
    let Some(part) = context.build.parts.values().find(cold) else { return };
    sink.push(
        Finding::warning(CHECK.doc.name, "no climate says how cold it gets")
            .about(&part.id)
            .at(part.span, "heat and frost can't be reckoned")
            .basis("losses and times go by the `low` of [climate.…]")
            .help("add a [climate.winter] with month, latitude, irradiation, low and high"),
    );
}
