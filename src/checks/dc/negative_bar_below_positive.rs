//! A negative busbar smaller than the positive it answers.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::System;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "negative-bar-below-positive",
        severity: Severity::Error,
        what: "The negative busbar's rating is below the current that comes back through it.",
        why: "All current returns: the weaker bar overheats.",
        example: "[component.negative-bar]\nkind = \"negative-busbar\"\nmirrors = \"busbar\"\nrating = \"100 A\"",
        basis: "Kirchhoff's current law; the maker's rating, as the spec or the kind gives it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let Some(positive) = part.roles.mirrors().all().first() else { continue };
        let (Some(panel), Some(rating)) = (context.electrical.panels.get(&positive.value), part.roles.rating().get())
        else {
            continue;
        };
        if rating.0 >= panel.carried.0 * (1.0 - 1e-9) {
            continue;
        }
        let show = |amps: crate::units::Amps| amps.show(System::Metric);
        let headline = format!("{}: rated {}, {} returns through it", part.id, show(rating), show(panel.carried));
        sink.push(
            Finding::error(CHECK.doc.name, headline)
                .about(&part.id)
                .at(part.roles.rating().span, format!("rated {}", show(rating)))
                .label(positive.span, format!("{} carries {}", positive.value, show(panel.carried)))
                .help("a negative busbar of at least the positive's rating"),
        );
    }
}
