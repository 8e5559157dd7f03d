//! A pipe that holds water in frost and that nothing empties.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "run-without-drain",
        severity: Severity::Warning,
        what: "The van meets frost, and a cold, hot or suction pipe inside the body is named by no drain valve.",
        why: "The heater is off in storage. The water left in the pipe freezes and splits pipe, fitting or pump.",
        example: "[component.cold]\nkind = \"pipe-run\"\nmedium = \"cold\"\nlength = \"3 m\"                     # and no drain-valve with drains = [\"cold\"]",
        basis: "Water freezes at 0 °C; drains at low points are common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(coldest) = &context.heat.coldest else { return };
    let frost = context.build.climates.values().filter_map(|c| c.record_low.get().or_else(|| c.low.get()));
    if coldest.celsius >= 0.0 && frost.into_iter().all(|t| t.0 >= 0.0) {
        return;
    }
    // Pipes outside the heated space are told by `run-unprotected`.
    let full = context.heat.runs.iter().filter(|(_, r)| !r.outside && r.drain.is_none() && !r.self_draining);
    let full: Vec<_> = full.filter_map(|(id, _)| context.part(id)).collect();
    let Some((first, others)) = full.split_first() else { return };
    let headline = match others.len() {
        0 => format!("nothing empties {} before frost", first.id),
        n => format!("nothing empties {} pipes before frost", n + 1),
    };
    let mut finding =
        Finding::warning(CHECK.doc.name, headline).about(&first.id).at(first.span, "no drain valve names it");
    for other in others {
        finding = finding.label(other.span, "nor this");
    }
    sink.push(
        finding
            .basis("the heater is off in storage; water freezes at 0 °C")
            .help("name it in `drains` of a drain-valve at its low point"),
    );
}
