//! A fuse not larger than the one behind it.

use super::place::{Of, device_span};
use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::compute::electrical::coordination::{Coordination, coordinate};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuses-not-selective",
        severity: Severity::Warning,
        what: "The device upstream is rated no higher than the device it feeds.",
        why: "A fault in one circuit takes the whole panel down.",
        example: "[component.house-panel]\nkind = \"fuse-panel\"\nprotection = \"30 A\"\n\n[component.heater]\nfed_from = \"house-panel\"\nprotection = \"30 A\"",
        basis: "Common practice, no source: two fuses in a row are selective where the upstream rating is at least twice the downstream one; here only an upstream one that is not larger is found.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(c, f)| f.device.is_own() && c.owner == c.to) {
        let Some((feeder, above)) = feeder(context, &circuit.from, circuit.network) else { continue };
        let (Some(up), Some(down)) = (above.device.rating, figures.device.rating) else { continue };
        if coordinate(up, down) != Coordination::Inverted {
            continue;
        }
        let headline = format!(
            "{}: its {} is not smaller than the {} of {} before it",
            circuit.id,
            figures.device.show(),
            above.device.show(),
            feeder.id
        );
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(device_span(context, circuit, figures, Of::Rating), format!("rated {}", down.show(System::Metric)))
                .label(
                    device_span(context, feeder, above, Of::Rating),
                    format!("upstream: {}", up.show(System::Metric)),
                )
                .basis("common practice, no source")
                .help("a larger feeder and fuse, or a smaller fuse here"),
        );
    }
}

/// The circuit whose own device stands next above `part`.
fn feeder<'a>(
    context: &Context<'a>,
    part: &'a str,
    network: Network,
) -> Option<(&'a Circuit, &'a crate::compute::network::CircuitFigures)> {
    let passes = |id: &str| context.part(id).and_then(crate::build::Part::role).is_some_and(Role::passes_through);
    let along = |c: &Circuit| c.owner == c.to && c.network == network && passes(&c.to);
    let above = context.build.upstream(part).along(along).single();
    let mut known = above.filter_map(|c| Some((c, context.figures.electrical.circuits.get(&c.id)?)));
    known.find(|(_, figures)| figures.device.is_own())
}
