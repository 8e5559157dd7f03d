//! A bank that goes below its reserve off grid.

use super::words::{BASIS, MORE, balance, bank_span, clock, emptied, season_span};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Ratio;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "reserve-broken",
        severity: Severity::Warning,
        what: "In a season of the spec, with driving as it says, the bank goes below the share planned for use before the nights off grid are over, without running empty.",
        why: "The share is there for cold, age and a day of bad weather. A bank that is drawn below it ages faster, lead-acid most of all.",
        example: "[use]\ngoals.nights = 3\n\n[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nusable = \"80 %\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(store) = &context.energy.store else { return };
    for (id, season) in &context.energy.seasons {
        let Some(stay) = season.driving.as_ref().filter(|s| !emptied(s)) else { continue };
        let Some(after) = stay.below_reserve else { continue };
        let system = context.build.prints();
        let reserve = Ratio(store.reserve.0 / store.full.0).show(system);
        let headline = format!(
            "{id}: the bank goes down to {} off grid, below its reserve of {reserve}",
            stay.lowest.show(system)
        );
        let finding = Finding::warning(CHECK.doc.name, headline)
            .about(id)
            .at(season_span(context, id), balance(context, season, true))
            .label(bank_span(context), format!("below the reserve from {}, arrival on day 1 at 18:00", clock(after)))
            .basis(BASIS)
            .help(MORE);
        sink.push(finding);
    }
}
