//! A shore lead that is thinner or longer than the rules allow.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::{Amps, Bound, ConductorSize, Metres, System};

/// IEC 60364-7-721: at 16 A a lead of 2.5 mm², of 25 m and 2 m more at most; reprints.
const AT: Amps = Amps(16.0);
const LEAST: ConductorSize = ConductorSize::Metric(2.5);
const LONGEST: Metres = Metres(27.0);

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "shore-lead-unfit",
        severity: Severity::Error,
        what: "Under EU rules the shore lead that goes with an inlet of up to 16 A has conductors below 2.5 mm², or is longer than 25 m and 2 m.",
        why: "At full load a thin lead overheats. In a long one a short draws so little that the breaker of the pitch opens late.",
        example: "rules = \"eu\"\n\n[component.inlet]\nkind = \"shore-inlet\"\nrating = \"16 A\"\ncord_conductor = \"1.5 mm2\"",
        basis: "IEC 60364-7-721: 2.5 mm² at 16 A, 25 m ± 2 m; read in reprints. Leads of larger inlets are not judged.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    if context.electrical.profile.id != "eu" {
        return;
    }
    let inlets = context.build.parts.values().filter(|p| p.role() == Some(Role::Inlet));
    for part in inlets.filter(|p| p.roles.rating().get().is_some_and(|rating| !above(rating.0, AT.0))) {
        let (cord, size) = (part.roles.cord(), part.roles.cord_conductor());
        let system = context.build.prints();
        let longest = LONGEST.bound(Bound::Most, system);
        if let Some(given) = size.get().filter(|given| above(LEAST.area().0, given.area().0)) {
            let headline = format!(
                "{}: a shore lead of {given} goes with {}; {LEAST} is the least",
                part.id,
                AT.show(System::Metric)
            );
            sink.push(finding(&part.id, headline, format!("{LEAST} or more")).at(size.span, "too thin"));
        }
        if let Some(given) = cord.get().filter(|given| above(given.0, LONGEST.0)) {
            let headline = format!("{}: its shore lead is {}; {longest} is the longest", part.id, given.show(system));
            sink.push(finding(&part.id, headline, format!("a lead of {longest} or less")).at(cord.span, "too long"));
        }
    }
}

fn finding(about: &str, headline: String, help: String) -> Finding {
    Finding::error(CHECK.doc.name, headline)
        .about(about)
        .basis("IEC 60364-7-721: 2.5 mm² at 16 A, 25 m ± 2 m; read in reprints")
        .help(help)
}
