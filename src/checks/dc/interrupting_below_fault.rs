//! A device whose own interrupting rating is below the fault current at its place.

use super::place::{Of, device_span};
use crate::checks::{Check, Context};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::network::{evidence, is_of_makers};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "interrupting-below-fault",
        severity: Severity::Error,
        what: "The prospective fault current is above the interrupting rating that the spec gives for the fuse or breaker. An error where the bank's fault current is given too; a warning where that is only the usual one.",
        why: "A device that cannot break the arc bursts and keeps conducting.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"560 Ah\"\nfault_current = \"15000 A\"\n\n[component.main-fuse]\nkind = \"main-fuse\"\ninterrupting = \"10000 A\"",
        basis: "33 CFR 183.455 with ABYC E-11 (large banks): interrupting rating not below the fault current.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let known = is_of_makers(&context.electrical.banks);
    for (circuit, figures) in context.circuits() {
        let (Some(Interrupting::NotEnough), Some(short)) = (figures.breaking, figures.fault) else { continue };
        let Some((given, own)) = evidence(context.build, circuit, &figures.device).zip(figures.device.breaks.given)
        else {
            continue;
        };
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = format!(
            "{}: its {} can break {}, a short there draws {}",
            circuit.id,
            figures.device.show(),
            show(own),
            show(short.current)
        );
        // What is usual for a bank is common practice and may not stop a build.
        let finding = Finding::error_if(known, CHECK.doc.name, headline);
        sink.push(
            finding
                .about(&circuit.owner)
                .at(given.figure.span, format!("breaks {}", show(own)))
                .label(device_span(context, circuit, figures, Of::Family), format!("a short here draws {}", show(short.current)))
                .basis("fault current by the bank's resistance and the cables up to the device, at 20 °C")
                .help("a device whose data sheet gives a higher interrupting rating, or a longer or thinner cable before it"),
        );
    }
}
