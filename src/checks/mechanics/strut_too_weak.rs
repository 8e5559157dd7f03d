//! Gas struts that do not hold their lid.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-too-weak",
        severity: Severity::Warning,
        what: "The struts' force is below what just holds the open lid, or leaves less than a tenth for cold and age.",
        why: "The lid comes down on hands and heads, first on a cold morning.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"22 kg\"\nforce = \"100 N\"",
        basis: "Balance of moments about the hinge; the reserve of a tenth is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, s) in &context.mechanics.struts {
        let (Some(part), Some(force)) = (context.part(id), s.given) else { continue };
        if !above(s.sized, force) {
            continue;
        }
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{id}: {} a strut, the open lid needs {}", newtons(force), newtons(s.sized)),
            )
            .about(id)
            .at(part.record.span_of("force"), format!("{} just hold it", newtons(s.holding)))
            .basis("n · F · e = m · g · s · cos θ about the hinge, and a tenth for cold and age")
            .help(format!("struts of {} or more, or leave `force` out: it is sized", newtons(s.sized))),
        );
    }
}
