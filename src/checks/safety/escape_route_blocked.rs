//! A way out with something in front of it that nobody is told of.

use crate::checks::{Check, Context};
use crate::compute::geometry::exits;
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-blocked",
        severity: Severity::Warning,
        what: "A carrier, box, ladder or the like stands in front of a way out, and neither its `blocked_by` nor its `clear_of` names it.",
        why: "In the fire the doors open a hand's breadth, and nobody aboard knew.",
        example: "[component.bikes]\nkind = \"bike-carrier\"\nmount = \"hitch\"\n\n[component.rear]\nkind = \"escape-route\"\nopening = \"door\"\nside = \"rear\"",
        basis: "NFPA 1192 (2018) 6.2.1.2, quoted: unobstructed paths to an exit; places and kinds of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for exit in exits::exits(context.build) {
        let Some(first) = exit.untold.first() else { continue };
        let ids: Vec<&str> = exit.untold.iter().map(|p| p.id.as_str()).collect();
        let ids = ids.join(", ");
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {ids} can stand in front of it", exit.part.id))
                .about(&exit.part.id)
                .at(exit.part.span, "a way out, said to be free")
                .label(first.span, "stands in front of it")
                .basis("NFPA 1192 (2018) 6.2.1.2, quoted: unobstructed paths to an exit")
                .help(format!(
                    "name it in `blocked_by`, with the steps that free it from inside in `to_free`: it is no free way out then; or, if it opens with {ids} loaded and in place, say so in `clear_of`"
                )),
        );
    }
}
