//! A negative that carries less than the fuse in its positive lets through.

use super::words::ampacity_basis;
use crate::checks::{Check, Context};
use crate::compute::electrical::size::Criterion;
use crate::compute::network::DeviceAt;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "return-below-positive",
        severity: Severity::Error,
        what: "The conductor given for the cable of a shunt or negative busbar may carry less than the fuse in the positive lets through.",
        why: "All that flows in the positive comes back here, and no fuse stands in the negative: on an overload it burns before the fuse opens.",
        example: "[component.main-fuse]\nkind = \"main-fuse\"\nfed_from = \"bank\"\nrating = \"300 A\"\n\n[component.monitor]\nkind = \"battery-monitor\"\nfed_from = \"bank\"\nconductor = \"6 AWG\"",
        basis: "Kirchhoff's current law; 33 CFR 183.425 Table 5 or IEC 60364-5-52, by the rules in force, gives the ampacity. House rule: no fuse above it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(_, f)| f.device.at == DeviceAt::Return) {
        let Some(sized) = figures.conductor() else { continue };
        let (Some(ampacity), Some(rating)) = (&sized.ampacity, sized.protection) else { continue };
        // Below the load it is told as such.
        if !sized.fails.contains(&Criterion::Protection) || sized.fails.contains(&Criterion::Ampacity) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = format!(
            "{}: {} may carry {}, the fuse in the positive lets {} through",
            circuit.id,
            sized.show(),
            show(ampacity.corrected),
            show(rating)
        );
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "conductor"), format!("carries {}", show(ampacity.corrected)))
                .basis(ampacity_basis(ampacity))
                .help("a conductor as large as the positive; left out, it is sized"),
        );
    }
}
