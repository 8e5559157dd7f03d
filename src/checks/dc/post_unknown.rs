//! A `post` of a component that its kind does not have.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "post-unknown",
        severity: Severity::Error,
        what: "`post.<id>` names no post of the component.",
        why: "The torque that its maker gives is printed nowhere, and the packet leaves a blank.",
        example: "[component.panel]\nkind = \"fuse-panel\"\nfed_from = \"busbar\"\npost.fed = { torque = \"3 N m\" }   # feed",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let known: Vec<&str> = part.kind.posts.iter().map(|post| post.id.as_str()).collect();
        for post in part.posts.iter().filter(|post| !known.contains(&post.id.as_str())) {
            sink.push(
                Finding::error(CHECK.doc.name, format!("{}: has no post `{}`", part.id, post.id))
                    .about(&part.id)
                    .at(post.span, "no such post")
                    .help(format!("its posts are {}", known.join(", "))),
            );
        }
    }
}
