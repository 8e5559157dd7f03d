//! No extinguisher by the exit.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;
use crate::units::{Dimension, print};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "extinguisher-far-from-exit",
        severity: Severity::Warning,
        what: "Every fire extinguisher is more than 610 mm from the main exit.",
        why: "One must go past the fire to reach it.",
        example: "[component.extinguisher]\nkind = \"extinguisher\"\nto_exit = \"2 m\"",
        basis: "NFPA 1192, within 24 in of the main exit (from memory).",
    },
    run,
};

/// Farthest from the main exit, m: 24 in. From memory.
const FARTHEST: f64 = 0.61;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let distances = of_role(context, SafetyRole::Extinguisher).filter_map(|e| Some((e, e.roles.to_exit().get()?.0)));
    let Some((nearest, distance)) = distances.reduce(|a, b| if b.1 < a.1 { b } else { a }) else { return };
    if !crate::checks::compare::above(distance, FARTHEST) {
        return;
    }
    let show = |m: f64| print(Dimension::Length, m, context.build.prints());
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{} is {} from the exit", nearest.id, show(distance)))
            .about(&nearest.id)
            .at(nearest.roles.to_exit().span, format!("more than {}", show(FARTHEST)))
            .basis("NFPA 1192: within 24 in of the main exit, from memory")
            .help("mount one by the exit, in reach from outside"),
    );
}
