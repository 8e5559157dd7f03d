//! An axle that carries more than its plate allows.

use super::over::{self, Over};
use crate::checks::{Check, Context};
use crate::diag::{FindingDoc, Severity, Sink};
use crate::units::{Bound, Kilograms};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "axle-over-limit",
        severity: Severity::Error,
        what: "The load on an axle is above its limit in a load case.",
        why: "Tyres, wheels, brakes and springs of that axle are not made for it; the van fails a roadside weighing.",
        example: "[vehicle]\nrear_axle_limit = \"1900 kg\"      # and 400 kg of tank, bank and box behind the axle",
        basis: "Plate of the vehicle; balance of moments. A warning where only usual values of masses lead above it.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let vehicle = &context.build.vehicle;
    for (axle, field) in [("front", &vehicle.front_axle_limit), ("rear", &vehicle.rear_axle_limit)] {
        let Some(limit) = field.get() else { continue };
        let load =
            |axles: crate::compute::weight::statics::Axles| if axle == "front" { axles.front } else { axles.rear };
        let cases = context.weight.cases.iter().map(|c| Over { case: c, load: load(c.axles), known: load(c.known) });
        let Some(worst) = over::worst(cases, limit) else { continue };
        let system = context.build.prints();
        let excess: Kilograms = worst.load - limit;
        let headline = format!(
            "{axle} axle {} {}: {} over its limit",
            worst.load.show(system),
            worst.case.id.title(),
            excess.show(system)
        );
        sink.push(
            over::finding(CHECK.doc.name, headline, &worst, limit)
                .at(field.span, format!("at most {}", limit.bound(Bound::Most, system)))
                .basis(over::heaviest(context, &worst, axle))
                .help("move heavy things towards the other axle, or leave some out"),
        );
    }
}
