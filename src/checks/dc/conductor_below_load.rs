//! A conductor that may not carry its circuit's current.

use super::words::ampacity_basis;
use crate::checks::{Check, Context};
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "conductor-below-load",
        severity: Severity::Error,
        what: "The conductor given is too small for the design current where it lies.",
        why: "It runs hot in normal use; its insulation ages and fails.",
        example: "[component.inverter]\nkind = \"inverter\"\npower = \"2000 W\"\nfed_from = \"busbar\"\nconductor = \"6 AWG\"",
        basis: "33 CFR 183.425 Table 5 or IEC 60364-5-52, by the rules in force, with the factors for warm air and bundles; 125 % of the continuous load.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(_, f)| f.device.at != DeviceAt::Vehicle) {
        let Some(sized) = figures.conductor() else { continue };
        let Some(ampacity) = &sized.ampacity else { continue };
        if ampacity.corrected.0 >= figures.design.0 * (1.0 - 1e-9) {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!(
            "{}: {} may carry {}, the design current is {}",
            circuit.id,
            sized.show(),
            show(ampacity.corrected),
            show(figures.design)
        );
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "conductor"), format!("carries {}", show(ampacity.corrected)))
                .basis(ampacity_basis(ampacity))
                .basis(format!(
                    "load {}, {} of it continuous and taken at 125 % (NEC 210.20, 215.3)",
                    show(figures.demand.load),
                    show(figures.demand.continuous)
                ))
                .help("a larger conductor; left out, it is sized"),
        );
    }
}
