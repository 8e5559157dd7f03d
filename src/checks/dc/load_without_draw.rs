//! A load that draws nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "load-without-draw",
        severity: Severity::Warning,
        what: "A component that uses energy has a draw of zero, or none.",
        why: "Its circuit is sized for nothing and the energy it uses is not counted.",
        example: "[component.fan]\nkind = \"roof-fan\"\ndraw = \"0 W\"\nfed_from = \"house-panel\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(c, _)| c.owner == c.to) {
        let Some(part) = context.part(&circuit.to).filter(|p| p.role() == Some(Role::Load)) else { continue };
        if figures.demand.load.0 > 0.0 {
            continue;
        }
        let field = if part.kind.fields.contains_key("current") { "current" } else { "draw" };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: a {} that draws nothing", part.id, part.kind.name.to_lowercase()))
                .about(&part.id)
                .at(part.record.span_of(field), "no draw")
                .help(format!("write its `{field}`, from its plate or a reading")),
        );
    }
}
