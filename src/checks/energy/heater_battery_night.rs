//! A bank that does not carry the heater through one night.

use super::words::{BASIS, bank_span, season_span};
use crate::checks::{Check, Context};
use crate::compute::energy::follow;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::WattHours;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "heater-battery-night",
        severity: Severity::Warning,
        what: "In a season of the spec, the loads from 17:00 to 9:00, the heater among them, take more than the bank has for use.",
        why: "A heater that stops for want of 20 W at four in the morning leaves people cold and water lines frozen.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"30 Ah\"\n\n[component.heater]\nkind = \"air-heater\"\ndraw = \"30 W\"",
        basis: "Energy account: energy account of the typical day; hours of the day and loads by temperature are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(store) = &context.energy.store else { return };
    let usable = store.full - store.reserve;
    for (id, season) in &context.energy.seasons {
        let heater = season.heating_night(&context.energy.loads);
        let total = season.need.total();
        let night = WattHours((0..24).filter(|h| follow::is_night(*h)).map(|h| total[h]).sum());
        if heater.0 <= 0.0 || night.0 <= usable.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |wh: WattHours| wh.show(context.build.prints());
        let finding = Finding::warning(
            CHECK.doc.name,
            format!("{id}: one night takes {}, the bank has {} for use", show(night), show(usable)),
        )
        .about(id)
        .at(season_span(context, id), format!("the heater alone takes {} from 17:00 to 9:00", show(heater)))
        .label(bank_span(context), format!("{} for use", show(usable)))
        .basis(BASIS)
        .help("a larger bank, or less draw at night");
        sink.push(finding);
    }
}
