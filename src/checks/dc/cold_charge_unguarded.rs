//! A lithium bank that could be charged while frozen.

use crate::checks::{Check, Context};
use crate::compute::network::{charge_harms_below, is_warmed};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::{Bound, Celsius};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "cold-charge-unguarded",
        severity: Severity::Warning,
        what: "The climate goes below the bank's charging limit, the bank has no heating, and a charger does not read the bank's temperature.",
        why: "Charging below freezing plates lithium: capacity is lost for good, and a cell may short inside.",
        example: "[climate.winter]\nrecord_low = \"-20 °C\"\n\n[component.shore-charger]\nkind = \"shore-charger\"\ntemperature_sense = false",
        basis: "Battery makers' sheets: no charging of lithium iron phosphate below 0 °C, optimum 5–45 °C.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let lows = build.climates.values().flat_map(|c| [c.record_low.get(), c.low.get()]).flatten();
    let Some(low) = lows.map(|t| t.0).reduce(f64::min) else { return };
    for id in context.electrical.banks.keys() {
        let Some(bank) = context.part(id) else { continue };
        let Some(limit) = charge_harms_below(bank).map(|t| t.0) else { continue };
        if low >= limit || is_warmed(build, bank) {
            continue;
        }
        let blind =
            build.parts.values().filter(|p| p.role() == Some(Role::Charger) && p.roles.temperature_sense().given);
        for charger in blind.filter(|p| !p.roles.temperature_sense().is_set()) {
            let show = |t: f64| Celsius(t).show(build.prints());
            let least = |t: f64| Celsius(t).bound(Bound::Least, build.prints());
            let headline =
                format!("{}: charges {id} without reading its temperature; it gets down to {}", charger.id, show(low));
            sink.push(
                Finding::warning(CHECK.doc.name, headline)
                    .about(&charger.id)
                    .at(charger.roles.temperature_sense().span, "does not read the bank's temperature")
                    .label(bank.span, format!("may be charged above {}", least(limit)))
                    .basis("battery makers' sheets: no charging below 0 °C")
                    .help("a charger with a bank sensor, a bank heater, or a battery whose management system blocks cold charging"),
            );
        }
    }
}
