//! A bank that is never full again while off grid.

use super::words::{BASIS, balance, bank_span, lasts, season_span};
use crate::checks::{Check, Context};
use crate::compute::energy::Season;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charge-never-full",
        severity: Severity::Warning,
        what: "In a season of the spec the bank keeps its reserve over the nights off grid, but is never full again, and a day brings less than it needs.",
        why: "Every stay ends lower than it began. Lead-acid sulphates, and a lithium bank loses its balance and its gauge the count.",
        example: "[component.roof-array]\nkind = \"solar-array\"\npower = \"50 W\"\n\n[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"400 Ah\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(store) = &context.energy.store else { return };
    for (id, season) in &context.energy.seasons {
        let Some(stay) = season.driving.as_ref().filter(|s| s.below_reserve.is_none() && !s.full_again) else {
            continue;
        };
        let offered = Season::day(&season.solar.hours) + Season::day(&season.engine);
        if offered.0 <= 0.0 || offered.0 * store.efficiency.0 >= Season::day(&season.need.total()).0 {
            continue;
        }
        let lasts = lasts(context, stay);
        let finding =
            Finding::warning(CHECK.doc.name, format!("{id}: the bank is never full again off grid; it lasts {lasts}"))
                .about(id)
                .at(season_span(context, id), balance(context, season, true))
                .label(bank_span(context), "only shore power fills it")
                .basis(BASIS)
                .help("more solar or driving; or charge from shore power after each trip, and accept it here");
        sink.push(finding);
    }
}
