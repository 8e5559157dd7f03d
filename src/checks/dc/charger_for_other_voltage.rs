//! A charger for banks of another voltage than the one it charges.

use crate::build::{Feeding, system};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{System, Volts};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charger-for-other-voltage",
        severity: Severity::Error,
        what: "A charger is made for banks of another nominal voltage than the network it feeds.",
        why: "It never charges a bank of a higher voltage, and it overcharges one of a lower voltage until that burns.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"25.6 V\"\n\n[component.charger]\nkind = \"shore-charger\"   # for a 12 V bank\nfeeds = \"house-bank\"",
        basis: "Structure of the spec: the output voltage of the charger, by the spec or its kind, against that of the bank.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, _) in context.circuits().filter(|(c, _)| c.feeding == Feeding::Output) {
        let Some(charger) =
            context.part(&circuit.from).filter(|p| p.roles.charger.is_some() || p.roles.alternator.is_some())
        else {
            continue;
        };
        let output = charger.roles.output_voltage();
        let reached = context.build.dc_given_by(&circuit.to);
        let Some((volts, network)) = output.get().map(system).zip(reached) else { continue };
        if volts == network.nominal {
            continue;
        }
        let show = |volts: Volts| volts.show(System::Metric);
        let there = show(network.nominal);
        let headline = format!("{}: charges banks of {}, {} is of {there}", charger.id, show(volts), circuit.to);
        let mut finding =
            Finding::error(CHECK.doc.name, headline).about(&charger.id).at(circuit.span, format!("{there} here"));
        if output.given {
            finding = finding.label(output.span, format!("for {}", show(volts)));
        } else {
            finding = finding.basis(format!(
                "kind `{}`: for {} where the spec says nothing else",
                charger.kind.id,
                show(volts)
            ));
        }
        sink.push(finding.help(format!(
            "a charger for {there}; where its plate says so, or it sets itself by the bank, write `output_voltage = \"{there}\"`"
        )));
    }
}
