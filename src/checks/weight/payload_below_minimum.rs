//! Less payload than a motor caravan must keep under EU rules.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Bound;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "payload-below-minimum",
        severity: Severity::Warning,
        what: "Under EU rules, gross mass less mass in running order and passengers is below 10 kg times (people + length in metres).",
        why: "The approval as a motor caravan needs it, and there is no room for clothes and food.",
        example: "[build]\nrules = \"eu\"\n\n[vehicle]\ngross_mass = \"3500 kg\"          # and 3150 kg as built, four seats",
        basis: "Regulation (EU) No 1230/2012, Annex I part A 2.6.4.1.2: PM ≥ 10 · (n + L); quoted.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let Some(p) = context.weight.payload.filter(|_| context.build.about.rules.is("eu")) else {
        return;
    };
    if !above(p.least.0, p.payload.0) {
        return;
    }
    let vehicle = &context.build.vehicle;
    let system = context.build.prints();
    sink.push(
        Finding::warning(
            CHECK.doc.name,
            format!(
                "payload {} with all seats taken; at least {} is asked",
                p.payload.show(system),
                p.least.bound(Bound::Least, system)
            ),
        )
        .at(vehicle.gross_mass.span, format!("mass in running order {}", p.running_order.show(system)))
        .basis(format!("Regulation (EU) No 1230/2012: 10 kg · ({} + {})", p.people, crate::units::number(p.length.0)))
        .basis("mass in running order: as built, fresh water full, driver 75 kg; 75 kg for each passenger")
        .help("a lighter build, a smaller water tank, or fewer seats"),
    );
}
