//! People sleep aboard, and there are not two ways out.

use super::people::of_role;
use crate::checks::{Check, Context};
use crate::compute::geometry::exits;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-missing",
        severity: Severity::Warning,
        what: "A place to sleep has fewer than two ways out that nothing bars: escape-route components that serve it, or windows marked `escape`. One that a loaded carrier or anything else can stand in front of does not count, nor one that serves other beds alone.",
        why: "Fire at the one door traps the sleepers.",
        example: "[component.bed]\nkind = \"bed\"                       # and one escape-route",
        basis: "NFPA 1192 (2018) 6.2.1.2, quoted: each sleeping area has at least two unobstructed paths to an exit. The driver's door may be the second.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let exits = exits::exits(context.build);
    let barred: Vec<&str> = exits.iter().filter(|e| !e.barred_by.is_empty()).map(|e| e.part.id.as_str()).collect();
    let but = if barred.is_empty() { String::new() } else { format!("; {} can be barred", barred.join(", ")) };
    for bed in of_role(context, SafetyRole::Sleeping) {
        let ways: i64 = exits.iter().filter(|e| e.frees(&bed.id)).map(|e| e.part.count).sum();
        if ways >= 2 {
            continue;
        }
        let others: Vec<&str> =
            exits.iter().filter(|e| e.barred_by.is_empty() && !e.frees(&bed.id)).map(|e| e.part.id.as_str()).collect();
        let finding =
            Finding::warning(CHECK.doc.name, format!("{}: fewer than two ways out for who sleeps there{but}", bed.id))
                .about(&bed.id)
                .at(bed.span, "someone sleeps here")
                .basis("NFPA 1192 (2018) 6.2.1.2, quoted: two unobstructed paths to an exit");
        sink.push(if others.is_empty() {
            finding.help("two escape-route components, or windows with escape = true; the cab door counts where nothing stands in the way")
        } else {
            finding.help(format!("{} serves other beds alone: name {} in its `serves`, if who sleeps there gets to it", others.join(", "), bed.id))
        });
    }
}
