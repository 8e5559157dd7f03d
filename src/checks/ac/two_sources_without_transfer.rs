//! A part that two AC sources feed at once.

use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use std::collections::BTreeMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "two-sources-without-transfer",
        severity: Severity::Error,
        what: "Two AC sources feed one consumer unit, device or outlet, and no transfer chooses between them.",
        why: "The inverter is joined with the grid: it is destroyed, and the pins of the unplugged inlet are live.",
        example: "[component.consumer-unit]\nkind = \"consumer-unit\"\nfed_from = \"inlet\"\n\n[component.inverter]\nkind = \"inverter\"\nfeeds = \"consumer-unit\"",
        basis: "Two sources that are not synchronised differ by up to twice their peak voltage.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values() {
        if matches!(part.role(), None | Some(Role::Transfer | Role::InverterCharger)) {
            continue;
        }
        let mut sources = BTreeMap::new();
        let circuits: Vec<_> = reach::arriving(build, &part.id).collect();
        for circuit in &circuits {
            let Some(from) = build.parts.get(&circuit.from) else { continue };
            let own = from.role().is_some_and(|r| r == Role::Transfer || r.gives_ac());
            let ends = if own { vec![from] } else { reach::settled_sources(build, &from.id) };
            for end in ends {
                sources.entry(end.id.as_str()).or_insert(circuit.span);
            }
        }
        let arrivals: std::collections::BTreeSet<_> = sources.values().collect();
        if sources.len() < 2 || arrivals.len() < 2 {
            continue;
        }
        let names: Vec<_> = sources.keys().copied().collect();
        let mut finding = Finding::error(
            CHECK.doc.name,
            format!("{}: {} feed it and no transfer chooses", part.id, names.join(" and ")),
        )
        .about(&part.id)
        .at(part.span, "fed by more than one source");
        for (source, span) in &sources {
            finding = finding.label(*span, format!("current from {source} arrives here"));
        }
        sink.push(
            finding
                .basis("two sources that are not synchronised differ by up to twice their peak voltage")
                .help("put a transfer-switch before it and feed that from both, or use an inverter-charger"),
        );
    }
}
