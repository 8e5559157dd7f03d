//! People sleep aboard, and there are not two ways out.

use super::people::first;
use crate::checks::{Check, Context};
use crate::compute::geometry::exits;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-missing",
        severity: Severity::Warning,
        what: "The build has a place to sleep and fewer than two ways out that nothing bars: escape-route components, or windows marked `escape`. One that a loaded carrier or anything else can stand in front of does not count.",
        why: "Fire at the one door traps the sleepers.",
        example: "[component.bed]\nkind = \"bed\"                       # and one escape-route",
        basis: "NFPA 1192 (2018) 6.2.1.2, quoted: each sleeping area has at least two unobstructed paths to an exit. The driver's door may be the second.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = first(context, &[SafetyRole::Sleeping]) else { return };
    let exits = exits::exits(context.build);
    let barred: Vec<&str> = exits.iter().filter(|e| !e.barred_by.is_empty()).map(|e| e.part.id.as_str()).collect();
    let ways: i64 = exits.iter().filter(|e| e.barred_by.is_empty()).map(|e| e.part.count).sum();
    if ways >= 2 {
        return;
    }
    let but = if barred.is_empty() { String::new() } else { format!("; {} can be barred", barred.join(", ")) };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("fewer than two ways out from where people sleep{but}"))
            .about(&cause.id)
            .at(cause.span, "someone sleeps here")
            .basis("NFPA 1192 (2018) 6.2.1.2, quoted: two unobstructed paths to an exit")
            .help("two escape-route components, or windows with escape = true; the cab door counts where nothing stands in the way"),
    );
}
