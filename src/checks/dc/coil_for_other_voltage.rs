//! A coil for another voltage than the one it gets.

use crate::build::system;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "coil-for-other-voltage",
        severity: Severity::Error,
        what: "The coil of a relay or contactor is for another nominal voltage than that of the network its current comes from.",
        why: "With too much it burns within minutes; with too little its contact closes badly and welds.",
        example: "[component.light-relay]\nkind = \"relay\"\nfed_from = \"busbar-24\"        # a 24 V network\nworked_at = \"control-panel.light\"\ncoil_voltage = \"12 V\"",
        basis: "The coil's own voltage, as printed on it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(coil) = &part.roles.coil else { continue };
        let Some(feeder) = coil.coil_from.first().or_else(|| part.supply.fed_from.first()) else { continue };
        let (Some(own), Some(network)) = (coil.coil_voltage.get(), context.build.dc_given_by(feeder)) else {
            continue;
        };
        // What works it in other words may bring another voltage.
        if coil.worked_by.text().is_some() || system(own) == network.nominal {
            continue;
        }
        let show = |volts: crate::units::Volts| volts.show(System::Metric);
        let headline = format!("{}: a coil for {}, fed with {}", part.id, show(own), show(network.nominal));
        let span = if coil.coil_voltage.given { coil.coil_voltage.span } else { part.span };
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(span, format!("{} comes from {feeder}", show(network.nominal)))
                .help("a relay with the right coil, and its voltage in `coil_voltage`")
                .help("or name in `coil_from` a panel or busbar of the coil's own voltage"),
        );
    }
}
