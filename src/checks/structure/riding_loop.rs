//! Parts that rest on each other in a circle.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "riding-loop",
        severity: Severity::Error,
        what: "A component rests on itself, by way of what it is `on`.",
        why: "What carries the load cannot be told, so nothing is held against a rating.",
        example: "[component.box]\nkind = \"box-carrier\"\non = \"hinges\"\n\n[component.hinges]\nkind = \"rear-door-carrier-hinge\"\non = \"box\"",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values() {
        let carriers = build.carriers(&part.id);
        let last = carriers.last().copied().unwrap_or(part);
        if last.rides_on() != Some(part.id.as_str()) {
            continue;
        }
        let way: Vec<&str> = carriers.iter().map(|c| c.id.as_str()).chain([part.id.as_str()]).collect();
        sink.push(
            Finding::error(CHECK.doc.name, format!("{} rests on itself: on {}", part.id, way.join(", on ")))
                .about(&part.id)
                .at(part.common.on.span, "the circle closes here")
                .basis("structure of the spec")
                .help("take `on` out of the one that the vehicle itself carries"),
        );
    }
}
