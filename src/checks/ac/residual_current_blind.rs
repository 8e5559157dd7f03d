//! A residual-current device that may not see the fault current of electronics.

use crate::checks::ac::reach;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "residual-current-blind",
        severity: Severity::Warning,
        what: "A residual-current device for sinusoidal current alone (`waveform = \"ac\"`) guards a charger, or what an inverter feeds.",
        why: "A rectifier behind it leaks pulses of one polarity, which such a device may not see: it does not trip.",
        example: "[component.rcd]\nkind = \"residual-current-device\"\ntrip_current = \"30 mA\"\nwaveform = \"ac\"\n\n[component.charger]\nkind = \"shore-charger\"\nfed_from = \"rcd\"",
        basis: "Types of residual-current device: IEC 60755, from memory, so it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let inverts = |r: Option<Role>| matches!(r, Some(Role::Inverter | Role::InverterCharger));
    let blind = build.parts.values().filter(|p| p.role() == Some(Role::Rcd) && p.roles.waveform().is("ac"));
    for rcd in blind {
        let users = reach::users(build, &rcd.id);
        let charger = users.iter().map(|(p, _)| *p).find(|p| p.role() == Some(Role::Charger));
        let inverter = reach::up_to(build, &rcd.id, |p| inverts(p.role())).first().copied();
        let Some(cause) = charger.or(inverter) else { continue };
        let role = if charger.is_some() { "it guards" } else { "it is fed by" };
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: it sees sinusoidal current alone, and {role} {}", rcd.id, cause.id))
                .about(&rcd.id)
                .at(rcd.roles.waveform().span, "sinusoidal current alone")
                .label(cause.span, format!("{role} this"))
                .basis("IEC 60755, types of residual-current device, from memory; the maker of the charger or inverter decides")
                .help("waveform = \"a\" at least; \"f\" or \"b\" where the maker asks for it"),
        );
    }
}
