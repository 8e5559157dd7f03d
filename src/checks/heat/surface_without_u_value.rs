//! A surface that does not say how much heat it lets through.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "surface-without-u-value",
        severity: Severity::Warning,
        what: "A [shell] surface gives neither `u_value` nor `thickness` and `conductivity`.",
        why: "It is left out, so the heat loss is understated.",
        example: "[shell.roof]\narea = \"6 m2\"                      # and nothing more",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for id in &context.heat.unknown {
        let Some(record) = context.build.shell.get(id) else { continue };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("shell.{id} does not say how much heat it lets through"))
                .about(id)
                .at(record.span, "left out of the heat loss")
                .basis("U = 1 / (R_si + d/λ + 0.04 m²K/W)")
                .help("give `thickness` and `conductivity` of its insulation, or `u_value`"),
        );
    }
}
