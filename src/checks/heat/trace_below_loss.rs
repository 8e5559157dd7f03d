//! Heat trace that gives less than its pipe loses.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Watts;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "trace-below-loss",
        severity: Severity::Warning,
        what: "On the coldest usual night the pipe loses more heat than the heat trace on it gives.",
        why: "The pipe freezes although it is heated.",
        example: "[component.trace]\nkind = \"heat-trace\"\nlength = \"2 m\"\ndraw = \"6 W\"                       # and 15 W are lost at -12 °C",
        basis: "q = ΔT / (ln(D2/D1)/(2π k) + 1/(h π D2)), 10 % on top.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, held) in &context.heat.traces {
        let Some(part) = context.part(id).filter(|_| crate::checks::compare::above(held.need, held.power)) else {
            continue;
        };
        let show = |w: f64| Watts(w).show(context.build.prints());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{id} gives {}, its pipe loses {}", show(held.power), show(held.need)),
            )
            .about(id)
            .at(part.record.span_of("draw"), show(held.power))
            .basis("loss of the insulated pipe at the lowest `low` of the climates, 10 % on top")
            .help(format!("{} or more over its length, or thicker insulation round it", show(held.need))),
        );
    }
}
