//! A load that the bank runs for a shorter time than it must.

use super::words::{BASIS, bank_span};
use crate::build::Part;
use crate::checks::{Check, Context};
use crate::compute::energy::{cools_the_air, run_goal};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-time-below-goal",
        severity: Severity::Warning,
        what: "From a full bank down to the reserve, with nothing else on and nothing coming in, a load runs for less than its `run_goal`, or what cools the air for less than `cooling` in [use.goals]; or nothing that cools runs from the bank.",
        why: "What was promised of it at the table does not hold on the first hot night.",
        example: "[component.cooler]\nkind = \"air-conditioner\"\nfed_from = \"house-panel\"\n\n[use.goals]\ncooling = \"60 h\"",
        basis: "Energy account: energy of the bank down to the reserve over the mean power of the load, with what its inverter takes.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let system = build.prints();
    for (id, run) in context.energy.run_times.iter().filter(|(_, run)| !run.reaches_goal()) {
        let (Some(goal), Some(wanted)) = (run.goal, run_goal(build, id)) else { continue };
        let headline =
            format!("{id}: runs for {} from a full bank, wanted are {}", run.time.show(system), goal.show(system));
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(id)
                .at(wanted.span, "wanted")
                .label(bank_span(context), "the bank")
                .basis(BASIS)
                .help("a larger bank, a smaller load, or less of a goal: tell the customer what holds"),
        );
    }
    let Some(goal) = build.goals.cooling.get() else { return };
    let cools = |part: &&Part<'_>| cools_the_air(part);
    if context.energy.run_times.keys().filter_map(|id| build.parts.get(id)).any(|part| cools(&part)) {
        return;
    }
    let headline = format!("cooling: nothing that cools runs from the bank, wanted are {}", goal.show(system));
    let mut finding = Finding::warning(CHECK.doc.name, headline).at(build.goals.cooling.span, "wanted").basis(BASIS);
    if let Some(cooler) = build.parts.values().find(cools) {
        finding = finding.about(&cooler.id).label(cooler.span, "does not run from the bank");
    }
    sink.push(finding.help("an air conditioner that the bank feeds, or no such goal"));
}
