//! Gas struts that one cannot close.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::mechanics::CLOSING_LIMIT;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "strut-too-strong",
        severity: Severity::Warning,
        what: "To close the lid takes more than 100 N at its edge.",
        why: "People hang on the lid to close it, bend it, and are thrown off when it flies open.",
        example: "[component.bed-struts]\nkind = \"lid-strut\"\nlid_mass = \"10 kg\"\nforce = \"900 N\"",
        basis: "Balance of moments about the hinge; 100 N is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    let newtons = |f: f64| print(Dimension::Force, f, system);
    for (id, s) in &context.mechanics.struts {
        let (Some(part), Some(closing)) = (context.part(id), s.closing) else { continue };
        if !above(closing, CLOSING_LIMIT) {
            continue;
        }
        let whose = if s.given.is_some() { "given" } else { "sized to hold the open lid" };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{id}: {} at the edge to close the lid", newtons(closing)))
                .about(id)
                .at(part.record.span_of("force"), format!("{} a strut, {whose}", newtons(s.given.unwrap_or(s.sized))))
                .basis("at most 100 N: common practice, no source")
                .help("weaker struts, or fix their ends nearer to the hinge"),
        );
    }
}
