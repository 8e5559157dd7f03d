//! A mass whose place along the vehicle is not known.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Kilograms;
use std::collections::BTreeSet;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "mass-without-position",
        severity: Severity::Warning,
        what: "A component with a mass stands in no place, or in one without `at`.",
        why: "Half of it is counted on each axle, which may be far off.",
        example: "[place]\nshed = { about = \"Somewhere\" }\n\n[component.fridge]\nplace = \"shed\"\nmass = \"31 kg\"",
        basis: "Structure of the spec.",
    },
    run,
};

/// Together lighter than this they do not matter: 5 kg.
const LIGHT: Kilograms = Kilograms(5.0);

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.weight.base.is_none() {
        return;
    }
    let unplaced: Vec<_> = context.weight.items.all.iter().filter(|i| i.at.is_none() && i.mass.0 > 0.0).collect();
    let total: Kilograms = unplaced.iter().map(|i| i.mass).sum();
    if total <= LIGHT {
        return;
    }
    let names: BTreeSet<&str> = unplaced.iter().map(|i| i.part.as_str()).collect();
    let span = unplaced.iter().find_map(|i| context.part(&i.part)).map(|p| p.common.place.span);
    let seats = names.contains("vehicle");
    let listed = names.iter().take(8).map(|n| if *n == "vehicle" { "people on the front seats" } else { n });
    let listed = listed.collect::<Vec<_>>().join(", ");
    let mut finding = Finding::warning(
        CHECK.doc.name,
        format!("{} without a position along the vehicle: {listed}", total.show(context.build.prints())),
    )
    .at(span.unwrap_or(context.build.vehicle.span), "position not known")
    .basis("half is counted on each axle")
    .help("give `at` to the place, in lengths aft of the front axle, to the left, and above the floor");
    if seats {
        finding = finding.help("give `front_seats` in [vehicle]");
    }
    sink.push(finding);
}
