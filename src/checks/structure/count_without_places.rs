//! Several alike, and a different number of places for them.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "count-without-places",
        severity: Severity::Warning,
        what: "`count` is above one, and `places` names a different number of places.",
        why: "One of them has no place, or a place has none: the packet and the weight figures are off by one.",
        example: "[component.reading-lights]\nkind = \"reading-light\"\ncount = 3\nplaces = [\"bunk-left\", \"bunk-right\"]",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let named = part.common.places.all().len();
        // One place for all of them is plain enough.
        if part.count < 2 || named < 2 || i64::try_from(named).is_ok_and(|n| n == part.count) {
            continue;
        }
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {} of them in {named} places", part.id, part.count))
                .about(&part.id)
                .at(part.common.count.span, format!("{} of them", part.count))
                .label(part.common.places.span, format!("{named} places"))
                .basis("`places` names one place for each, or a single one for all")
                .help("name a place for each; a place may stand in the list twice"),
        );
    }
}
