//! Components without a mass.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "mass-missing",
        severity: Severity::Warning,
        what: "Components that are not light have no `mass`.",
        why: "Axle loads, the cargo label and the height of the centre of gravity are too low by what they weigh.",
        example: "[component.fridge]\nkind = \"fridge\"\nplace = \"galley\"                # and no mass",
        basis: "Structure of the spec.",
    },
    run,
};

/// Names told in one line.
const TOLD: usize = 8;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let missing = &context.weight.items.missing;
    let Some(first) = missing.first() else { return };
    // Without a scale to hold it against nobody asks for masses.
    if context.weight.base.is_none() {
        return;
    }
    let span = context.build.bearer(first).map_or(context.build.about.span, |p| p.span);
    let mut names = missing.iter().take(TOLD).cloned().collect::<Vec<_>>().join(", ");
    if missing.len() > TOLD {
        names = format!("{names} and {} more", missing.len() - TOLD);
    }
    let count = missing.len();
    let headline =
        if count == 1 { format!("no mass: {names}") } else { format!("{count} components have no mass: {names}") };
    sink.push(
        Finding::warning(CHECK.doc.name, headline)
            .at(span, "no `mass` here")
            .basis("their weight is missing from every load case")
            .help("weigh each one, or take its data sheet, and give `mass`"),
    );
}
