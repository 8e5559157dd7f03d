//! Less fresh water than the nights without supply need.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "water-short",
        severity: Severity::Warning,
        what: "The fresh water that the outlets can reach lasts fewer days than the nights off grid of [use].",
        why: "The tank runs dry before the trip is over.",
        example: "[use]\npeople = 4\ngoals.nights = 4              # 12 L a day each, and a tank of 60 L",
        basis: "V / (people · water_per_person). What a person uses is common practice unless [use] gives it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let goal = &context.build.goals.nights;
    let (Some(days), Some(nights)) = (context.water.fresh_days, goal.get()) else { return };
    let wanted = crate::compute::network::count(nights);
    if !crate::checks::compare::above(wanted, days) {
        return;
    }
    let Some((id, _)) = context.water.fresh.first() else { return };
    let Some(part) = context.part(id) else { return };
    let system = context.build.prints();
    let usable: f64 = context.water.fresh.values().map(|t| t.usable).sum();
    let needed = usable * wanted / days;
    let litres = |l: f64| print(Dimension::Volume, l, system);
    let last = crate::units::significant(days, 2);
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!("fresh water lasts {last} days, {nights} nights off grid are planned"),
        )
        .about(id)
        .at(part.roles.capacity_litres().span, format!("{} can be used", litres(usable)))
        .label(goal.span, format!("{nights} nights"))
        .basis("usable volume over people and use per person and day")
        .help(format!("tanks with {} usable, fewer nights, or a smaller `water_per_person` in [use]", litres(needed))),
    );
}
