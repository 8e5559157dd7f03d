//! No gross mass to hold the weight against.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "vehicle-unknown",
        severity: Severity::Warning,
        what: "[vehicle] gives no `gross_mass`.",
        why: "The build's weight can't be held against what the vehicle may weigh, and the cargo label stays empty.",
        example: "[build]\ntitle = \"Weekend\"           # and no [vehicle] with gross_mass",
        basis: "Structure of the spec.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let spec = &context.build.spec;
    if context.build.vehicle.gross_mass.get().is_some() || context.build.vehicle.gross_mass.faulty {
        return;
    }
    let given = !spec.vehicle.fields.values().all(|e| !e.given);
    let (span, here) = if given {
        (spec.vehicle.span, "no `gross_mass` here")
    } else {
        (spec.build.span, "no [vehicle] in this spec")
    };
    sink.push(
        Finding::warning(CHECK.doc.name, "the vehicle's highest permitted mass is unknown")
            .at(span, here)
            .basis("the plate of the vehicle gives it")
            .help("add `gross_mass` and both axle limits from the plate to [vehicle]"),
    );
}
