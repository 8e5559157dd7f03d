//! A rating that its fuse family is not made in.

use super::place::{Of, device_span};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuse-not-standard",
        severity: Severity::Warning,
        what: "The rating given for a fuse or breaker does not exist in its family.",
        why: "Nobody can buy it, and whoever replaces it takes the next larger one.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nprotection = \"12 A\"",
        basis: "ISO 8820-3 for blade fuses; the bolt-down, stud, class T and breaker series are from memory, so this is a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let device = &figures.device;
        let (true, true, Some(rating), Some(family)) = (device.given, device.is_own(), device.rating, device.family)
        else {
            continue;
        };
        let series = family.series();
        if series.has(rating) {
            continue;
        }
        let at = device_span(context, circuit, figures, Of::Rating);
        let mut finding = Finding::warning(CHECK.doc.name, format!("{}: there is no {}", circuit.id, device.show()))
            .about(&circuit.owner)
            .at(at, "not a standard rating")
            .basis(format!("ratings of the {}: {}", series.name, series.source.text));
        if let Some(next) = series.at_least(rating) {
            finding = finding.help(format!("the next rating is {}", next.show(context.build.prints())));
        } else {
            finding = finding.help(format!("the largest rating is {}", series.largest().show(context.build.prints())));
        }
        sink.push(finding);
    }
}
