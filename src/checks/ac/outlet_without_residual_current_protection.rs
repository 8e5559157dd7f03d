//! An outlet, a fixed AC load, a charger or a shore input that no residual-current device guards.

use crate::build::Part;
use crate::checks::ac::main_breaker_missing::{fed, uses_ac};
use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "outlet-without-residual-current-protection",
        severity: Severity::Error,
        what: "Current reaches an AC outlet, a fixed AC load, a charger or the shore input of an inverter-charger from some source without passing a residual-current device.",
        why: "A person who touches a live part and the metal body of the van is not disconnected: no overcurrent breaker opens at the current that kills.",
        example: "[component.outlet]\nkind = \"ac-outlet\"\nfed_from = \"consumer-unit\"   # and no residual-current-device before it",
        basis: "NEC 551.40, 120 V systems, read in a reprint: an error for outlets under US rules. IEC 60364-7-721, 30 mA for all that the inlet feeds, read in reprints: an error under EU rules. The rest: common practice, a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values() {
        let wet = part.role() == Some(Role::Outlet) && part.roles.wet_zone().is_set();
        if uses_ac(context, part) && !wet {
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
    let shore = source.role() == Some(Role::Inlet);
    let (grave, basis) = match (us, outlet, shore) {
        (true, true, _) => (true, "NEC 551.40: ground-fault protection of 120 V systems, read in a reprint"),
        (false, _, true) => {
            (true, "IEC 60364-7-721: 30 mA, breaking all live conductors, for what the inlet feeds; read in reprints")
        }
        _ => (false, "common practice for what people touch, no source; the local wiring rules decide"),
    };
    let finding = Finding::error_if(grave, name, headline);
    let mut finding =
        finding.about(&part.id).at(fed(part), "fed from here").label(source.span, "its current comes from here");
    let guards = reach::up_to(context.build, &part.id, |p| p.role() == Some(Role::Rcd));
    if let Some(rcd) = guards.first() {
        finding =
            finding.label(rcd.roles.on_inverter().span, format!("{} does not guard it against {}", rcd.id, source.id));
    }
    sink.push(finding.basis(basis).help(
        "feed it from a residual-current device that lies behind every source: after the transfer, or one for shore and one for the inverter",
    ));
}
