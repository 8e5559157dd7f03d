//! A weighbridge figure that does not agree with the reckoning.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "measured-off-computed",
        severity: Severity::Warning,
        what: "A figure of [recorded.weights] differs from the computed one, for the state the van was weighed in, by more than the tolerance.",
        why: "Something heavy is missing from the spec, sits elsewhere, or the scale was read wrongly; every load case rests on these masses.",
        example: "[recorded.weights]\nrear_axle = \"2250 kg\"          # computed: 2049 kg",
        basis: "Tolerance of the weighing (`tolerance` of the weighbridge component), 3 % where there is none: common practice.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let weights = &context.build.spec.recorded.weights;
    for m in &context.weight.measured {
        let allowed = m.computed.0.abs() * m.tolerance.0;
        if !above(m.difference().0.abs(), allowed) {
            continue;
        }
        let more = if m.difference().0 > 0.0 { "more" } else { "less" };
        let difference = crate::units::Kilograms(m.difference().0.abs());
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!(
                    "{}: weighed {}, {} {more} than computed",
                    m.title(),
                    m.measured.show(system),
                    difference.show(system)
                ),
            )
            .at(weights.span_of(m.field), format!("computed {}", m.computed.show(system)))
            .basis(format!("tolerance {}", m.tolerance.show(system)))
            .help(
                "weigh again; then look for components without mass or at the wrong place, and for tools left aboard",
            ),
        );
    }
}
