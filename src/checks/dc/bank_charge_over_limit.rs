//! A bank that is charged with more than it may take.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-charge-over-limit",
        severity: Severity::Error,
        what: "All chargers together give more than the bank's charge limit.",
        why: "Fast charging beyond the limit ages or damages the cells.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nmax_charge = \"20 A\"",
        basis: "The battery maker's limit, as the spec gives it; all chargers at their rated current together.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let (Some(limit), Some(part)) = (bank.max_charge, context.part(id)) else { continue };
        if bank.charge.0 <= limit.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{id}: all chargers give {}, the bank may take {}", show(bank.charge), show(limit));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(id)
                .at(part.roles.max_charge().span, format!("limit {}", show(limit)))
                .help("smaller chargers, chargers set to a lower current, or a larger bank"),
        );
    }
}
