//! A bank too cold to be charged for a whole season.

use super::words::{bank_span, season_span};
use crate::checks::{Check, Context};
use crate::compute::energy::Season;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Celsius;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "charge-blocked-by-cold",
        severity: Severity::Warning,
        what: "On the typical day of a season the mean temperature is below the charging limit of the lithium bank; it has no heating and no heated living space around it, so what sun and engine bring is refused.",
        why: "The bank guards itself by not charging. It then empties in full sun.",
        example: "[climate.winter]\nlow = \"-14 °C\"\nhigh = \"-3 °C\"\n\n[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"200 Ah\"\nplace = \"underfloor-box\"",
        basis: "Battery makers' sheets: no charging of lithium iron phosphate below 0 °C. The bank is taken to have the mean temperature of the day.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, season) in &context.energy.seasons {
        let offered = Season::day(&season.solar.hours) + Season::day(&season.engine);
        if context.energy.store.is_none() || !season.cold || offered.0 <= 0.0 {
            continue;
        }
        let system = context.build.prints();
        let (low, high) = season.low_high;
        let mean = Celsius(f64::midpoint(low.0, high.0)).show(system);
        let finding = Finding::warning(
            CHECK.doc.name,
            format!(
                "{id}: at a mean of {mean} the bank may not be charged; {} a day are refused or go to the loads only",
                offered.show(system)
            ),
        )
        .about(id)
        .at(season_span(context, id), format!("mean of the day {mean}"))
        .label(bank_span(context), "no heating, and no heated living space around it")
        .basis("battery makers' sheets: no charging below 0 °C")
        .help("a bank heater (`warms`), batteries with heating (`heated`), or a place inside the heated cabin");
        sink.push(finding);
    }
}
