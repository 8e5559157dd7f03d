//! A charger that asks more of the alternator than it can give.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::units::{Amps, System};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "alternator-overloaded",
        severity: Severity::Warning,
        what: "The DC-DC charger's input, with the vehicle's own load, is above what the alternator gives at idle.",
        why: "The alternator overheats at a standstill, or the starter battery goes flat while driving.",
        example: "[component.alternator]\nkind = \"alternator\"\nrating = \"120 A\"\n\n[component.dc-dc]\nkind = \"dc-dc-charger\"\noutput_current = \"60 A\"\nfed_from = \"starter-battery\"",
        basis: "Common practice, no source: an alternator gives about half its rating at idle when hot.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    // One that charges the house bank by itself feeds no charger.
    let of_vehicle = |p: &&crate::build::Part<'_>| {
        p.role() == Some(Role::Alternator) && p.electric().is_some_and(|e| e.network == Network::Start)
    };
    let Some(alternator) = context.build.parts.values().find(of_vehicle) else { return };
    let Some(told) = &alternator.roles.alternator else { return };
    let (Some(rating), Some(idle), Some(own)) = (told.rating.get(), told.idle_share.get(), told.vehicle_load.get())
    else {
        return;
    };
    let at_idle = rating * idle.0;
    let chargers: Vec<_> = context
        .circuits()
        .filter(|(c, _)| {
            c.network == Network::Start && context.part(&c.to).and_then(crate::build::Part::role) == Some(Role::Charger)
        })
        .collect();
    let asked: Amps = chargers.iter().map(|(_, f)| f.demand.load).sum();
    let Some((first, _)) = chargers.first() else { return };
    if (asked + own).0 <= at_idle.0 * (1.0 + 1e-9) {
        return;
    }
    let show = |amps: Amps| amps.show(System::Metric);
    let names = chargers.iter().map(|(c, _)| c.owner.as_str()).collect::<Vec<_>>().join(" and ");
    let headline = format!(
        "{names}: takes {}, the vehicle itself {}; {} gives {} at idle",
        show(asked),
        show(own),
        alternator.id,
        show(at_idle)
    );
    sink.push(
        Finding::warning(CHECK.doc.name, headline)
            .about(&first.owner)
            .at(first.span, "its current comes from the alternator")
            .label(alternator.roles.rating().span, format!("rated {}", show(rating)))
            .basis("common practice, no source: about half the rating at idle, hot")
            .help("a smaller charger, a charger set lower, a larger alternator, or charge only above idle"),
    );
}
