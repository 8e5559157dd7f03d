//! A stage that is skipped although there is work in it.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "stage-skipped-with-work",
        severity: Severity::Error,
        what: "A stage has `skip = true`, and components or the spec bring tasks into it.",
        why: "The work, its tests and its hold points would stand in no packet: nobody does it.",
        example: "[stage.commissioning]\nskip = true",
        basis: "Structure of the spec.",
    },
    run,
};

/// Tasks named in the finding; more would bury them.
const SHOWN: usize = 3;

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for (id, record) in build.stages.iter().filter(|(_, r)| r.skip.is_set()) {
        let work: Vec<_> = build.tasks.values().filter(|t| t.stage.id() == id).collect();
        if work.is_empty() {
            continue;
        }
        let names: Vec<_> = work.iter().take(SHOWN).map(|t| t.id.as_str()).collect();
        let more = if work.len() > SHOWN { format!(" and {} more", work.len() - SHOWN) } else { String::new() };
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("stage `{id}` is skipped and has work in it: {}{more}", names.join(", ")),
        )
        .about(id)
        .at(record.skip.span, "skipped");
        for task in work.iter().take(SHOWN) {
            finding = finding.label(task.span, format!("brings {}", task.id));
        }
        sink.push(
            finding
                .basis("a task stands in the packet of its stage alone")
                .help("take `skip` out, or take out what brings the work"),
        );
    }
}
