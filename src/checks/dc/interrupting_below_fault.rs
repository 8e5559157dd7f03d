//! A device that cannot break the fault current at its place.

use super::place::device_span;
use crate::build::Circuit;
use crate::checks::{Check, Context};
use crate::compute::electrical::interrupting::Interrupting;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "interrupting-below-fault",
        severity: Severity::Error,
        what: "The prospective fault current is above what the fuse or breaker can interrupt. An error for the first device at the bank; for one further down a warning, unless a current-limiting fuse upstream breaks it.",
        why: "A device that cannot break the arc bursts and keeps conducting.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"560 Ah\"\nfault_current = \"15000 A\"\n\n[component.main-fuse]\nkind = \"main-fuse\"\nfamily = \"large-bolt-down\"",
        basis: "33 CFR 183.455 with ABYC E-11 (Table V-A, large banks): interrupting rating not below the fault current. Interrupting ratings of the families are from memory unless the spec gives `interrupting`.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let device = &figures.device;
        let (true, Some(fault), Some(own)) = (device.is_own(), figures.fault, device.interrupting) else { continue };
        if figures.breaking != Some(Interrupting::NotEnough) {
            continue;
        }
        let first = context.part(&circuit.from).and_then(crate::build::Part::role) == Some(Role::Bank);
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!(
            "{}: its {} can break {}, a short there draws {}",
            circuit.id,
            device.show(),
            show(own),
            show(fault)
        );
        // A rating the spec gives is the maker's word; a family's usual rating is from memory and may not stop a build
        // unless the fault current is beyond it by any reading.
        let known = given_interrupting(context, circuit) || fault.0 > 2.0 * own.0;
        let finding = if first && known {
            Finding::error(CHECK.doc.name, headline)
        } else {
            Finding::warning(CHECK.doc.name, headline)
        };
        let field = if given_interrupting(context, circuit) { "interrupting" } else { "family" };
        let at = device_span(context, circuit, figures, field);
        sink.push(
            finding
                .about(&circuit.owner)
                .at(at, format!("breaks {}", show(own)))
                .basis("fault current by the bank's internal resistance and the cables up to the device; ABYC E-11 Table V-A")
                .help("a class T fuse at the bank, or a device whose maker states a higher interrupting rating (`interrupting`)"),
        );
    }
}

fn given_interrupting(context: &Context<'_>, circuit: &Circuit) -> bool {
    context.part(&circuit.to).is_some_and(|p| p.record.gave("interrupting"))
}
