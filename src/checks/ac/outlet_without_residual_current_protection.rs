//! An outlet or a fixed AC load that no residual-current device guards.

use crate::build::Part;
use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-without-residual-current-protection",
        severity: Severity::Error,
        what: "Current reaches an AC outlet or a fixed AC load from some source without passing a residual-current device.",
        why: "A person who touches a live part and the metal body of the van is not disconnected: no overcurrent breaker opens at the current that kills.",
        example: "[component.outlet]\nkind = \"ac-outlet\"\nfed_from = \"consumer-unit\"   # and no residual-current-device before it",
        basis: "NEC 551.40, 120 V systems, read in a reprint: an error for outlets under US rules. IEC 60364-7-721, from memory: a warning under EU rules. Fixed loads: common practice, a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let on_ac = part.electric().is_some_and(|e| e.network == Network::Ac);
        let fixed = on_ac && matches!(part.role(), Some(Role::Load | Role::Display));
        let outlet = part.role() == Some(Role::Outlet) && !part.record.flag("wet_zone");
        if outlet || fixed {
            judge(context, part, CHECK.doc.name, sink);
        }
    }
}

/// Reports `part` under `name` where a source reaches it unguarded.
pub(super) fn judge(context: &Context<'_>, part: &Part<'_>, name: &'static str, sink: &mut Sink) {
    let Some(source) = reach::unguarded(context.build, &part.id) else { return };
    let us = context.electrical.profile.id == "us";
    let outlet = part.role() == Some(Role::Outlet);
    let headline = format!("{}: no residual-current device between {} and it", part.id, source.id);
    let finding = if us && outlet { Finding::error(name, headline) } else { Finding::warning(name, headline) };
    let basis = match (us, outlet) {
        (true, true) => "NEC 551.40: ground-fault protection of 120 V systems, read in a reprint",
        (false, true) => {
            "IEC 60364-7-721: 30 mA protection of outlets in caravans, from memory; the local wiring rules decide"
        }
        (_, false) => "common practice for fixed loads that people touch, no source; the local wiring rules decide",
    };
    let mut finding = finding
        .about(&part.id)
        .at(part.record.span_of("fed_from"), "fed from here")
        .label(source.span, "its current comes from here");
    let guards = reach::up_to(context.build, &part.id, |p| p.role() == Some(Role::Rcd));
    if let Some(rcd) = guards.first() {
        finding = finding
            .label(rcd.record.span_of("on_inverter"), format!("{} does not guard it against {}", rcd.id, source.id));
    }
    sink.push(finding.basis(basis).help(
        "feed it from a residual-current device that lies behind every source: after the transfer, or one for shore and one for the inverter",
    ));
}
