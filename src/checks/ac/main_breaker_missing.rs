//! An AC outlet, load or input that no breaker of the van protects.

use crate::build::{Circuit, Part};
use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::source::Span;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "main-breaker-missing",
        severity: Severity::Error,
        what: "Current reaches an AC outlet, load, charger or the shore input of an inverter-charger from the inlet or an inverter, and no breaker of the van stands between.",
        why: "The breaker of the pitch is set for a supply that nobody in the van knows. Behind an adapter the cable in the van burns before it opens.",
        example: "rules = \"eu\"\n\n[component.charger]\nkind = \"shore-charger\"\nfed_from = \"inlet\"           # and no consumer unit between",
        basis: "IEC 60364-7-721, overcurrent protection and main switch, read in reprints: an error under EU rules. NEC 551.45, from memory: a warning under US rules. Behind an inverter: common practice, a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for part in context.build.parts.values().filter(|p| uses_ac(context, p)) {
        let Some(source) = unprotected(context, part) else { continue };
        let shore = source.role() == Some(Role::Inlet);
        let us = context.electrical.profile.id == "us";
        let headline = format!("{}: no breaker between {} and it", part.id, source.id);
        let finding = Finding::error_if(shore && !us, CHECK.doc.name, headline);
        let basis = match (shore, us) {
            (true, false) => {
                "IEC 60364-7-721: overcurrent protection and a main switch in the caravan, read in reprints"
            }
            (true, true) => "NEC 551.45: panelboard with a main breaker, from memory",
            (false, _) => {
                "common practice, no source: the electronics of an inverter may hold a short for longer than a conductor can"
            }
        };
        sink.push(
            finding
                .about(&part.id)
                .at(fed(part), "fed from here")
                .label(source.span, "its current comes from here")
                .basis(basis)
                .help("feed it from a consumer unit; the main breaker of that is not above the inlet"),
        );
    }
}

/// Where the spec says what feeds a user of AC.
pub(super) fn fed(part: &Part<'_>) -> Span {
    if part.role() == Some(Role::InverterCharger) { part.roles.shore_from().span } else { part.supply.fed_from.span }
}

/// Whether AC ends at a part: an outlet, a load, a charger, the shore input of an inverter-charger.
pub(super) fn uses_ac(context: &Context<'_>, part: &Part<'_>) -> bool {
    let on_ac = part.electric().is_some_and(|e| e.network == Network::Ac);
    match part.role() {
        Some(Role::Outlet | Role::Load | Role::Display | Role::Charger) => on_ac,
        Some(Role::InverterCharger) => reach::arriving(context.build, &part.id).next().is_some(),
        _ => false,
    }
}

/// A source whose current reaches `part` without a breaker.
fn unprotected<'a>(context: &'a Context<'_>, part: &'a Part<'_>) -> Option<&'a Part<'a>> {
    let breaks = |c: &Circuit| context.electrical.circuits.get(&c.id).is_some_and(|f| f.device.is_own());
    let is_source = |p: &Part<'_>| p.role().is_some_and(Role::gives_ac);
    // A generator has a breaker of its own.
    let breaks_here =
        |p: &Part<'_>| p.role() == Some(Role::Generator) || context.electrical.breakers.contains_key(&p.id);
    let ends = |p: &Part<'_>| is_source(p) || breaks_here(p);
    let above = context.build.upstream(&part.id).along(|c| c.network == Network::Ac && !breaks(c));
    above.until(|c| context.part(&c.from).is_some_and(ends)).parts().find(|p| is_source(p) && !breaks_here(p))
}
