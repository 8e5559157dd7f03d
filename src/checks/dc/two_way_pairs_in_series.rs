//! A pair of two-way switches behind another one.

use crate::build::Part;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Lead, Network};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "two-way-pairs-in-series",
        severity: Severity::Error,
        what: "A pair of two-way switches is fed through another pair.",
        why: "Each pair breaks the circuit by itself: while one of them stands at off, no press of the other turns the lights on.",
        example: "[component.entry-switch]\nkind = \"two-way-switch\"\nfed_from = \"panel\"\n\n[component.bed-switch]\nkind = \"two-way-switch\"\nfed_from = \"entry-switch\"          # one pair, and `between` for every place more",
        basis: "How two-way switches work: one of the two straps is live, and the second switch is on that strap or on the other.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| is_pair(p)) {
        let above = context.build.upstream(&part.id).along(|c| c.network == Network::Dc && c.owner == c.to).parts();
        let Some(first) = above.filter(|p| p.id != part.id).find(|p| is_pair(p)) else { continue };
        let feeders = &part.supply.fed_from;
        let headline = format!("{}: fed through {}, which turns it off from places of its own", part.id, first.id);
        let finding = Finding::error(CHECK.doc.name, headline)
            .about(&part.id)
            .at(feeders.span, "behind another pair")
            .label(first.span, "the first pair")
            .basis("two pairs in series are on only while both of them are");
        sink.push(finding.help(format!(
            "for more than two places, one pair with the switches between in `between` of {}; else feed each pair by itself",
            first.id
        )));
    }
}

/// Whether its current goes over straps from one switch to another.
fn is_pair(part: &Part<'_>) -> bool {
    part.kind.leads.iter().any(|lead: &Lead| lead.is_as_supply() && lead.along.is_some())
}
