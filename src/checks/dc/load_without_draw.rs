//! A load that draws nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::Field;
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "load-without-draw",
        severity: Severity::Warning,
        what: "A component that uses energy has a draw of zero.",
        why: "Its circuit is sized for nothing and the energy it uses is not counted.",
        example: "[component.touch-panel]\nkind = \"control-panel\"\ndraw = \"0 W\"\nfed_from = \"house-panel\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(c, _)| c.owner == c.to) {
        let Some(part) = context.part(&circuit.to).filter(|p| matches!(p.role(), Some(Role::Load | Role::Display)))
        else {
            continue;
        };
        let second = circuit.end.is_second();
        let (current, draw) =
            if second { (Field::NONE, part.roles.second_draw()) } else { (part.roles.current(), part.roles.draw()) };
        let (there, name, span) = match current.get() {
            Some(_) => (true, current.name, current.span),
            None => (draw.get().is_some(), draw.name, draw.span),
        };
        // A draw that could not be read is told by the reader.
        if figures.demand.load.0 > 0.0 || !there {
            continue;
        }
        sink.push(
            Finding::warning(
                CHECK.doc.name,
                format!("{}: a {} that draws nothing", part.id, part.kind.name.to_lowercase()),
            )
            .about(&part.id)
            .at(span, "no draw")
            .help(format!("write its `{name}`, from its plate or a reading")),
        );
    }
}
