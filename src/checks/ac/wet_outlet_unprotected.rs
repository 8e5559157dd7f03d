//! An outlet outside or near water that no residual-current device guards.

use crate::checks::ac::outlet_without_residual_current_protection::judge;
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "wet-outlet-unprotected",
        severity: Severity::Error,
        what: "An AC outlet with `wet_zone = true` can be reached by current that passes no residual-current device.",
        why: "Wet skin lets a deadly current through, and no overcurrent breaker opens at it.",
        example: "[component.outside-outlet]\nkind = \"ac-outlet\"\nwet_zone = true\nfed_from = \"consumer-unit\"   # and no residual-current-device before it",
        basis: "NEC 551.40, 120 V systems, read in a reprint: an error under US rules. IEC 60364-7-721, read in reprints: an error under EU rules where the inlet feeds it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let wet = context.build.parts.values().filter(|p| p.role() == Some(Role::Outlet) && p.roles.wet_zone().is_set());
    for part in wet {
        judge(context, part, CHECK.doc.name, sink);
    }
}
