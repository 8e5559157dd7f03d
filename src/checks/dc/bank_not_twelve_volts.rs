//! A bank whose voltage the kinds are not written for.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-not-twelve-volts",
        severity: Severity::Error,
        what: "The bank's nominal voltage is not that of a 12 V system: 12 V to 13.3 V.",
        why: "Every kind is a 12 V part: its fuses are made for 32 V, and its lamps, pumps and panels burn out on 24 V or 48 V. Currents, conductors and what the manual says of voltages would be for the wrong system.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"25.6 V\"",
        basis: "Structure of the library of kinds: every DC part in it is for 12 V, and a build has one DC voltage.",
    },
    run,
};

/// Six cells of lead-acid at 2 V.
const LEAST: f64 = 12.0;

/// Four cells of lithium iron phosphate, as the maker who rounds up most has it: 3.2 V to 3.33 V each.
const MOST: f64 = 13.3;

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let Some(part) = context.part(id).filter(|_| !(LEAST..=MOST).contains(&bank.volts.0)) else { continue };
        let volts = bank.volts.show(context.build.prints());
        sink.push(
            Finding::error(CHECK.doc.name, format!("{id}: {volts} nominal, and every DC part of the build is for 12 V"))
                .about(id)
                .at(part.roles.voltage().span, "not a 12 V system")
                .basis("the kinds are 12 V parts; 12 V to 13.3 V is nominal for six cells of lead-acid and four of lithium iron phosphate")
                .help("give the nominal voltage of a 12 V bank (12 V, 12.8 V); a 24 V or 48 V system cannot be built from these kinds"),
        );
    }
}
