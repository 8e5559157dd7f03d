//! Something that stays names a component that comes out.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::fields::Value;
use crate::source::Span;
use indexmap::IndexMap;

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

/// Most places of one component that comes out that a finding points at.
const SHOWN: usize = 12;

/// Where something that stays names a component that comes out.
struct Naming<'b> {
    owner: &'b str,
    field: &'b str,
    span: Span,
}

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    if build.removed.is_empty() {
        return;
    }
    let parts = build.parts.values().map(|part| (part.id.as_str(), part.record));
    let own = build.spec.tasks.iter().chain(&build.spec.upkeep).map(|(id, record)| (id.as_str(), record));
    let mut all: IndexMap<&str, Vec<Naming<'_>>> = IndexMap::new();
    for (owner, record) in parts.chain(own) {
        for (field, entry) in &record.fields {
            let Value::Components(ids) = &entry.value else { continue };
            for id in ids.iter().filter(|id| build.removed.contains_key(&id.value)) {
                all.entry(&id.value).or_default().push(Naming { owner, field, span: id.span });
            }
        }
    }
    // One cause, one finding: a feeder that comes out would else be told once for all that hangs on it.
    for (gone, namings) in all {
        let (Some(part), Some(first)) = (build.removed.get(gone), namings.first()) else { continue };
        let mut fields: Vec<String> = namings.iter().map(|n| format!("`{}`", n.field)).collect();
        fields.sort_unstable();
        fields.dedup();
        let fields = fields.join(" and ");
        let (about, headline) = match namings.as_slice() {
            [one] => (one.owner, format!("{}: {fields} names {gone}, which is removed", one.owner)),
            several => {
                let mut owners: Vec<&str> = several.iter().map(|n| n.owner).collect();
                owners.dedup();
                (gone, format!("{gone} is removed, and {} name it in {fields}", owners.join(", ")))
            }
        };
        let mut finding = Finding::error(CHECK.doc.name, headline).about(about).at(first.span, "comes out");
        for naming in namings.iter().skip(1).take(SHOWN) {
            finding = finding.label(naming.span, "comes out");
        }
        sink.push(
            finding
                .label(part.common.scope.span, "said here")
                .basis("a removed component is no part of the van any more")
                .help(format!("name what takes its place in {fields}, or let {gone} stay")),
        );
    }
}
