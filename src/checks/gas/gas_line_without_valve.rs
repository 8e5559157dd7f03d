//! A gas line to an appliance without a valve of its own.

use super::lines_to;
use crate::checks::{Check, Context};
use crate::compute::heat::gas_burners;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "gas-line-without-valve",
        severity: Severity::Warning,
        what: "The line to a gas appliance has no shut-off valve of its own.",
        why: "A leak at one appliance takes all gas away, and nobody can shut that one alone while a pan is on fire.",
        example: "[component.gas-cooktop]\nkind = \"lpg-line\"\nto = \"cooktop\"\nshut_off = false",
        basis: "EN 1949 and NFPA 1192: a valve for each appliance, in reach (from memory).",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for appliance in gas_burners(context.build) {
        for (part, line) in lines_to(context, appliance).filter(|(_, line)| line.shut_off.is_off()) {
            sink.push(
                Finding::warning(CHECK.doc.name, format!("{}: no valve shuts {} alone", part.id, appliance.id))
                    .about(&part.id)
                    .at(line.shut_off.span, "no valve of its own")
                    .label(appliance.span, "burns what it brings")
                    .basis("EN 1949 and NFPA 1192: a valve for each appliance; from memory")
                    .help("a valve in reach on this line; then say `shut_off = true`"),
            );
        }
    }
}
