//! A bank whose voltage the kinds are not written for.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-not-twelve-volts",
        severity: Severity::Warning,
        what: "The bank's nominal voltage is not that of a 12 V system.",
        why: "The defaults of the kinds (charging voltages, cut-offs, appliances) are for 12 V: at 24 V or 48 V every one of them must be looked at.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"25.6 V\"",
        basis: "Structure of the library of kinds: currents, conductors and fuses are computed for the bank's system voltage.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let Some(part) = context.part(id).filter(|_| !(11.0..=14.0).contains(&bank.volts.0)) else { continue };
        let volts = bank.volts.show(context.build.prints());
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: {volts} nominal; the kinds' defaults are for 12 V"))
                .about(id)
                .at(part.record.span_of("voltage"), "not a 12 V system")
                .basis("defaults of the component kinds")
                .help("check every voltage and appliance of the spec against the data sheets, and accept this warning"),
        );
    }
}
