//! A tank pad that gives less than its tank loses.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "pad-below-loss",
        severity: Severity::Warning,
        what: "On the coldest usual night a tank outside the heated space loses more heat than its pad gives.",
        why: "The tank freezes although it is heated.",
        example: "[component.pad]\nkind = \"tank-pad\"\ntank = \"grey\"\ndraw = \"15 W\"                      # and 35 W are lost at -12 °C",
        basis: "Q = A · ΔT / (s/k + 1/25) of a box.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, held) in &context.heat.pads {
        let Some(part) = context.part(id).filter(|_| crate::checks::compare::above(held.need, held.power)) else {
            continue;
        };
        let show = |w: f64| Watts(w).show(context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{id} gives {}, its tank loses {}", show(held.power), show(held.need)),
            )
            .about(id)
            .at(part.record.span_of("draw"), show(held.power))
            .basis("loss of the insulated tank at the lowest `low` of the climates")
            .help(format!("{} or more, or thicker `tank_insulation`", show(held.need))),
        );
    }
}
