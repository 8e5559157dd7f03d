//! A component between two DC networks.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fed-from-two-voltages",
        severity: Severity::Error,
        what: "A component names two feeders whose DC networks have different nominal voltages.",
        why: "The higher voltage drives current into the lower network through it. Nothing limits that current but the fuses, and every part of the lower network sees the higher voltage.",
        example: "[component.pump]\nkind = \"water-pump\"\nfed_from = [\"panel-24\", \"panel-12\"]",
        basis: "Structure of the spec; Kirchhoff's laws.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values().filter(|p| p.supply.fed_from.all().len() > 1) {
        let arriving = build.arriving(&part.id).filter(|c| c.feeding.draws());
        let mut known = arriving.filter_map(|c| Some((c, build.known_dc_network(c)?.nominal)));
        let Some((first, volts)) = known.next() else { continue };
        let Some((other, others)) = known.find(|(c, v)| *v != volts && c.network == first.network) else { continue };
        let show = |volts: crate::units::Volts| volts.show(System::Metric);
        let headline = format!(
            "{}: fed with {} from {} and with {} from {}",
            part.id,
            show(volts),
            first.from,
            show(others),
            other.from
        );
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(other.span, format!("{} here", show(others)))
                .label(first.span, format!("{} here", show(volts)))
                .help("name the one feeder whose voltage it is made for; between two networks stands a converter"),
        );
    }
}
