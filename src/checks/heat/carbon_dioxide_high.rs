//! Air that is replaced too slowly for the people who breathe it.

use crate::checks::{Check, Context};
use crate::compute::climate_day::CARBON_DIOXIDE_OUTSIDE;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::significant;

/// Most carbon dioxide, a share of the air. Source: [`crate::tables::sources::CARBON_DIOXIDE`].
const MOST: f64 = 0.005;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "carbon-dioxide-high",
        severity: Severity::Warning,
        what: "With the air change of [use], carbon dioxide in the shut van rises above 5,000 ppm on the coldest usual day.",
        why: "People wake with headaches and tire; air that holds so much of their breath is wet too. A flame in it burns badly.",
        example: "[use]\npeople = 4\nair_change = \"50 %\"                      # in 11 m3 of air",
        basis: "Balance of 18.6 L/h a person awake and 11 L/h asleep against the air change, hour by hour. 5,000 ppm: mean of a working day, from memory.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(most) = context.climate_days.carbon_dioxide.filter(|most| *most > MOST) else { return };
    let usage = &context.build.usage;
    let (Some(people), Some(changes)) = (usage.people.get(), usage.air_change.get()) else { return };
    let Some(volume) = context.heat.volume else { return };
    let ppm = significant(most * 1e6, 2);
    // The level settles at what is breathed out over the fresh air.
    let needed = (changes.0 * (most - CARBON_DIOXIDE_OUTSIDE) / (MOST - CARBON_DIOXIDE_OUTSIDE) * 20.0).ceil() * 5.0;
    sink.push(
        Finding::warning(CHECK.doc.name, format!("the air inside comes to {ppm} ppm of carbon dioxide"))
            .at(usage.air_change.span, format!("{} air changes an hour", significant(changes.0, 3)))
            .basis(format!("{people} aboard in {} m³ of air, doors and windows shut", significant(volume, 3)))
            .help(format!("vents that can't be shut, or a fan that runs; then say so: air_change = \"{needed} %\"")),
    );
}
