//! A relay of which nothing works the coil.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Carries;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "coil-without-feed",
        severity: Severity::Error,
        what: "No conductor brings the coil of a relay or contactor its current: nothing works it, or what should is not there.",
        why: "Its contact never closes, and the leads to its coil are in no list to pull.",
        example: "[component.light-relay]\nkind = \"relay\"\nfed_from = \"busbar\"           # and neither worked_at nor worked_by",
        basis: "Structure of the spec: `posts` and `leads` of the kinds.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values() {
        let Some(coil) = &part.roles.coil else { continue };
        let own = || build.wiring.conductors.values().filter(|c| c.owner == part.id && c.carries == Carries::Control);
        // What ends on the coil, and is not its way back.
        if own().any(|c| c.to.part == part.id) {
            continue;
        }
        let (headline, span) = match coil.worked_at.text() {
            Some(at) => (
                format!("{}: its coil is worked at \"{at}\", and there is no such switch", part.id),
                coil.worked_at.span,
            ),
            None => (format!("{}: nothing works its coil", part.id), part.span),
        };
        let finding =
            Finding::error(CHECK.doc.name, headline).about(&part.id).at(span, "its coil stays without current");
        sink.push(finding.help(help(part)));
    }
}

fn help(part: &Part<'_>) -> &'static str {
    if part.roles.bank_path.is_some() {
        "feed it from the bank whose protection works it"
    } else {
        "name the switch in `worked_at = \"panel.switch\"`, or say in `worked_by` what else works it"
    }
}
