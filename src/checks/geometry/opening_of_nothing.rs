//! A middle of an opening, of a part that has none.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "opening-of-nothing",
        severity: Severity::Warning,
        what: "`opening_at` of a component that cuts no opening through the skin, or of one that stands at several places.",
        why: "It stands in no schedule and in no drawing: who gave it believes that the place of a hole is settled.",
        example: "[component.fridge]\nkind       = \"fridge\"\nopening_at = [\"3.00 m\", \"0.50 m\"]",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| p.common.opening_at.given && !p.confidential) {
        let mut cuts = part.kind.tasks.iter().flat_map(|task| task.cut_outs_of(part.record));
        let (headline, here, help) = if !cuts.any(|cut| cut.through.is_some()) {
            let headline = format!("{}: `opening_at`, and nothing of it goes through the skin", part.id);
            (headline, "of no opening", "take it out, or give it to the component that the opening is for")
        } else if part.places.len() > 1 {
            let headline = format!("{}: one `opening_at` for {} places", part.id, part.places.len());
            (headline, "of which opening?", "make each a component of its own, with its own `place` and `opening_at`")
        } else {
            continue;
        };
        sink.push(
            Finding::warning(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.common.opening_at.span, here)
                .basis("the schedule of openings has one line for each hole through the skin")
                .help(help),
        );
    }
}
