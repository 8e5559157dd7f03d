//! A channel that no cable can use.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "channel-leads-nowhere",
        severity: Severity::Warning,
        what: "A channel has fewer than two different points, or no cable lies in it.",
        why: "It was drawn for something: a place is too far from it, or it does not meet the next one where both should have a point in common.",
        example: "[channel.riser]\npoints = [[\"4.1 m\", \"0.8 m\", \"0.3 m\"], [\"4.1 m\", \"0.8 m\", \"0.9 m\"]]   # and no place within 1 m of it",
        basis: "Geometry: a place joins a channel that passes at most 1 m from its middle; common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for (id, channel) in &build.channels {
        if channel.points.faulty || !build.wiring.in_channel(id).is_empty() {
            continue;
        }
        let points = channel.points.all();
        let is_way = points.iter().any(|p| points.first().is_some_and(|first| first != p));
        let (headline, help) = if is_way {
            let headline = format!("channel {id}: no cable lies in it");
            (
                headline,
                "let it pass within 1 m of two places, or begin at a point of another channel; a cable with a `run` of its own needs none",
            )
        } else {
            (format!("channel {id}: has no two points to lead from and to"), "give its points, one after the other")
        };
        sink.push(
            Finding::warning(CHECK.doc.name, headline).about(id).at(channel.points.span, "leads nowhere").help(help),
        );
    }
}
