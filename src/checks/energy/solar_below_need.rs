//! A stay that does not hold when the van stands still.

use super::words::{BASIS, balance, bank_span, clock, emptied, lasts, nights, season_span};
use crate::checks::{Check, Context};
use crate::compute::energy::Season;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "solar-below-need",
        severity: Severity::Warning,
        what: "In a season of the spec the bank does not keep its reserve when the van stands still: the sun alone brings too little. Where it does not keep it with daily driving either, that is a finding of its own, and each is accepted by itself.",
        why: "Snowed in or simply staying put, the owner finds out on the third morning.",
        example: "[climate.winter]\nirradiation = \"0.8 kWh/m2\"\n\n[use]\ngoals.nights = 3\ndriving = \"2 h\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, season) in &context.energy.seasons {
        let Some(parked) = &season.parked else { continue };
        // Without an engine that charges, parked is as driven.
        if parked.below_reserve.is_none() || Season::day(&season.engine).0 <= 0.0 {
            continue;
        }
        let (lasts, over) = (lasts(context, parked), nights(context.energy.nights));
        let label = if emptied(parked) {
            let short = parked.unserved.show(context.build.prints());
            let from = clock(parked.short_from.unwrap_or(0).saturating_sub(1));
            format!("parked, it is empty from {from}, arrival on day 1 at 18:00; {short} are missing")
        } else if season.driving.as_ref().is_some_and(|s| s.below_reserve.is_some()) {
            "parked, it goes below its reserve sooner than with driving".to_owned()
        } else {
            "keeps its reserve only with driving every day".to_owned()
        };
        let finding = Finding::warning(
            CHECK.doc.name,
            format!("{id}: parked, the bank reaches its reserve after {lasts}, before {over} are over"),
        )
        .about(id)
        .at(season_span(context, id), balance(context, season, false))
        .label(bank_span(context), label)
        .basis(BASIS)
        .help("more solar or a larger bank; or tell the owner how long the van may stand, and accept it here");
        sink.push(finding);
    }
}
