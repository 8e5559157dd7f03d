//! A small AC conductor behind a breaker that is too large for it.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Network;
use crate::tables::ac_minimum::behind_breaker;
use crate::tables::conductor_series::Series;
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "breaker-above-small-conductor",
        severity: Severity::Error,
        what: "An AC conductor given in the spec is smaller than the least size behind its breaker: an error in AWG, a warning in mm².",
        why: "In walls and bundles such a conductor overheats before the breaker opens, whatever a table for free air says.",
        example: "[component.outlet]\nkind = \"ac-outlet\"\nfed_from = \"rcd\"\nconductor = \"14 AWG\"\nprotection = \"20 A\"",
        basis: "NEC 240.4(D): 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A. Metric sizes: common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(c, _)| c.network == Network::Ac) {
        let (Some(given), Some(rating)) = (circuit.given_conductor, figures.device.rating) else { continue };
        let (least, source) = behind_breaker(rating, Series::of(given));
        if !above(least.area().0, given.area().0) {
            continue;
        }
        let amps = rating.show(System::Metric);
        let headline = format!("{}: {given} behind {amps}; at least {least} goes there", circuit.id);
        let finding = Finding::error_if(source.status.may_carry_error(), CHECK.doc.name, headline);
        sink.push(
            finding
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "conductor"), given.to_string())
                .label(circuit.span_of(&context.build.parts, "protection"), format!("protected by {amps}"))
                .basis(source.text)
                .help(format!("{least} or larger, or a smaller breaker; left out, both are sized")),
        );
    }
}
