//! A bank whose limits are not given.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-limits-unknown",
        severity: Severity::Warning,
        what: "A bank has no `max_discharge` or no `max_charge`.",
        why: "Nothing can be checked against them.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"280 Ah\"",
        basis: "Common practice, no source: the limits stand on the battery's data sheet.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, bank) in &context.electrical.banks {
        let missing: Vec<_> = [("max_discharge", bank.max_discharge), ("max_charge", bank.max_charge)]
            .into_iter()
            .filter(|(_, limit)| limit.is_none())
            .map(|(name, _)| format!("`{name}`"))
            .collect();
        let (false, Some(part)) = (missing.is_empty(), context.part(id)) else { continue };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: no {}", missing.join(" and no ")))
                .about(id)
                .at(part.span, "limits from the data sheet?")
                .help("write them from the battery's data sheet; parallel batteries add up"),
        );
    }
}
