//! A load that the bank runs for a shorter time than it must.

use super::words::{BASIS, bank_span};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-time-below-goal",
        severity: Severity::Warning,
        what: "From a full bank down to the reserve, with nothing else on and nothing coming in, a load runs for less than its `run_goal`.",
        why: "What was promised of it at the table does not hold on the first hot night.",
        example: "[component.cooler]\nkind = \"air-conditioner\"\nfed_from = \"house-panel\"\nrun_goal = \"60 h\"",
        basis: "Energy account: energy of the bank down to the reserve over the mean power of the load, with what its inverter takes.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for part in context.build.parts.values() {
        let Some(goal) = part.roles.load.as_ref().map(|load| &load.run_goal) else { continue };
        let (span, Some(goal)) = (goal.span, goal.get()) else { continue };
        let Some(run) = context.energy.run_times.get(&part.id).filter(|run| run.time.0 < goal.0 * (1.0 - 1e-9)) else {
            continue;
        };
        let headline = format!(
            "{}: runs for {} from a full bank, wanted are {}",
            part.id,
            run.time.show(system),
            goal.show(system)
        );
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&part.id)
                .at(span, "wanted")
                .label(bank_span(context), "the bank")
                .basis(BASIS)
                .help("a larger bank, a smaller load, or less of a goal: tell the customer what holds"),
        );
    }
}
