//! Shore power that does not fill the bank in a night.

use super::words::bank_span;
use crate::checks::{Check, Context};
use crate::compute::electrical::battery;
use crate::compute::energy::Steady;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Seconds, Watts};

/// A night on shore power. Common practice, no source.
const NIGHT: Seconds = Seconds(43_200.0);

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "shore-charge-slow",
        severity: Severity::Warning,
        what: "All shore chargers together need more than 12 hours from the reserve to full, with the loads off.",
        why: "A night on a site does not fill the bank for the next leg.",
        example: "[component.house-bank]\nkind = \"battery-bank\"\ncapacity = \"600 Ah\"\n\n[component.shore-charger]\nkind = \"shore-charger\"\noutput_current = \"20 A\"",
        basis: "Energy of the bank over charging power and charge efficiency; a night of 12 hours is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(store) = &context.energy.store else { return };
    let chargers: Vec<_> = context.energy.fillings.iter().filter(|(_, f)| f.by == Steady::Shore).collect();
    let power: Watts = chargers.iter().map(|(_, f)| f.power).sum();
    let power = store.most_in.map_or(power, |most| most.min(power));
    let span = store.full - store.reserve;
    let Some(time) = battery::run_time(span, power * store.efficiency.0) else { return };
    let (Some((id, _)), true) = (chargers.first(), time.0 > NIGHT.0 * (1.0 + 1e-9)) else { return };
    let Some(charger) = context.part(id) else { return };
    let system = context.build.prints();
    let finding = Finding::warning(
        CHECK.doc.name,
        format!("{id}: {} from the reserve to full on shore power", time.show(system)),
    )
    .about(*id)
    .at(charger.roles.output_current().span, format!("{} at the bank, all shore chargers together", power.show(system)))
    .label(bank_span(context), format!("{} to fill", span.show(system)))
    .basis("energy over charging power; a night of 12 hours is common practice, no source")
    .help("a larger charger, within what bank and inlet allow; or accept that it takes longer");
    sink.push(finding);
}
