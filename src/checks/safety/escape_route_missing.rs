//! People sleep aboard, and there are not two ways out.

use super::people::{first, of_role};
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::SafetyRole;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "escape-route-missing",
        severity: Severity::Warning,
        what: "The build has a place to sleep and fewer than two ways out: escape-route components, or windows marked `escape`.",
        why: "Fire at the one door traps the sleepers.",
        example: "[component.bed]\nkind = \"bed\"                       # and one escape-route",
        basis: "NFPA 1192 (2018) 6.2.1.2, quoted: each sleeping area has at least two unobstructed paths to an exit. The driver's door may be the second.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(cause) = first(context, &[SafetyRole::Sleeping]) else { return };
    let windows = of_role(context, SafetyRole::EscapeWindow).filter(|w| w.record.flag("escape"));
    // A window that an escape route goes through is the same way out.
    let routes: Vec<_> = of_role(context, SafetyRole::EscapeRoute).collect();
    let through = |id: &str| routes.iter().any(|r| r.record.list("leads_through").iter().any(|t| t.value == id));
    let ways: i64 = windows.filter(|w| !through(&w.id)).chain(routes.iter().copied()).map(|w| w.count).sum();
    if ways >= 2 {
        return;
    }
    sink.push(
        Finding::warning(CHECK.doc.name, "fewer than two ways out from where people sleep")
            .about(&cause.id)
            .at(cause.span, "someone sleeps here")
            .basis("NFPA 1192 (2018) 6.2.1.2, quoted: two unobstructed paths to an exit")
            .help("two escape-route components, or windows with escape = true; the cab door counts where nothing stands in the way"),
    );
}
