//! Two components that documents can't tell apart.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use std::collections::BTreeMap;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "duplicate-name",
        severity: Severity::Warning,
        what: "Two components have the same name and the same places.",
        why: "The owner's manual and the schedules show the name: nobody can tell which of the two is meant.",
        example: "[component.light-1]\nkind = \"light-zone\"\nname = \"Ceiling light\"\nplace = \"ceiling\"\n\n[component.light-2]\nkind = \"light-zone\"\nname = \"Ceiling light\"\nplace = \"ceiling\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let mut seen: BTreeMap<(String, Vec<&str>), &str> = BTreeMap::new();
    for part in context.build.parts.values() {
        let mut places: Vec<_> = part.places.iter().map(String::as_str).collect();
        places.sort_unstable();
        let key = (part.name.trim().to_lowercase(), places);
        let Some(first) = seen.get(&key).and_then(|id| context.part(id)) else {
            seen.insert(key, &part.id);
            continue;
        };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{} and {} are both called \"{}\"", first.id, part.id, part.name))
                .about(&part.id)
                .at(part.common.name.span, format!("\"{}\" again", part.name))
                .label(first.common.name.span, "the same name and place")
                .basis("documents show names, not ids")
                .help("give each a name of its own, or make them one component with `count = 2`"),
        );
    }
}
