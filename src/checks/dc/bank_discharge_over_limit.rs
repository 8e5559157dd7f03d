//! A bank that must give more than it may.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-discharge-over-limit",
        severity: Severity::Error,
        what: "The largest current drawn at one time is above the bank's discharge limit.",
        why: "Its management system switches everything off, or the cells overheat.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nmax_discharge = \"100 A\"",
        basis: "The battery maker's limit, as the spec gives it; all branches added with the diversity of each panel.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let (Some(limit), Some(part)) = (bank.max_discharge, context.part(id)) else { continue };
        if bank.discharge.0 <= limit.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{id}: {} drawn at one time, the bank may give {}", show(bank.discharge), show(limit));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(id)
                .at(part.roles.max_discharge().span, format!("limit {}", show(limit)))
                .basis("sum of all branches, inverters at their cut-off voltage")
                .help("a larger bank, more batteries in parallel, or a smaller inverter"),
        );
    }
}
