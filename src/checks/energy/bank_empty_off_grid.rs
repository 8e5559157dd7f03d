//! A bank that runs empty before the nights off grid are over.

use super::words::{BASIS, MORE, balance, bank_span, clock, emptied, nights, season_span};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "bank-empty-off-grid",
        severity: Severity::Warning,
        what: "In a season of the spec, with driving as it says, the bank is empty before the nights off grid are over.",
        why: "Heater, fridge and pump stop, usually on the coldest night. A bank emptied to the cut-out ages.",
        example: "[use]\ngoals.nights = 4\n\n[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\n\n[component.heater]\nkind = \"air-heater\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, season) in &context.energy.seasons {
        let Some(stay) = season.driving.as_ref().filter(|s| emptied(s)) else { continue };
        let (nights, short) = (nights(context.energy.nights), stay.unserved.show(context.build.prints()));
        let finding = Finding::warning(
            CHECK.doc.name,
            format!("{id}: the bank is empty before {nights} off grid are over; {short} are missing"),
        )
        .about(id)
        .at(season_span(context, id), balance(context, season, true))
        .label(
            bank_span(context),
            format!("empty from {}, arrival on day 1 at 18:00", clock(stay.short_from.unwrap_or(0).saturating_sub(1))),
        )
        .basis(BASIS)
        .help(MORE);
        sink.push(finding);
    }
}
