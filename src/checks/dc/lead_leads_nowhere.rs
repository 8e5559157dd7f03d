//! A lead that a part needs, and nothing in the build that it could lead to.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::LeadEnd;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "lead-leads-nowhere",
        severity: Severity::Warning,
        what: "A component needs a lead beside its supply, such as the signal of a level sender, and nothing in the spec takes its other end.",
        why: "The lead is in no list to pull and none to terminate, so the part is fitted and does not work.",
        example: "[component.sender]\nkind = \"level-sender\"              # and no tank-display in the spec\ntank = \"fresh-tank\"",
        basis: "Structure of the spec: `posts` and `leads` of the kinds.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (part, lead, end) in context.build.open_leads() {
        let LeadEnd::Of(whose, post) = LeadEnd::read(end) else { continue };
        let headline = format!("{}: nothing takes the other end of its lead `{}`", part.id, lead.id);
        let finding = Finding::warning(CHECK.doc.name, headline)
            .about(&part.id)
            .at(part.span, format!("needs the post `{post}` of one {whose}"))
            .basis("the leads of its kind");
        sink.push(finding.help(format!(
            "add the part that it is wired to (`rigbinder kinds --role {whose}` lists them); of several, one must be fed \
             with it or have the same tank"
        )));
    }
}
