//! A stay that holds only because the van is driven every day.

use super::words::{BASIS, balance, bank_span, lasts, nights, season_span};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "solar-below-need",
        severity: Severity::Warning,
        what: "In a season of the spec the bank keeps its reserve with daily driving, but not when the van stands still: the sun alone brings too little.",
        why: "Snowed in or simply staying put, the owner finds out on the third morning.",
        example: "[climate.winter]\nirradiation = \"0.8 kWh/m2\"\n\n[use]\nnights_off_grid = 3\ndriving = \"2 h\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, season) in &context.energy.seasons {
        let (Some(driving), Some(parked)) = (&season.driving, &season.parked) else { continue };
        if parked.below_reserve.is_none() || driving.below_reserve.is_some() {
            continue;
        }
        let lasts = lasts(context, parked);
        let finding = Finding::warning(
            CHECK.doc.name,
            format!(
                "{id}: parked, the bank reaches its reserve after {lasts}, before {} are over",
                nights(context.energy.nights)
            ),
        )
        .about(id)
        .at(season_span(context, id), balance(context, season, false))
        .label(bank_span(context), "keeps its reserve only with driving every day")
        .basis(BASIS)
        .help("more solar or a larger bank; or tell the owner how long the van may stand, and accept it here");
        sink.push(finding);
    }
}
