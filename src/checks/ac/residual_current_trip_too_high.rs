//! A residual-current device that trips too late to save a person.

use crate::build::Part;
use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::Amps;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "residual-current-trip-too-high",
        severity: Severity::Error,
        what: "A residual-current device trips above the current that the rules ask for, and nothing finer stands between it and an outlet or load.",
        why: "A device for 100 mA or 300 mA guards against fire. The current through a person stops the heart below it.",
        example: "rules = \"eu\"\n\n[component.rcd]\nkind = \"residual-current-device\"\ntrip_current = \"100 mA\"",
        basis: "30 mA under EU rules (IEC 60364-7-721, read in reprints): an error. 6 mA under US rules (UL 943 class A), from memory: a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let limit = context.electrical.profile.ac.rcd_trip;
    let coarse = |p: &Part<'_>| p.roles.trip_current().get().is_some_and(|t: Amps| above(t.0, limit.0));
    let is_rcd = |p: &Part<'_>| p.role() == Some(Role::Rcd);
    for rcd in build.parts.values().filter(|p| is_rcd(p) && coarse(p)) {
        let exposed = reach::users_before(build, &rcd.id, |p| is_rcd(p) && !coarse(p));
        let Some((user, circuit)) = exposed.first() else { continue };
        let trip = rcd.roles.trip_current().show(build.prints()).unwrap_or_default();
        let asked = limit.show(build.prints());
        let headline = format!("{}: it trips at {trip}; the build's rules ask for {asked}", rcd.id);
        let is_eu = context.electrical.profile.id == "eu";
        let finding = if is_eu { Finding::error } else { Finding::warning };
        sink.push(
            finding(CHECK.doc.name, headline)
                .about(&rcd.id)
                .at(rcd.roles.trip_current().span, format!("trips at {trip}"))
                .label(circuit.span, format!("{} has no finer device before it", user.id))
                .basis(context.electrical.profile.basis.get("ac").cloned().unwrap_or_default())
                .help(format!("a device that trips at {asked} or less, here or in the circuit of each outlet")),
        );
    }
}
