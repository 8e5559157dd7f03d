//! More circuits than a panel has ways.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "panel-out-of-ways",
        severity: Severity::Error,
        what: "A panel feeds more circuits than it has ways, or a circuit names a way beyond the last.",
        why: "Two circuits end up under one fuse.",
        example: "[component.house-panel]\nkind = \"fuse-panel\"\nways = 2",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (id, panel) in &context.electrical.panels {
        let (Some(ways), Some(part)) = (panel.ways, context.part(id)) else { continue };
        if panel.used <= ways {
            continue;
        }
        let mut finding =
            Finding::error(CHECK.doc.name, format!("{id}: way {} is used, and the last one is {ways}", panel.used))
                .about(id)
                .at(part.roles.ways().span, if ways == 1 { "1 way".to_owned() } else { format!("{ways} ways") });
        for circuit in context.build.leaving(id).filter(|c| c.way.is_some_and(|w| w > ways)) {
            finding = finding.label(circuit.span, format!("{} is on way {}", circuit.id, circuit.way.unwrap_or(0)));
        }
        sink.push(finding.help("a panel with more ways, a sub-panel, or several small loads on one circuit"));
    }
}
