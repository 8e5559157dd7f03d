//! A night warmer than the day.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "low-above-high",
        severity: Severity::Error,
        what: "The usual low of a season is above its usual high.",
        why: "The two are mixed up; heating, cooling and every load that follows the temperature come out wrong.",
        example: "[climate.summer]\nlow = \"24 °C\"\nhigh = \"11 °C\"",
        basis: "The low is the lowest of the day by definition.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, climate) in &context.build.climates {
        let (Some(low), Some(high)) = (climate.low.get(), climate.high.get()) else { continue };
        if low.0 <= high.0 {
            continue;
        }
        let system = context.build.prints();
        let finding = Finding::error(
            CHECK.doc.name,
            format!("{id}: the low of {} is above the high of {}", low.show(system), high.show(system)),
        )
        .about(id)
        .at(climate.low.span, "usual lowest temperature of the night")
        .label(climate.high.span, "usual highest temperature of the day")
        .basis("the low of a day is not above its high")
        .help("exchange them, or correct the one that is wrong");
        sink.push(finding);
    }
}
