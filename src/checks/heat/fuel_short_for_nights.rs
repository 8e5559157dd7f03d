//! Less fuel aboard than the nights without supply need.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::WattHours;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "fuel-short-for-nights",
        severity: Severity::Warning,
        what: "A full tank above what the pick-up leaves, or full cylinders, hold less heat than heaters and other burners need for the nights off grid and their days.",
        why: "The heater stops in the coldest night.",
        example: "[vehicle]\nfuel_tank = \"25 L\"                  # the pick-up leaves 15 L, and six nights at -20 °C",
        basis: "Lower heating values, heat of the coldest usual day from the hourly balance of the van.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (fuel, supply) in &context.climate_days.fuels {
        if !crate::checks::compare::above(supply.need, supply.aboard) {
            continue;
        }
        let burners = context.build.parts.values().filter(|p| p.kind.safety.is_some());
        let Some(burner) = burners.into_iter().find(|p| crate::compute::heat::fuel_word(p) == Some(fuel)) else {
            continue;
        };
        let show = |wh: f64| WattHours(wh).show(context.build.prints());
        let nights = crate::units::number(supply.nights);
        let lasts = crate::units::significant(supply.aboard / supply.need * supply.nights, 2);
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{fuel} lasts {lasts} nights, {nights} off grid are planned"))
                .about(&burner.id)
                .at(burner.span, format!("burns {fuel}"))
                .label(context.build.goals.nights.span, format!("{nights} nights"))
                .basis(format!("{} in the fuel needed, {} aboard", show(supply.need), show(supply.aboard)))
                .basis("heaters as on the coldest usual day, hour by hour; other burners by their hours of use")
                .help("a larger tank or more cylinders, fewer nights, or thicker insulation"),
        );
    }
}
