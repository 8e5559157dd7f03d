//! More on the roof than it may carry while driving.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Bound;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "roof-over-limit",
        severity: Severity::Error,
        what: "The mass on the roof, boats included, is above the roof load limit.",
        why: "Pillars and roof skin give way in a hard swerve or a fall on the side, and the van tips sooner.",
        example: "[vehicle]\nroof_load_limit = \"100 kg\"      # and a rack of 34 kg, arrays of 38 kg, two boats of 24 kg",
        basis: "Handbook of the vehicle.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let vehicle = &context.build.vehicle;
    let Some(limit) = vehicle.roof_load_limit.get() else { return };
    let (roof, known) = (context.weight.roof, context.weight.roof_known);
    if !above(roof.0, limit.0) {
        return;
    }
    let system = context.build.prints();
    let headline = format!("{} on the roof, which may carry {}", roof.show(system), limit.bound(Bound::Most, system));
    let finding = if above(known.0, limit.0) {
        Finding::error(CHECK.doc.name, headline)
    } else {
        Finding::warning(CHECK.doc.name, headline)
            .basis("usual values of masses, or usual ways of being held, lead above the limit")
    };
    sink.push(
        finding
            .at(vehicle.roof_load_limit.span, format!("at most {}", limit.bound(Bound::Most, system)))
            .basis("every component in a place with zone = \"roof\", what is held there, what rests on any of it (`on`), and what they hold")
            .help("carry the boats elsewhere, or choose a lighter rack"),
    );
}
