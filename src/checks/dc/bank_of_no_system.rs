//! A bank whose voltage is that of no system.

use crate::build::system;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Volts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-of-no-system",
        severity: Severity::Error,
        what: "The bank's nominal voltage is that of no 12 V, 24 V or 48 V system.",
        why: "No charger, fuse or load is made for it, and every current, conductor and voltage of the documents would be for another system.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nvoltage = \"38.4 V\"",
        basis: "Nominal voltage of batteries: six cells of lead-acid at 2 V, or four of lithium iron phosphate at 3.2 V to 3.33 V, once, twice or four times in series.",
    },
    run,
};

/// Six cells of lead-acid at 2 V, per 12 V.
const LEAST: f64 = 12.0;

/// Four cells of lithium iron phosphate per 12 V, as the maker who rounds up most has it: 3.2 V to 3.33 V each.
const MOST: f64 = 13.3;

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let twelves = system(bank.volts) / Volts(LEAST);
        let fits = (LEAST..=MOST).contains(&(bank.volts.0 / twelves));
        let Some(part) = context.part(id).filter(|_| !fits) else { continue };
        let volts = bank.volts.show(context.build.prints());
        sink.push(
            Finding::error(CHECK.doc.name, format!("{id}: {volts} nominal is of no 12 V, 24 V or 48 V system"))
                .about(id)
                .at(part.roles.voltage().span, "of no system")
                .basis("six cells of lead-acid or four of lithium iron phosphate are nominally 12 V to 13.3 V; twice as many 24 V to 26.6 V, four times 48 V to 53.2 V")
                .help("give the nominal voltage on the batteries, times those in series: 12.8 V, 25.6 V or 51.2 V"),
        );
    }
}
