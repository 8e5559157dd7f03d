//! A bank without a negative busbar.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "negative-bar-missing",
        severity: Severity::Warning,
        what: "A build has a bank and a positive busbar or panel, but no negative busbar that answers it.",
        why: "Returns end up on the battery post or the body, the shunt misses them, and no document says where they go.",
        example: "[component.busbar]\nkind = \"busbar\"\nfed_from = \"main-switch\"",
        basis: "Common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let answered = context.build.parts.values().any(|p| !p.roles.mirrors().all().is_empty());
    let bar = context
        .build
        .parts
        .values()
        .find(|p| p.role() == Some(Role::Bus) && p.electric().is_some_and(|e| e.network == Network::Dc));
    let (false, Some(bar)) = (answered, bar) else { return };
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{}: no negative busbar answers it", bar.id))
            .about(&bar.id)
            .at(bar.span, "where do the returns meet?")
            .basis("common practice, no source")
            .help(format!("add a negative-busbar with `mirrors = \"{}\"`", bar.id)),
    );
}
