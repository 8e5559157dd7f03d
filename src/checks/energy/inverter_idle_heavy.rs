//! An inverter that takes more for itself than it gives.

use crate::checks::{Check, Context};
use crate::compute::energy::Season;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::WattHours;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "inverter-idle-heavy",
        severity: Severity::Warning,
        what: "Over a day the inverter takes more for itself, just being on, than all its AC loads take, and that is more than a tenth of all energy needed.",
        why: "The bank is emptied by a device that does nothing. It is the usual reason why a bank that was large enough is not.",
        example: "[component.inverter]\nkind = \"inverter\"\nidle_draw = \"30 W\"\nhours = \"24 h\"",
        basis: "Energy account: idle draw × hours on, against the AC loads of the spec. The tenth is common practice, no source.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    // The season that uses AC the most: its inverter is put to the best use.
    let Some((_, season)) = context
        .energy
        .seasons
        .iter()
        .max_by(|(_, a), (_, b)| Season::day(&a.need.ac).0.total_cmp(&Season::day(&b.need.ac).0))
    else {
        return;
    };
    let [idle, ac, need] = [season.need.idle, season.need.ac, season.need.total()].map(|hours| Season::day(&hours));
    if context.energy.store.is_none() || idle.0 <= ac.0 * (1.0 + 1e-9) || idle.0 <= 0.1 * need.0 {
        return;
    }
    let inverters = context.build.parts.values();
    let mut inverters = inverters.filter(|p| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger)));
    let Some(inverter) = inverters.find(|p| p.roles.idle_draw().get().is_some_and(|w| w.0 > 0.0)) else { return };
    let show = |wh: WattHours| wh.show(context.build.prints());
    let finding = Finding::warning(
        CHECK.doc.name,
        format!("{}: takes {} a day for itself, its AC loads {}", inverter.id, show(idle), show(ac)),
    )
    .about(&inverter.id)
    .at(inverter.roles.idle_draw().span, "power it takes when it is on without load")
    .label(inverter.roles.hours().span, "hours a day it is on")
    .basis("energy account: idle draw × hours on")
    .help("switch it off when nothing uses it, and give those `hours`; or count AC loads that are missing in the spec");
    sink.push(finding);
}
