//! Warm water that runs for a shorter time than it must.

use crate::checks::{Check, Context};
use crate::compute::water::hot;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Seconds;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "hot-water-below-goal",
        severity: Severity::Warning,
        what: "A full water heater gives warm water for less than `hot_water` in [use.goals], with the outlet open that takes most and the heater on.",
        why: "What was promised of the shower at the table ends cold.",
        example: "[use.goals]\nhot_water = \"10 min\"\n\n[component.heater]\nkind = \"water-heater\"               # 10 L and 200 W: under four minutes at 5 L/min",
        basis: "Heat of the tank and of the heater against that of the water that runs off, at 40 °C or what the mixing valve lets out, from cold water of 10 °C.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let goal = &context.build.goals.hot_water;
    let Some(wanted) = goal.get() else { return };
    let system = context.build.prints();
    for (id, heated) in &context.water.heaters {
        let (Some(lasts), Some(part)) = (heated.lasts, context.part(id)) else { continue };
        if hot::reaches(heated.lasts, wanted) {
            continue;
        }
        let headline =
            format!("{id}: warm water runs for {}, wanted are {}", Seconds(lasts).show(system), wanted.show(system));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(goal.span, "wanted")
                .label(part.roles.capacity_litres().span, "the tank")
                .basis("heat of the full tank and of the heater over that of the water that runs off")
                .help("a larger tank, a stronger heater, an outlet with less flow, or less of a goal"),
        );
    }
}
