//! Something that stays names a component that comes out.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::Value;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "names-removed",
        severity: Severity::Error,
        what: "A component, task or piece of upkeep names a component that comes out of the van: `scope = \"removed\"`.",
        why: "What comes out is in no list, figure or drawing: nothing would feed, carry or drain what names it.",
        example: "[component.old-panel]\nkind  = \"fuse-panel\"\nscope = \"removed\"\n\n[component.fridge]\nkind     = \"fridge\"\nfed_from = \"old-panel\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    if build.removed.is_empty() {
        return;
    }
    let parts = build.parts.values().map(|part| (part.id.as_str(), part.record));
    let own = build.spec.tasks.iter().chain(&build.spec.upkeep).map(|(id, record)| (id.as_str(), record));
    for (owner, record) in parts.chain(own) {
        for (name, entry) in &record.fields {
            let Value::Components(ids) = &entry.value else { continue };
            for (id, gone) in ids.iter().filter_map(|id| Some((id, build.removed.get(&id.value)?))) {
                sink.push(
                    Finding::error(CHECK.doc.name, format!("{owner}: `{name}` names {}, which is removed", id.value))
                        .about(owner)
                        .at(id.span, "comes out")
                        .label(gone.common.scope.span, "said here")
                        .basis("a removed component is no part of the van any more")
                        .help(format!("name what takes its place in `{name}`, or let {} stay", id.value)),
                );
            }
        }
    }
}
