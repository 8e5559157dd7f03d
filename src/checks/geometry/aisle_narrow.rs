//! An aisle one cannot pass.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "aisle-narrow",
        severity: Severity::Warning,
        what: "Between furniture left and right the aisle is narrower than `aisle` in [use].",
        why: "Nobody gets past anyone, and in a fire nobody gets out.",
        example: "[place]\ngalley = { at = [\"2.0 m\", \"0.4 m\", \"0 m\"], size = [\"1.2 m\", \"0.5 m\", \"0.9 m\"] }\nfridge = { at = [\"2.0 m\", \"-0.4 m\", \"0 m\"], size = [\"0.5 m\", \"0.5 m\", \"0.9 m\"] }",
        basis: "350 mm where the spec asks for no other width: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let usage = &context.build.usage;
    let (Some(aisle), Some(wanted)) = (&context.geometry.aisle, usage.aisle.get()) else { return };
    if !above(wanted.0, aisle.width) {
        return;
    }
    let system = context.build.prints();
    let places = &context.build.places;
    let Some(left) = places.get(&aisle.left) else { return };
    let mut finding = Finding::warning(
        CHECK.doc.name,
        format!("{} between {} and {}", Metres(aisle.width.max(0.0)).show(system), aisle.left, aisle.right),
    )
    .about(&aisle.left)
    .at(left.at.span, "on the left")
    .help("make one of them shallower, or set them one behind the other");
    if let Some(right) = places.get(&aisle.right) {
        finding = finding.label(right.at.span, "on the right");
    }
    if !usage.aisle.given {
        finding = finding.basis(format!(
            "at least {}: common practice, no source; `aisle` in [use] asks for another",
            wanted.show(system)
        ));
    }
    sink.push(finding);
}
