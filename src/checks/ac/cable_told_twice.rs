//! One cable that both of its ends describe.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "cable-told-twice",
        severity: Severity::Warning,
        what: "A source names a part in `feeds`, and that part names the source in `fed_from`. It is one cable: `fed_from` with its `run`, `conductor` and `protection` counts, and what the source says of its output does not.",
        why: "Two descriptions of one cable sooner or later differ, and one of them is pulled.",
        example: "[component.inverter]\nkind = \"inverter\"\nfeeds = \"rcd\"\n\n[component.rcd]\nkind = \"residual-current-device\"\nfed_from = \"inverter\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.role().is_some_and(crate::kinds::Role::has_output)) {
        for fed in part.output.feeds.all() {
            let feeders = context.part(&fed.value).map_or(&[][..], |to| to.supply.fed_from.all());
            let Some(back) = feeders.iter().find(|f| f.value == part.id) else { continue };
            sink.push(
                Finding::warning(
                    CHECK.doc.name,
                    format!("{}: its cable from {} is told at both ends", fed.value, part.id),
                )
                .about(&fed.value)
                .at(back.span, "this counts")
                .label(fed.span, "the same cable again")
                .help(format!("leave `feeds` out of {}, or `fed_from` out of {}", part.id, fed.value)),
            );
        }
    }
}
